import type { Actor } from "@/lib/access/actor";
import { permissions } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { type Closing, closingProblems, type Outcome } from "@/lib/casework/outcome";
import type { CaseFacts } from "@/lib/casework/step";
import type { Db } from "@/lib/store/client";
import { type FindingChange, findingHistory, membersAt } from "@/lib/store/finding-queries";
import type { Finding } from "@/lib/store/rows";

/** A finding about to be closed, by whom, and what they say. */
export interface ClosingStep {
  readonly tx: Db;
  readonly actor: Actor;
  readonly finding: Finding;
  readonly facts: CaseFacts;
  readonly input: {
    readonly outcome?: Outcome;
    readonly text: string;
    readonly evidence?: string;
    readonly reviewAt?: Date | null;
    readonly now: Date;
  };
}

/** What closing changes; throws `Trouble` with a sentence for each field that stands against it. */
export async function closingChange({ tx, actor, finding, facts, input }: ClosingStep): Promise<FindingChange> {
  if (!input.outcome) throw new Trouble("not_valid", "Choose how it ended.", { outcome: "Choose how it ended." });
  const closing: Closing = {
    outcome: input.outcome,
    reason: input.text,
    evidence: input.evidence ?? "",
    reviewAt: input.reviewAt ?? null,
  };
  const history = await findingHistory(tx, finding.id);
  const problems = closingProblems(
    closing,
    {
      cause: facts.cause,
      signalWord: facts.signalWord,
      proofs: proofsSinceOpened(history),
      closedBy: actor.userId,
      othersMayClose: await othersMayClose(tx, actor, finding),
      outsideAgreed: outsideAgreed(history),
    },
    input.now,
  );
  const first = Object.values(problems)[0];
  if (first !== undefined) throw new Trouble("not_valid", first, fieldNames(problems));
  return {
    closedAt: input.now,
    outcome: closing.outcome,
    outcomeReason: closing.reason || null,
    outcomeEvidence: closing.evidence || null,
    reviewAt: closing.reviewAt,
  };
}

type HistoryLine = { readonly step: string | null; readonly byUserId: string | null; readonly text: string };

function sinceOpened<L extends HistoryLine>(history: readonly L[]): L[] {
  return history.slice(history.findLastIndex(({ step }) => step === "opened_again" || step === "reopen") + 1);
}

/** Proof from before a finding came back proves nothing about it now. */
export function proofsSinceOpened(history: readonly HistoryLine[]): HistoryLine[] {
  return sinceOpened(history).filter(({ step }) => step === "record_proof");
}

/** Whether a checker from outside agreed after the last proof was added; the last word of any checker counts. */
export function outsideAgreed(history: readonly HistoryLine[]): boolean {
  const last = sinceOpened(history).findLast(
    ({ step }) => step === "record_proof" || step === "outside_agreed" || step === "outside_objected",
  );
  return last?.step === "outside_agreed";
}

/** Whether another member may close findings at this site; the command line counts as a person of its own. */
export async function othersMayClose(db: Db, actor: Actor, finding: Pick<Finding, "organisationId" | "siteId">): Promise<boolean> {
  const able = await membersAt(db, { ...finding, roles: permissions["close findings"] });
  return able.some(({ id }) => id !== actor.userId);
}

/** The closing's reason stands in the form's text field. */
function fieldNames(problems: Partial<Record<keyof Closing, string>>): Record<string, string> {
  const { reason, ...rest } = problems;
  return { ...rest, ...(reason === undefined ? {} : { text: reason }) };
}
