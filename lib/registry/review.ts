import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { siteScope } from "@/lib/access/site-scope";
import { Trouble } from "@/lib/access/trouble";
import type { Ask, Grade, Reason } from "@/lib/matching/candidate";
import type { Coverage } from "@/lib/notices/coverage";
import type { Notice } from "@/lib/notices/notice";
import { findCandidate, findIdentical, findNextOpen, type ListedCandidate } from "@/lib/store/candidate-list-queries";
import type { Db } from "@/lib/store/client";
import { findDecisions, findStandingDecisions } from "@/lib/store/decision-queries";
import { getNotice } from "@/lib/store/notice-queries";
import { findPersonNames, findPlaceNames } from "@/lib/store/place-name-queries";
import { changesSince, type SinceDecision } from "./decision-since";
import type { Standing, Verdict } from "./decision-standing";
import { type ShownAnswer, shownAnswers } from "./label-answers";

/** A candidate as pages show it: its stored JSON as what it is. */
export interface SeenCandidate extends Omit<ListedCandidate, "grade" | "standing" | "reasons" | "ask"> {
  readonly grade: Grade;
  readonly standing: Standing;
  readonly reasons: readonly Reason[];
  readonly ask: Ask | null;
}

export function toSeen(row: ListedCandidate): SeenCandidate {
  return {
    ...row,
    grade: row.grade as Grade,
    standing: row.standing as Standing,
    reasons: row.reasons as unknown as Reason[],
    ask: row.ask as unknown as Ask | null,
  };
}

/** Where an appliance stands, in names. */
export interface SeenPlace {
  readonly site: string;
  readonly unit: string | null;
  readonly outlet: string | null;
  readonly receptacle: string | null;
}

export function placeOf(appliance: ListedCandidate["appliance"], names: ReadonlyMap<string, string>): SeenPlace {
  const { siteId, unitId, outletId, receptacle } = appliance;
  const named = (id: string | null) => (id === null ? null : (names.get(id) ?? null));
  return { site: names.get(siteId) ?? "", unit: named(unitId), outlet: named(outletId), receptacle };
}

export interface IdenticalAppliance {
  readonly candidate: SeenCandidate;
  readonly place: SeenPlace;
  readonly decidedAt: Date | null;
}

export interface PastDecision {
  readonly verdict: Verdict;
  readonly reason: string;
  readonly at: Date;
  readonly by: string;
  readonly replacedAt: Date | null;
  readonly reopenedAt: Date | null;
  readonly reopenedWhy: string | null;
}

export interface Review {
  readonly candidate: SeenCandidate;
  readonly place: SeenPlace;
  readonly notice: Notice;
  readonly coverage: Coverage;
  /** A person corrected what the notice is taken to cover. */
  readonly isCorrected: boolean;
  readonly identical: readonly IdenticalAppliance[];
  readonly decisions: readonly PastDecision[];
  /** What was read off the appliance in answer to questions, the latest first. */
  readonly answers: readonly ShownAnswer[];
  /** What changed since the latest decision; null where nothing did or there is none. */
  readonly since: SinceDecision | null;
  /** The next candidate of the work; null where this is the last open one. */
  readonly nextId: string | null;
}

async function findIdenticalSeen(db: Db, actor: Actor, of: ListedCandidate): Promise<IdenticalAppliance[]> {
  const rows = await findIdentical(db, siteScope(actor), of);
  const { organisationId } = actor;
  const names = await findPlaceNames(
    db,
    organisationId,
    rows.map(({ appliance }) => appliance),
  );
  const standing = await findStandingDecisions(db, organisationId, { noticeIds: [of.noticeId] });
  const decidedAt = new Map(standing.map(({ applianceId, at }) => [applianceId, at]));
  return rows.map((row) => ({
    candidate: toSeen(row),
    place: placeOf(row.appliance, names),
    decidedAt: decidedAt.get(row.applianceId) ?? null,
  }));
}

type StoredDecision = Awaited<ReturnType<typeof findDecisions>>[number];

/** Decisions with who took them. */
async function toPast(db: Db, rows: readonly StoredDecision[]): Promise<PastDecision[]> {
  const names = await findPersonNames(
    db,
    rows.map(({ byUserId }) => byUserId),
  );
  return rows.map(({ verdict, reason, at, byUserId, replacedAt, reopenedAt, reopenedWhy }) => ({
    ...{ verdict, reason, at, replacedAt, reopenedAt, reopenedWhy },
    by: byUserId === null ? "the command line" : (names.get(byUserId) ?? "someone who left"),
  }));
}

/** All that the review of one candidate shows. Throws `Trouble` where there is none that the actor may see. Permission: `see recalls`. */
export async function getReview(db: Db, actor: Actor, { candidateId }: { readonly candidateId: string }): Promise<Review> {
  requirePermission(actor, "see recalls");
  const scope = siteScope(actor);
  const row = await findCandidate(db, scope, candidateId);
  if (!row) throw new Trouble("not_found", "There is no such candidate any more; go back to the list of recalls.");
  const { organisationId } = actor;
  const pair = { noticeId: row.noticeId, applianceId: row.applianceId };
  const [notice, names, identical, stored, answers, nextId] = await Promise.all([
    getNotice(db, organisationId, row.noticeId),
    findPlaceNames(db, organisationId, [row.appliance]),
    findIdenticalSeen(db, actor, row),
    findDecisions(db, organisationId, pair),
    shownAnswers(db, organisationId, row.applianceId),
    findNextOpen(db, scope, row),
  ]);
  return {
    candidate: toSeen(row),
    place: placeOf(row.appliance, names),
    notice: notice.body,
    coverage: notice.coverage,
    isCorrected: notice.isCorrected,
    identical,
    decisions: await toPast(db, stored),
    answers,
    since: stored[0] ? await changesSince(db, stored[0], { candidate: row, notice }) : null,
    nextId,
  };
}
