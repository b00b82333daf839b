import { type Actor, recordName } from "@/lib/access/actor";
import { type Permission, permissions, requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { type FindingCause, isFindingCause } from "@/lib/casework/cause";
import { applianceAfter, type Outcome, outcomes } from "@/lib/casework/outcome";
import { isSignalWord } from "@/lib/casework/signal-word";
import { type CaseFacts, mayTake, remedyStages, type Step, stateAfter, stateWords, steps } from "@/lib/casework/step";
import type { Db, Store } from "@/lib/store/client";
import { addFindingNote, changeFinding, type FindingChange, findFinding, membersAt } from "@/lib/store/finding-queries";
import { appendRecord } from "@/lib/store/record";
import type { Finding } from "@/lib/store/rows";
import { closingChange } from "./close-finding";
import { findingChanged } from "./finding-changed";
import { requireNotHeld } from "./hold";
import { settleAppliance } from "./settle-appliance";

/** What a person says when taking a step; which parts count depends on the step. */
export interface StepInput {
  readonly findingId: string;
  /** The version the person was looking at. */
  readonly version: number;
  readonly step: Step;
  readonly text: string;
  /** For `give_owner`; null takes the owner away. */
  readonly ownerId?: string | null;
  /** For `set_due`. */
  readonly dueAt?: Date | null;
  /** For `close`. */
  readonly outcome?: Outcome;
  readonly evidence?: string;
  readonly reviewAt?: Date | null;
  readonly now: Date;
}

interface Taken {
  readonly tx: Db;
  readonly actor: Actor;
  readonly finding: Finding;
  readonly facts: CaseFacts;
  readonly input: StepInput;
}

/** The facts of a stored finding that the tables ask for. */
export function caseFacts(finding: Pick<Finding, "cause" | "signalWord" | "state" | "applianceId">): CaseFacts {
  const cause: FindingCause = isFindingCause(finding.cause) ? finding.cause : "by hand";
  const signalWord = isSignalWord(finding.signalWord) ? finding.signalWord : "WARNING";
  return { cause, signalWord, state: finding.state, hasAppliance: finding.applianceId !== null };
}

const closingSteps: readonly Step[] = ["close", "reopen", "put_back_in_use"];

/** What a hold on the appliance forbids: saying that it is settled or safe again. Making it safer and adding to what is known go on. */
const frozenSteps: readonly Step[] = ["close", "put_back_in_use", "send_for_remedy"];

async function refuseWhatIsHeld({ tx, finding }: Taken): Promise<void> {
  const { organisationId, applianceId, siteId } = finding;
  if (applianceId !== null) await requireNotHeld(tx, { organisationId, id: applianceId, siteId });
}

/** The permission a step stands under. */
export function stepPermission(step: Step): Permission {
  return closingSteps.includes(step) ? "close findings" : "work findings";
}

/**
 * Takes one step of a finding: checks the table, the person and what the step asks for, changes the finding and its appliance, and
 * writes history and record, all together. Throws `Refused`, or `Trouble` that names the field to mend.
 */
export async function takeStep(db: Store, actor: Actor, input: StepInput): Promise<{ id: string; state: Finding["state"] }> {
  const known = await findFinding(db, actor.organisationId, input.findingId);
  if (known === null) throw new Trouble("not_found", "There is no such finding here: it may belong to another organisation.");
  requirePermission(actor, stepPermission(input.step), known.siteId);
  return db.$transaction(async (tx) => {
    const finding = (await findFinding(tx, actor.organisationId, input.findingId)) ?? known;
    if (finding.version !== input.version) throw await findingChanged(tx, finding, input.version);
    const taken = { tx, actor, finding, facts: caseFacts(finding), input };
    refuseWhatTheTableForbids(taken);
    if (frozenSteps.includes(input.step)) await refuseWhatIsHeld(taken);
    const change = await changeOf(taken);
    if (!(await changeFinding(tx, finding.id, finding.version, change))) throw await findingChanged(tx, finding, input.version);
    await settleAppliance(tx, { actor, finding, step: input.step, after: applianceFate(taken), now: input.now });
    await writeDown(taken, change);
    return { id: finding.id, state: change.state ?? finding.state };
  });
}

function refuseWhatTheTableForbids({ facts, actor, input }: Taken): void {
  const { words, asks } = steps[input.step];
  if (!mayTake(input.step, facts, actor.role))
    throw new Trouble(
      "not_allowed_now",
      `"${words}" is not possible while the finding is ${stateWords[facts.state]}: read it again and choose another step.`,
    );
  if (asks === "reason" && input.text.trim() === "") {
    const sentence =
      input.step === "record_proof" ? "Say what the proof is and where it is kept." : "Write a sentence: it is kept with the finding.";
    throw new Trouble("not_valid", sentence, { text: sentence });
  }
}

async function changeOf(taken: Taken): Promise<FindingChange> {
  const { facts, input } = taken;
  const state = stateAfter(input.step, facts.state);
  if (input.step === "give_owner") return { ownerId: await checkedOwner(taken) };
  if (input.step === "set_due") return { dueAt: checkedDue(input) };
  if (input.step === "close") return { state, ...(await closingChange(taken)) };
  if (input.step === "reopen") return { state, closedAt: null, outcome: null, outcomeReason: null, outcomeEvidence: null, reviewAt: null };
  const remedyStage = remedyStages[input.step];
  return remedyStage === undefined ? { state } : { state, remedyStage };
}

async function checkedOwner({ tx, finding, input }: Taken): Promise<string | null> {
  if (!input.ownerId) return null;
  const able = await membersAt(tx, { organisationId: finding.organisationId, siteId: finding.siteId, roles: permissions["work findings"] });
  if (able.some(({ id }) => id === input.ownerId)) return input.ownerId;
  const sentence = "This person does not work at this site: choose another owner.";
  throw new Trouble("not_valid", sentence, { ownerId: sentence });
}

function checkedDue({ dueAt, now }: StepInput): Date {
  if (dueAt && dueAt >= now) return dueAt;
  const sentence = "Choose a due date that is not past.";
  throw new Trouble("not_valid", sentence, { dueAt: sentence });
}

function applianceFate({ facts, input }: Taken): ReturnType<typeof applianceAfter> | null {
  return input.step === "close" && input.outcome ? applianceAfter(input.outcome, facts.cause) : null;
}

function historyText({ input }: Taken, change: FindingChange): string {
  if (input.step === "close" && input.outcome)
    return [`Closed: ${outcomes[input.outcome].words}.`, input.text, input.evidence && `Evidence: ${input.evidence}`]
      .filter(Boolean)
      .join(" ");
  if (input.step === "set_due") return `Due ${change.dueAt?.toISOString().slice(0, 10)}. ${input.text}`;
  return input.text;
}

async function writeDown(taken: Taken, change: FindingChange): Promise<void> {
  const { tx, actor, finding, input } = taken;
  const text = historyText(taken, change);
  await addFindingNote(tx, {
    findingId: finding.id,
    number: finding.version + 1,
    at: input.now,
    byUserId: actor.userId,
    step: input.step,
    text,
  });
  const before = Object.fromEntries(Object.keys(change).map((name) => [name, Reflect.get(finding, name) as unknown]));
  await appendRecord(tx, [
    {
      organisationId: finding.organisationId,
      at: input.now,
      actor: recordName(actor),
      what: `finding ${input.step.replaceAll("_", " ")}`,
      subjectKind: "finding",
      subjectId: finding.id,
      before,
      after: { ...change, text },
    },
  ]);
}
