import { type Actor, recordName } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { siteScope } from "@/lib/access/site-scope";
import { Trouble } from "@/lib/access/trouble";
import { findingKey } from "@/lib/casework/cause";
import { openOrRefreshFinding } from "@/lib/casework/findings.run";
import { recallSignalWord } from "@/lib/casework/signal-word";
import type { Grade, Reason } from "@/lib/matching/candidate";
import type { Notice } from "@/lib/notices/notice";
import { findCandidate, findIdentical, type ListedCandidate } from "@/lib/store/candidate-list-queries";
import { setStandings } from "@/lib/store/candidate-queries";
import type { Db, Store } from "@/lib/store/client";
import { insertDecisions } from "@/lib/store/decision-queries";
import { getNotice } from "@/lib/store/notice-queries";
import { appendRecord } from "@/lib/store/record";
import { type Verdict, workRank } from "./decision-standing";

export interface DecideInput {
  readonly candidateId: string;
  readonly verdict: Verdict;
  /** What the person saw, for the record; never empty. */
  readonly reason: string;
  /** The identical appliances it is for; the candidate's own where none are given. */
  readonly applianceIds?: readonly string[];
  /** The wording the person had before them; a newer one refuses the decision. */
  readonly noticeHash?: string;
  readonly now: Date;
}

export interface Decided {
  readonly appliances: number;
  /** Findings opened or refreshed by it. */
  readonly findingIds: readonly string[];
}

const longestReason = 2000;

function checkedReason(reason: string): string {
  const said = reason.trim();
  if (said === "")
    throw new Trouble("not_valid", "A decision needs its reason: write what you saw.", { reason: "Write what you saw on the appliance." });
  if (said.length > longestReason)
    throw new Trouble("not_valid", `The reason is longer than ${longestReason} characters; shorten it.`, { reason: "Shorten it." });
  return said;
}

/** The candidates that the decision is for: all of the same notice, maker and model as the one that was looked at. */
async function getDecided(tx: Db, actor: Actor, input: DecideInput): Promise<ListedCandidate[]> {
  const scope = siteScope(actor);
  const looked = await findCandidate(tx, scope, input.candidateId);
  if (!looked) throw new Trouble("not_found", "There is no such candidate any more; go back to the list of recalls.");
  if (input.noticeHash !== undefined && input.noticeHash !== looked.notice.contentHash)
    throw new Trouble("changed_meanwhile", "The notice was amended while you looked at it; read the new wording and decide again.");
  const wanted = new Set(input.applianceIds ?? [looked.applianceId]);
  if (wanted.size === 0) throw new Trouble("not_valid", "Choose at least one appliance.", { applianceIds: "Choose at least one." });
  const identical = await findIdentical(tx, scope, looked);
  const chosen = [looked, ...identical.filter(({ id }) => id !== looked.id)].filter(({ applianceId }) => wanted.has(applianceId));
  if (chosen.length < wanted.size)
    throw new Trouble("not_valid", "Some of the chosen appliances are not identical to this one; choose them again from the list.");
  return chosen;
}

async function raiseFinding(tx: Db, actor: Actor, candidate: ListedCandidate, notice: Notice, input: DecideInput): Promise<string> {
  const { applianceId, noticeId, appliance } = candidate;
  const exposure = appliance.state === "in_use" ? "in use" : "out of use";
  const hazard = notice.hazard ?? notice.title;
  const reasons = (candidate.reasons as unknown as Reason[]).filter(({ weight }) => weight > 0).map(({ sentence }) => sentence);
  const remedy = notice.remedy === null ? [] : [{ name: "Remedy", value: notice.remedy.slice(0, 400) }];
  const { id } = await openOrRefreshFinding(tx, {
    organisationId: actor.organisationId,
    key: findingKey("recall", "appliance", applianceId, noticeId),
    cause: "recall",
    applianceId,
    noticeId,
    siteId: appliance.siteId,
    outletId: appliance.outletId,
    signalWord: recallSignalWord(hazard, exposure),
    sentence: `Covered by recall notice ${notice.number}: ${notice.title}`.slice(0, 400),
    evidence: {
      figures: [{ name: "Notice", value: notice.number }, { name: "Hazard", value: hazard.slice(0, 400) }, ...remedy],
      reasons: [...reasons, `Confirmed by a person: ${input.reason.trim()}`],
    },
    now: input.now,
    actor,
  });
  return id;
}

/**
 * Decides for one candidate or some identical ones. The decision is bound to the notice's wording: it survives loading the same list
 * again and is reopened when the notice is amended. `affected` opens or refreshes one finding an appliance. Earlier decisions are kept.
 * Permission: `decide candidates`.
 */
export async function decide(db: Store, actor: Actor, input: DecideInput): Promise<Decided> {
  requirePermission(actor, "decide candidates");
  const reason = checkedReason(input.reason);
  return db.$transaction(async (tx) => {
    const candidates = await getDecided(tx, actor, input);
    const { organisationId, userId } = actor;
    const { verdict, now } = input;
    await insertDecisions(
      tx,
      { organisationId, userId, at: now },
      candidates.map(({ noticeId, applianceId, notice, grade }) => ({
        noticeId,
        applianceId,
        verdict,
        reason,
        noticeHash: notice.contentHash,
        grade,
      })),
    );
    await setStandings(
      tx,
      candidates.map(({ id, grade }) => ({ id, standing: verdict, rank: workRank(verdict, grade as Grade) })),
    );
    const entry = (candidate: ListedCandidate) => ({
      organisationId,
      at: now,
      actor: recordName(actor),
      what: "decided on a candidate",
      subjectKind: "appliance",
      subjectId: candidate.applianceId,
      before: { standing: candidate.standing },
      after: { noticeId: candidate.noticeId, noticeHash: candidate.notice.contentHash, verdict, reason, grade: candidate.grade },
    });
    await appendRecord(tx, candidates.map(entry));
    if (verdict !== "affected") return { appliances: candidates.length, findingIds: [] };
    const notice = await getNotice(tx, organisationId, candidates[0]?.noticeId ?? "");
    const findingIds: string[] = [];
    for (const candidate of candidates) findingIds.push(await raiseFinding(tx, actor, candidate, notice.body, { ...input, reason }));
    return { appliances: candidates.length, findingIds };
  });
}
