import type { Grade } from "@/lib/matching/candidate";
import { setStandings } from "@/lib/store/candidate-queries";
import type { Db } from "@/lib/store/client";
import { findStandingDecisions, reopenDecisions } from "@/lib/store/decision-queries";
import { appendRecord } from "@/lib/store/record";
import { workRank } from "./decision-standing";

export interface Reopening {
  readonly candidateId: string;
  readonly noticeId: string;
  readonly applianceId: string;
  readonly grade: Grade;
  readonly why: string;
}

/** Lets the standing decisions of some candidates stand no longer: they are kept, and come back to whoever decides. Returns how many. */
export async function reopen(
  tx: Db,
  by: { readonly organisationId: string; readonly actor: string; readonly now: Date },
  reopenings: readonly Reopening[],
): Promise<number> {
  if (reopenings.length === 0) return 0;
  const { organisationId, actor, now } = by;
  const decisions = await findStandingDecisions(tx, organisationId, {
    noticeIds: [...new Set(reopenings.map(({ noticeId }) => noticeId))],
    applianceIds: [...new Set(reopenings.map(({ applianceId }) => applianceId))],
  });
  const pairs = new Map(reopenings.map((item) => [`${item.noticeId} ${item.applianceId}`, item]));
  const reopened = decisions.flatMap((decision) => {
    const item = pairs.get(`${decision.noticeId} ${decision.applianceId}`);
    return item ? [{ decision, item }] : [];
  });
  await reopenDecisions(
    tx,
    reopened.map(({ decision, item }) => ({ id: decision.id, why: item.why })),
    now,
  );
  await setStandings(
    tx,
    reopened.map(({ item }) => ({ id: item.candidateId, standing: "reopened", rank: workRank("reopened", item.grade) })),
  );
  const entry = ({ decision, item }: (typeof reopened)[number]) => ({
    organisationId,
    at: now,
    actor,
    what: "reopened a decision",
    subjectKind: "appliance",
    subjectId: decision.applianceId,
    before: { decisionId: decision.id, noticeId: decision.noticeId, verdict: decision.verdict, grade: decision.grade },
    after: { why: item.why, grade: item.grade },
  });
  await appendRecord(tx, reopened.map(entry));
  return reopened.length;
}
