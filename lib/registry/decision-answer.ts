import { type Actor, recordName } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { siteScope } from "@/lib/access/site-scope";
import { Trouble } from "@/lib/access/trouble";
import type { Ask, Grade } from "@/lib/matching/candidate";
import { checkAppliances } from "@/lib/matching/cross-check.run";
import { findCandidate } from "@/lib/store/candidate-list-queries";
import type { Store } from "@/lib/store/client";
import { appendRecord } from "@/lib/store/record";
import { applianceColumns, type LabelFacts, labelFactNames } from "./appliance-columns";

export interface AnswerInput {
  readonly candidateId: string;
  readonly field: Ask["field"];
  /** What the plate says. */
  readonly value: string;
  readonly now: Date;
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

/**
 * Writes the fact that was read off the appliance into the registry, with its record entry, and compares the appliance again at once.
 * Returns the candidate's new grade; null where the pair is no longer raised at all. Permission: `edit appliances` or
 * `decide candidates`, since an inspector answers at the appliance.
 */
export async function answerQuestion(db: Store, actor: Actor, input: AnswerInput): Promise<{ grade: Grade | null; tag: string }> {
  requirePermission(actor, actor.role === "inspector" ? "decide candidates" : "edit appliances");
  const value = checkedValue(input);
  const { organisationId } = actor;
  const { now, field, candidateId } = input;
  const { tag, ...pair } = await db.$transaction(async (tx) => {
    const candidate = await findCandidate(tx, siteScope(actor), candidateId);
    if (!candidate) throw new Trouble("not_found", "There is no such candidate any more; go back to the list of recalls.");
    const appliance = await tx.appliance.findUniqueOrThrow({ where: { id: candidate.applianceId } });
    const site = await tx.site.findUniqueOrThrow({ where: { id: appliance.siteId }, select: { nominalVolts: true } });
    const column = columnOf[field];
    const facts = Object.fromEntries(labelFactNames.map((name) => [name, appliance[name]])) as unknown as LabelFacts;
    const columns = applianceColumns(appliance.tag, { ...facts, [column]: value }, site.nominalVolts);
    await tx.appliance.update({
      where: { id: appliance.id },
      data: { ...columns, [column]: value, version: { increment: 1 }, updatedAt: now },
    });
    const entry = { organisationId, at: now, actor: recordName(actor), what: "read a fact off the appliance" };
    const change = { before: { [column]: appliance[column] }, after: { [column]: value, noticeId: candidate.noticeId } };
    await appendRecord(tx, [{ ...entry, subjectKind: "appliance", subjectId: appliance.id, ...change }]);
    return { organisationId, noticeId: candidate.noticeId, applianceId: appliance.id, tag: appliance.tag };
  });
  await checkAppliances(db, actor, [pair.applianceId], now);
  const after = await db.candidate.findUnique({
    where: { organisationId_noticeId_applianceId: pair },
    select: { grade: true },
  });
  return { grade: (after?.grade ?? null) as Grade | null, tag };
}
