import { type Actor, recordName } from "@/lib/access/actor";
import { Trouble } from "@/lib/access/trouble";
import { comparedFacts } from "@/lib/identity/facts-change";
import type { Grade } from "@/lib/matching/candidate";
import type { ListedCandidate } from "@/lib/store/candidate-list-queries";
import { setStandings } from "@/lib/store/candidate-queries";
import type { Db } from "@/lib/store/client";
import { keepCoverage } from "@/lib/store/coverage-correction-queries";
import { insertDecisions } from "@/lib/store/decision-queries";
import { knownFindingKeys } from "@/lib/store/finding-queries";
import { getNotice } from "@/lib/store/notice-queries";
import { appendRecord } from "@/lib/store/record";
import { raiseAffected, raiseUnsure, recallFindingKey, type Said, type Settled, settleNotAffected } from "./decision-finding";
import { type Verdict, workRank } from "./decision-standing";

export interface Decided {
  readonly appliances: number;
  /** Findings opened or refreshed by it. */
  readonly findingIds: readonly string[];
  /** Findings of earlier decisions that it closed, and those that wait for a second person to close them. */
  readonly closed: number;
  readonly forSecondPerson: number;
}

export interface Taken {
  readonly verdict: Verdict;
  readonly reason: string;
  readonly now: Date;
  /** The answer for a whole maker and kind that the decisions are part of. */
  readonly groupAnswerId?: string;
}

const longestReason = 2000;

/** The reason without blanks around it; throws `Trouble` where there is none or too much. */
export function checkedReason(reason: string): string {
  const said = reason.trim();
  if (said === "")
    throw new Trouble("not_valid", "A decision needs its reason: write what you saw.", { reason: "Write what you saw on the appliance." });
  if (said.length > longestReason)
    throw new Trouble("not_valid", `The reason is longer than ${longestReason} characters; shorten it.`, { reason: "Shorten it." });
  return said;
}

async function store(tx: Db, actor: Actor, candidates: readonly ListedCandidate[], taken: Taken): Promise<void> {
  const { organisationId, userId } = actor;
  const { verdict, reason, now, groupAnswerId = null } = taken;
  const decision = ({ noticeId, applianceId, notice, appliance, grade }: ListedCandidate) => ({
    ...{ noticeId, applianceId, verdict, reason, grade, groupAnswerId },
    noticeHash: notice.contentHash,
    coverageHash: notice.coverageHash,
    facts: comparedFacts(appliance),
  });
  await insertDecisions(tx, { organisationId, userId, at: now }, candidates.map(decision));
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
    after: {
      ...{ noticeId: candidate.noticeId, noticeHash: candidate.notice.contentHash, verdict, reason, grade: candidate.grade },
      ...(groupAnswerId === null ? {} : { groupAnswerId }),
    },
  });
  await appendRecord(tx, candidates.map(entry));
}

async function followUp(tx: Db, actor: Actor, said: Said, verdict: Verdict): Promise<{ findingId?: string; settled?: Settled }> {
  if (verdict === "affected") return { findingId: await raiseAffected(tx, actor, said) };
  if (verdict === "unsure") return { findingId: await raiseUnsure(tx, actor, said) };
  return { settled: await settleNotAffected(tx, actor, said) };
}

/**
 * Stores one verdict on some candidates, with what it was taken on, its record entries and what follows for their findings. Call it in
 * a transaction; permission is the caller's.
 */
export async function takeDecisions(tx: Db, actor: Actor, candidates: readonly ListedCandidate[], taken: Taken): Promise<Decided> {
  const { verdict, reason, now } = taken;
  await store(tx, actor, candidates, taken);
  const findingIds: string[] = [];
  const counts = { closed: 0, "second person": 0, none: 0 };
  const known = verdict === "not_affected" ? await knownFindingKeys(tx, actor.organisationId, candidates.map(recallFindingKey)) : null;
  for (const noticeId of new Set(candidates.map((candidate) => candidate.noticeId))) {
    const notice = await getNotice(tx, actor.organisationId, noticeId);
    await keepCoverage(tx, { noticeId, coverageHash: notice.coverageHash, coverage: notice.coverage, at: now });
    const own = candidates.filter((one) => one.noticeId === noticeId && (known?.has(recallFindingKey(one)) ?? true));
    for (const candidate of own) {
      const { findingId, settled } = await followUp(tx, actor, { candidate, notice: notice.body, reason, now }, verdict);
      if (findingId !== undefined) findingIds.push(findingId);
      if (settled !== undefined) counts[settled]++;
    }
  }
  return { appliances: candidates.length, findingIds, closed: counts.closed, forSecondPerson: counts["second person"] };
}
