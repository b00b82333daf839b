import { type Actor, recordName } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { siteScope } from "@/lib/access/site-scope";
import { Trouble } from "@/lib/access/trouble";
import { comparedFacts } from "@/lib/identity/facts-change";
import type { Ask, Grade } from "@/lib/matching/candidate";
import { checkAppliances } from "@/lib/matching/cross-check.run";
import { loweredPairs } from "@/lib/matching/lowered-pairs";
import type { RecallIndex } from "@/lib/matching/recall-index";
import { labelFactNames } from "@/lib/store/appliance-selects";
import { findCandidate, type ListedCandidate } from "@/lib/store/candidate-list-queries";
import type { Db, Store } from "@/lib/store/client";
import { insertLabelAnswer, setGradeAfter } from "@/lib/store/label-answer-queries";
import { appendRecord } from "@/lib/store/record";
import { applianceColumns, type LabelFacts } from "./appliance-columns";
import { getRecallIndex } from "./recall-list-index";
import { supplyOfSite } from "./site-policy";

/** Who read it: somebody of the staff, or an occupant who told it. */
export type AnswerSource = "staff" | "occupant";

export interface AnswerInput {
  readonly candidateId: string;
  readonly field: Ask["field"];
  /** What the plate says. */
  readonly value: string;
  /** The staff where nothing is said. */
  readonly source?: AnswerSource;
  readonly now: Date;
}

export interface Answered {
  /** The pair's grade now; null where it is no longer raised at all. */
  readonly grade: Grade | null;
  readonly tag: string;
  /** False where an occupant's answer is kept but not written, because it would clear a pair. */
  readonly written: boolean;
}

const columnOf = {
  brand: "brand",
  model: "model",
  serial: "serial",
  dateCode: "dateCode",
  made: "made",
  product: "category",
  upc: "upc",
} as const satisfies Readonly<Record<Ask["field"], keyof LabelFacts>>;

const longestValue = 200;
const madeShape = /^\d{4}(?:-(?:0[1-9]|1[0-2])(?:-(?:0[1-9]|[12]\d|3[01]))?)?$/;

function checkedValue({ field, value }: AnswerInput): string {
  const said = value.trim();
  const wrong = (sentence: string) => new Trouble("not_valid", sentence, { value: sentence });
  if (said === "") throw wrong("Write what the appliance says; if it cannot be read, decide “unsure” instead.");
  if (said.length > longestValue) throw wrong(`That is longer than ${longestValue} characters; write only what is asked.`);
  if (field === "made" && !madeShape.test(said)) throw wrong("Write the date as YYYY, YYYY-MM or YYYY-MM-DD.");
  return said;
}

interface Writing {
  readonly tx: Db;
  readonly actor: Actor;
  readonly candidate: ListedCandidate;
  readonly input: AnswerInput;
  readonly value: string;
  /** Given where the answer may not lower any pair. */
  readonly index: RecallIndex | null;
}

/** Writes the answered fact into the appliance. */
async function writeFact({ tx, candidate, input, value }: Writing, appliance: Awaited<ReturnType<typeof getAppliance>>): Promise<void> {
  const site = await tx.site.findUniqueOrThrow({ where: { id: appliance.siteId }, select: { id: true, nominalVolts: true } });
  const column = columnOf[input.field];
  const facts = Object.fromEntries(labelFactNames.map((name) => [name, appliance[name]])) as unknown as LabelFacts;
  const columns = applianceColumns(appliance.tag, { ...facts, [column]: value }, await supplyOfSite(tx, site));
  await tx.appliance.update({
    where: { id: candidate.applianceId },
    data: { ...columns, [column]: value, version: { increment: 1 }, updatedAt: input.now },
  });
}

function getAppliance(tx: Db, id: string) {
  return tx.appliance.findUniqueOrThrow({ where: { id } });
}

/** Keeps the answer and writes its fact, unless it is an occupant's and would lower a pair. Returns the answer's id and whether it was written. */
async function keepAnswer(writing: Writing): Promise<{ id: string; written: boolean }> {
  const { tx, actor, candidate, input, value, index } = writing;
  const { organisationId } = actor;
  const { noticeId, applianceId } = candidate;
  const appliance = await getAppliance(tx, applianceId);
  const column = columnOf[input.field];
  const before = { id: applianceId, ...comparedFacts(appliance) };
  const written = index === null || loweredPairs(index, before, { ...before, [column]: value }).length === 0;
  if (written) await writeFact(writing, appliance);
  const source = input.source ?? "staff";
  const answer = { organisationId, applianceId, noticeId, field: input.field, value, before: appliance[column], source };
  const id = await insertLabelAnswer(tx, { ...answer, byUserId: actor.userId, at: input.now, gradeBefore: candidate.grade, written });
  const what = written ? "read a fact off the appliance" : "kept an occupant's answer without writing it";
  const change = {
    before: { [column]: appliance[column] },
    after: { [column]: value, noticeId, ...(source === "occupant" ? { source } : {}) },
  };
  const entry = { organisationId, at: input.now, actor: recordName(actor), what, subjectKind: "appliance", subjectId: applianceId };
  await appendRecord(tx, [{ ...entry, ...change }]);
  return { id, written };
}

/**
 * Writes the fact that was read off the appliance into the registry, with its record entry, and compares the appliance again at once.
 * The answer is kept with who, when and from whom. What an occupant says may raise a grade and never lower one, of this notice or any
 * other: an answer that would is kept for somebody of the staff to read the label. Permission: `edit appliances` or
 * `decide candidates`, since an inspector answers at the appliance.
 */
export async function answerQuestion(db: Store, actor: Actor, input: AnswerInput): Promise<Answered> {
  requirePermission(actor, actor.role === "inspector" ? "decide candidates" : "edit appliances");
  const value = checkedValue(input);
  const { organisationId } = actor;
  const { now, candidateId } = input;
  const index = input.source === "occupant" ? (await getRecallIndex(db, organisationId)).index : null;
  const { answer, candidate } = await db.$transaction(async (tx) => {
    const found = await findCandidate(tx, siteScope(actor), candidateId);
    if (!found) throw new Trouble("not_found", "There is no such candidate any more; go back to the list of recalls.");
    return { candidate: found, answer: await keepAnswer({ tx, actor, candidate: found, input, value, index }) };
  });
  const { noticeId, applianceId } = candidate;
  if (answer.written) await checkAppliances(db, actor, [applianceId], now);
  const after = await db.candidate.findUnique({
    where: { organisationId_noticeId_applianceId: { organisationId, noticeId, applianceId } },
    select: { grade: true },
  });
  const grade = (after?.grade ?? null) as Grade | null;
  await setGradeAfter(db, answer.id, grade);
  return { grade, tag: candidate.appliance.tag, written: answer.written };
}
