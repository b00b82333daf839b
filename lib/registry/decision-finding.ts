import { type Actor, recordName } from "@/lib/access/actor";
import { findingKey } from "@/lib/casework/cause";
import { openOrRefreshFinding } from "@/lib/casework/findings.run";
import { applianceAfter } from "@/lib/casework/outcome";
import { recallSignalWord } from "@/lib/casework/signal-word";
import type { Reason } from "@/lib/matching/candidate";
import type { Notice } from "@/lib/notices/notice";
import type { ListedCandidate } from "@/lib/store/candidate-list-queries";
import type { Db } from "@/lib/store/client";
import { addFindingNote, changeFinding, findFindingByKey } from "@/lib/store/finding-queries";
import { appendRecord } from "@/lib/store/record";
import type { Finding } from "@/lib/store/rows";
import { othersMayClose } from "./close-finding";
import { settleAppliance } from "./settle-appliance";

/** What a decision says of one candidate. */
export interface Said {
  readonly candidate: ListedCandidate;
  readonly notice: Notice;
  readonly reason: string;
  readonly now: Date;
}

/** The key of the finding that a pair of notice and appliance has. */
export const recallFindingKey = ({ applianceId, noticeId }: Pick<ListedCandidate, "applianceId" | "noticeId">) =>
  findingKey("recall", "appliance", applianceId, noticeId);

const longest = 400;

function evidenceOf({ candidate, notice, reason }: Said, byPerson: string) {
  const reasons = (candidate.reasons as unknown as Reason[]).filter(({ weight }) => weight > 0).map(({ sentence }) => sentence);
  const remedy = notice.remedy === null ? [] : [{ name: "Remedy", value: notice.remedy.slice(0, longest) }];
  const hazard = (notice.hazard ?? notice.title).slice(0, longest);
  return {
    figures: [{ name: "Notice", value: notice.number }, { name: "Hazard", value: hazard }, ...remedy],
    reasons: [...reasons, `${byPerson}: ${reason}`],
  };
}

function open(
  tx: Db,
  actor: Actor,
  said: Said,
  as: Pick<Parameters<typeof openOrRefreshFinding>[1], "signalWord" | "sentence" | "evidence">,
) {
  const { applianceId, noticeId, appliance } = said.candidate;
  return openOrRefreshFinding(tx, {
    organisationId: actor.organisationId,
    key: recallFindingKey(said.candidate),
    cause: "recall",
    applianceId,
    noticeId,
    siteId: appliance.siteId,
    outletId: appliance.outletId,
    ...as,
    now: said.now,
    actor,
  });
}

/** Opens or refreshes the finding of a confirmed match. */
export async function raiseAffected(tx: Db, actor: Actor, said: Said): Promise<string> {
  const { candidate, notice } = said;
  const exposure = candidate.appliance.state === "in_use" ? "in use" : "out of use";
  const { id } = await open(tx, actor, said, {
    signalWord: recallSignalWord(notice.hazard ?? notice.title, exposure),
    sentence: `Covered by recall notice ${notice.number}: ${notice.title}`.slice(0, longest),
    evidence: evidenceOf(said, "Confirmed by a person"),
  });
  return id;
}

/**
 * Opens the finding of a match that nobody could settle. It has the weakest word, because nobody knows yet whether there is a hazard at
 * all, and it is a finding because an open question needs an owner and a due date. If the match is confirmed later, this same finding
 * rises to the hazard's word.
 */
export async function raiseUnsure(tx: Db, actor: Actor, said: Said): Promise<string> {
  const { notice } = said;
  const { id } = await open(tx, actor, said, {
    signalWord: "NOTICE",
    sentence: `Not settled whether recall notice ${notice.number} covers it; treat it as covered until it is: ${notice.title}`.slice(
      0,
      longest,
    ),
    evidence: evidenceOf(said, "Left open by a person"),
  });
  return id;
}

/** `closed`, or `second person`: the reason was recorded as proof and somebody else must close the danger. */
export type Settled = "none" | "closed" | "second person";

/** Whoever confirmed the match does not take a danger back alone, where somebody else may check it. */
async function needsSecondPerson(tx: Db, actor: Actor, finding: Finding): Promise<boolean> {
  if (finding.signalWord !== "DANGER" || finding.applianceId === null || finding.noticeId === null) return false;
  const { organisationId, noticeId, applianceId } = finding;
  const confirmed = await tx.decision.findFirst({
    where: { organisationId, noticeId, applianceId, verdict: "affected" },
    orderBy: [{ at: "desc" }, { id: "desc" }],
    select: { byUserId: true },
  });
  return confirmed?.byUserId === actor.userId && (await othersMayClose(tx, actor, finding));
}

/**
 * Settles the finding that an earlier decision raised, once a person decided that the notice does not cover the appliance: it is closed
 * as found not affected, with history, record and what becomes of the appliance; a danger that the same person had confirmed gets the
 * reason as its proof instead, and stays open for a second person.
 */
export async function settleNotAffected(tx: Db, actor: Actor, said: Omit<Said, "notice">): Promise<Settled> {
  const finding = await findFindingByKey(tx, actor.organisationId, recallFindingKey(said.candidate));
  if (finding === null || finding.state === "closed") return "none";
  const step = (await needsSecondPerson(tx, actor, finding)) ? "record_proof" : "close";
  const { reason, now } = said;
  const change =
    step === "close"
      ? ({
          state: "closed",
          closedAt: now,
          outcome: "found_not_affected",
          outcomeReason: reason,
          outcomeEvidence: "The decision on the recall notice.",
        } as const)
      : {};
  if (!(await changeFinding(tx, finding.id, finding.version, change))) return settleNotAffected(tx, actor, said);
  const text =
    step === "close"
      ? `Closed: found not affected. It was decided that the notice does not cover it: ${reason}`
      : `It was decided that the notice does not cover it: ${reason} A second person checks this and closes.`;
  await addFindingNote(tx, { findingId: finding.id, number: finding.version + 1, at: now, byUserId: actor.userId, step, text });
  await appendRecord(tx, [
    {
      organisationId: actor.organisationId,
      at: now,
      actor: recordName(actor),
      what: `finding ${step.replaceAll("_", " ")}`,
      subjectKind: "finding",
      subjectId: finding.id,
      before: { state: finding.state },
      after: { ...change, text },
    },
  ]);
  if (step === "close") await settleAppliance(tx, { actor, finding, step, after: applianceAfter("found_not_affected", "recall"), now });
  return step === "close" ? "closed" : "second person";
}
