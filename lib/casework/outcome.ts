import type { SignalWord } from "@/lib/watch/screening-result";
import type { FindingCause } from "./cause";

/** How a finding ends. */
export type Outcome = "repaired" | "replaced" | "removed" | "remedy_received" | "found_not_affected" | "accepted";

interface OutcomeRule {
  readonly words: string;
  /** Only for findings of these causes. */
  readonly only?: readonly FindingCause[];
  readonly never?: readonly SignalWord[];
  readonly needsReason: boolean;
  readonly needsReviewDate: boolean;
  /** What becomes of an appliance: it is gone for good, or it may be used again. */
  readonly appliance: "retired" | "may be used again" | "unchanged";
}

/** The outcomes and what each asks for. DANGER asks for evidence with every one of them, and is never accepted. */
export const outcomes: Readonly<Record<Outcome, OutcomeRule>> = {
  repaired: { words: "repaired", needsReason: false, needsReviewDate: false, appliance: "may be used again" },
  replaced: { words: "replaced", needsReason: false, needsReviewDate: false, appliance: "retired" },
  removed: { words: "removed", needsReason: false, needsReviewDate: false, appliance: "retired" },
  remedy_received: {
    words: "remedy received",
    only: ["recall"],
    needsReason: false,
    needsReviewDate: false,
    appliance: "may be used again",
  },
  found_not_affected: { words: "found not affected", needsReason: true, needsReviewDate: false, appliance: "may be used again" },
  accepted: {
    words: "accepted with reason",
    never: ["DANGER"],
    needsReason: true,
    needsReviewDate: true,
    appliance: "unchanged",
  },
};

export const outcomeNames = Object.keys(outcomes) as readonly Outcome[];

export function isOutcome(text: string): text is Outcome {
  return Object.hasOwn(outcomes, text);
}

/** The outcomes a finding can end with. */
export function possibleOutcomes(cause: FindingCause, word: SignalWord): Outcome[] {
  return outcomeNames.filter((name) => {
    const { only, never } = outcomes[name];
    return (only?.includes(cause) ?? true) && !(never?.includes(word) ?? false);
  });
}

/** What becomes of the appliance. Of a lamp that was too strong only the lamp is replaced or removed, not its fixture. */
export function applianceAfter(outcome: Outcome, cause: FindingCause): OutcomeRule["appliance"] {
  const after = outcomes[outcome].appliance;
  return cause === "lamp_too_strong" && after === "retired" ? "may be used again" : after;
}

/** Who recorded proof on a finding, oldest first. `byUserId` null is the command line. */
export interface RecordedProof {
  readonly byUserId: string | null;
  readonly text: string;
}

/** What a person who closes says, and what is known about the finding. */
export interface Closing {
  readonly outcome: Outcome;
  readonly reason: string;
  readonly evidence: string;
  readonly reviewAt: Date | null;
}

export interface ClosingCase {
  readonly cause: FindingCause;
  readonly signalWord: SignalWord;
  readonly proofs: readonly RecordedProof[];
  readonly closedBy: string | null;
  /** Whether anybody else of the organisation may close findings. */
  readonly othersMayClose: boolean;
  /** Whether a checker from outside looked at the evidence since the finding was opened, and agreed. */
  readonly outsideAgreed: boolean;
}

const empty = (text: string) => text.trim() === "";

/**
 * Why a finding may not be closed this way, one sentence by form field; empty when it may. DANGER is closed only with evidence, and
 * by somebody else than who recorded the proof; where nobody else may close findings, a checker from outside must have agreed.
 */
export function closingProblems(closing: Closing, on: ClosingCase, now: Date): Partial<Record<keyof Closing, string>> {
  const rule = outcomes[closing.outcome];
  const problems: Partial<Record<keyof Closing, string>> = {};
  if (on.signalWord === "DANGER" && rule.never?.includes("DANGER"))
    problems.outcome = "A danger is never accepted: repair it, replace it, remove it, or show that it is not affected.";
  else if (!possibleOutcomes(on.cause, on.signalWord).includes(closing.outcome))
    problems.outcome = `"${rule.words}" does not fit what this finding is about: choose another outcome.`;
  if (rule.needsReason && empty(closing.reason)) problems.reason = `Say why: an outcome of "${rule.words}" needs a reason.`;
  if (rule.needsReviewDate && (closing.reviewAt === null || closing.reviewAt <= now))
    problems.reviewAt = "Say when it is looked at again: a day after today.";
  if (on.signalWord === "DANGER") {
    const problem = dangerProblem(closing, on);
    if (problem !== null) problems.evidence = problem;
  }
  return problems;
}

function dangerProblem(closing: Closing, on: ClosingCase): string | null {
  if (on.proofs.length === 0 && empty(closing.evidence))
    return "A danger is closed only with evidence: a receipt, a reading, a photograph of the cut plug. Say what it is and where it is kept.";
  if (on.outsideAgreed) return null;
  if (!on.othersMayClose)
    return "A danger needs a second person, and nobody else here may close it: invite a checker from outside for this finding.";
  const earlier = on.proofs.some((proof) => proof.byUserId !== on.closedBy);
  return earlier
    ? null
    : "A danger needs a second person: one records the proof, another checks it and closes. Add the proof and ask a colleague to close.";
}
