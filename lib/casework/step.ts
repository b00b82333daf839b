import type { SignalWord } from "@/lib/watch/screening-result";
import type { FindingCause } from "./cause";

export type CaseState = "open" | "out_of_use" | "remedy_awaited" | "closed";
export type CaseRole = "administrator" | "manager" | "surveyor" | "inspector";

/** What a person can do to a finding. */
export type Step =
  | "take_out_of_use"
  | "put_back_in_use"
  | "call_electrician"
  | "tell_occupant"
  | "give_entry_notice"
  | "no_access"
  | "cannot_locate"
  | "register_remedy"
  | "send_for_remedy"
  | "receive_remedy"
  | "retest"
  | "record_proof"
  | "note"
  | "give_owner"
  | "set_due"
  | "close"
  | "reopen";

export const caseStates: readonly CaseState[] = ["open", "out_of_use", "remedy_awaited", "closed"];
export const caseRoles: readonly CaseRole[] = ["administrator", "manager", "surveyor", "inspector"];
export const stateWords: Readonly<Record<CaseState, string>> = {
  open: "open",
  out_of_use: "out of use",
  remedy_awaited: "remedy awaited",
  closed: "closed",
};

interface StepRule {
  /** What the button says. */
  readonly words: string;
  readonly from: readonly CaseState[];
  /** The state it leads to; absent where it stays. */
  readonly to?: CaseState;
  readonly roles: readonly CaseRole[];
  /** Only where the finding concerns an appliance, or comes from a recall. */
  readonly only?: "appliance" | "recall";
  /** What the person must write. */
  readonly asks: "nothing" | "text" | "reason";
  /** What moves the case, what is written down on the way, and what only arranges the work: pages show them in this order. */
  readonly sort: "act" | "write down" | "arrange";
}

const everyone = caseRoles;
const deciders: readonly CaseRole[] = ["administrator", "manager", "inspector"];
const managers: readonly CaseRole[] = ["administrator", "manager"];
const alive: readonly CaseState[] = ["open", "out_of_use", "remedy_awaited"];

/**
 * Who may take which step from which state. Making safe is everybody's; saying that it is safe again is not. A closed finding takes
 * notes and can be opened again, nothing else.
 */
export const steps: Readonly<Record<Step, StepRule>> = {
  take_out_of_use: {
    words: "Record: out of use",
    from: ["open", "remedy_awaited"],
    to: "out_of_use",
    roles: everyone,
    asks: "text",
    sort: "act",
  },
  put_back_in_use: { words: "Put back in use", from: ["out_of_use"], to: "open", roles: deciders, asks: "reason", sort: "act" },
  call_electrician: { words: "Record the call", from: alive, roles: everyone, asks: "text", sort: "act" },
  tell_occupant: { words: "Record: occupant told", from: alive, roles: everyone, only: "appliance", asks: "text", sort: "act" },
  give_entry_notice: { words: "Record: entry notice given", from: alive, roles: everyone, asks: "reason", sort: "write down" },
  no_access: { words: "Record: no access", from: alive, roles: everyone, asks: "reason", sort: "write down" },
  cannot_locate: {
    words: "Record: cannot be found",
    from: alive,
    roles: everyone,
    only: "appliance",
    asks: "reason",
    sort: "write down",
  },
  register_remedy: {
    words: "Record the claim",
    from: ["open", "out_of_use"],
    to: "remedy_awaited",
    roles: managers,
    only: "recall",
    asks: "text",
    sort: "act",
  },
  send_for_remedy: { words: "Record: sent in", from: ["remedy_awaited"], roles: everyone, only: "recall", asks: "text", sort: "act" },
  receive_remedy: {
    words: "Record: remedy received",
    from: ["remedy_awaited"],
    roles: everyone,
    only: "recall",
    asks: "reason",
    sort: "act",
  },
  retest: { words: "Record a retest", from: alive, roles: deciders, only: "appliance", asks: "reason", sort: "write down" },
  record_proof: { words: "Add the proof", from: alive, roles: everyone, asks: "reason", sort: "act" },
  note: { words: "Add a note", from: caseStates, roles: everyone, asks: "reason", sort: "write down" },
  give_owner: { words: "Give it an owner", from: alive, roles: deciders, asks: "nothing", sort: "arrange" },
  set_due: { words: "Change the due date", from: alive, roles: managers, asks: "reason", sort: "arrange" },
  close: { words: "Close", from: alive, to: "closed", roles: deciders, asks: "nothing", sort: "act" },
  reopen: { words: "Open again", from: ["closed"], to: "open", roles: deciders, asks: "reason", sort: "act" },
};

/** How far the notice's remedy is, and the step that brings it there. */
export type RemedyStage = "registered" | "sent" | "received";
export const remedyStages: Readonly<Partial<Record<Step, RemedyStage>>> = {
  register_remedy: "registered",
  send_for_remedy: "sent",
  receive_remedy: "received",
};

export const stepNames = Object.keys(steps) as readonly Step[];

/** Narrows text to a step. */
export function isStep(text: string): text is Step {
  return Object.hasOwn(steps, text);
}

/** What the table needs to know of a finding. */
export interface CaseFacts {
  readonly state: CaseState;
  readonly cause: FindingCause;
  readonly signalWord: SignalWord;
  readonly hasAppliance: boolean;
}

/** Whether this role may take this step now. */
export function mayTake(step: Step, facts: Pick<CaseFacts, "state" | "cause" | "hasAppliance">, role: CaseRole): boolean {
  const rule = steps[step];
  if (!rule.from.includes(facts.state) || !rule.roles.includes(role)) return false;
  if (rule.only === "recall") return facts.cause === "recall";
  return rule.only !== "appliance" || facts.hasAppliance;
}

/** The steps this role may take now, in the table's order. */
export function allowedSteps(facts: Pick<CaseFacts, "state" | "cause" | "hasAppliance">, role: CaseRole): Step[] {
  return stepNames.filter((step) => mayTake(step, facts, role));
}

/** The state after a step. */
export function stateAfter(step: Step, state: CaseState): CaseState {
  return steps[step].to ?? state;
}
