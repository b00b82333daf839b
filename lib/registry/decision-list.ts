import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { siteScope } from "@/lib/access/site-scope";
import type { Ask, Grade } from "@/lib/matching/candidate";
import { countCandidates, findCandidates, type ListedCandidate } from "@/lib/store/candidate-list-queries";
import type { Db } from "@/lib/store/client";
import { openStandings, type Standing } from "./decision-standing";

/** A candidate that waits for a person: for a decision, or for a label to be read. */
export interface WaitingCandidate {
  readonly id: string;
  readonly noticeId: string;
  readonly noticeNumber: string;
  readonly noticeTitle: string;
  readonly grade: Grade;
  readonly standing: Standing;
  readonly ask: Ask | null;
  /** Since when it has waited. */
  readonly raisedAt: Date;
  readonly appliance: ListedCandidate["appliance"];
}

function toWaiting(row: ListedCandidate): WaitingCandidate {
  return {
    id: row.id,
    noticeId: row.noticeId,
    noticeNumber: row.notice.number,
    noticeTitle: row.notice.title,
    grade: row.grade as Grade,
    standing: row.standing as Standing,
    ask: row.ask as Ask | null,
    raisedAt: row.raisedAt,
    appliance: row.appliance,
  };
}

/**
 * The candidates that nobody has decided on, or whose decision was reopened, the surest first, and how many there are in all.
 * `grades` chooses: `covered` and `likely` wait for a decision, `check_label` for a label to be read. Permission: `see recalls`.
 */
export async function undecidedCandidates(
  db: Db,
  actor: Actor,
  { grades = ["covered", "likely"], take = 50 }: { readonly grades?: readonly Grade[]; readonly take?: number } = {},
): Promise<{ rows: WaitingCandidate[]; total: number }> {
  requirePermission(actor, "see recalls");
  const scope = siteScope(actor);
  const filter = { standings: openStandings, grades, hasIdentifiers: true };
  const rows = await findCandidates(db, scope, filter, { sort: "work", order: "asc", skip: 0, take });
  return { rows: rows.map(toWaiting), total: await countCandidates(db, scope, filter) };
}
