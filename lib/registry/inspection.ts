import { type Actor, recordName } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Refused } from "@/lib/access/refusal";
import { Trouble } from "@/lib/access/trouble";
import { intervalColumn, nextDue } from "@/lib/casework/inspection-due";
import { contradictions, figureNames, type Judgement, judgeInspection } from "@/lib/casework/inspection-judging";
import { paperShortcomings } from "@/lib/casework/inspection-papers";
import type { LimitFacts } from "@/lib/electrical/inspection-limits";
import { loadKindOf } from "@/lib/electrical/load-kind";
import type { Appliance } from "@/lib/store/appliance-queries";
import type { Db, Store } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";
import {
  findCorrection,
  findInspection,
  findInspectionByForm,
  type Inspection,
  insertInspection,
  inspectionsOf,
  writeInspectionDue,
} from "@/lib/store/inspection-queries";
import { findCompetences, findInstruments } from "@/lib/store/instrument-queries";
import { findSite } from "@/lib/store/place-queries";
import { appendRecord } from "@/lib/store/record";
import { getAppliance } from "./appliance";
import { competencePaper } from "./inspection-competence";
import { findingOfFail, tellOfPass } from "./inspection-finding";
import type { InspectionForm } from "./inspection-form";
import { inspectionPolicyOf, type SiteInspectionPolicy } from "./inspection-policy";
import { instrumentPaper } from "./instrument";

/** What a sent form came to. */
export interface InspectionOutcome {
  readonly id: string;
  readonly result: string;
  readonly findingId: string | null;
  readonly nextDueAt: Date | null;
  /** Why it failed, or what it lacks. */
  readonly reasons: readonly string[];
  /** The form had been recorded before: nothing was written now. */
  readonly again: boolean;
}

function outcomeOf({ id, result, findingId, nextDueAt, reasons }: Inspection, again: boolean): InspectionOutcome {
  return { id, result, findingId, nextDueAt, reasons: reasons as string[], again };
}

/** What the plate says for an appliance's limits. */
export function plateFacts({ category, inputWatts }: Pick<Appliance, "category" | "inputWatts">) {
  return { isHeating: loadKindOf(category) === "heating", ratedKilowatts: inputWatts === null ? null : inputWatts / 1000 };
}

/** What decides an appliance's limits, from its plate and what the inspector measured. */
function limitFacts(appliance: Appliance, form: InspectionForm): LimitFacts {
  const { protectionClass, cordMetres, cordSquareMillimetres, isHandHeld } = form;
  return { protectionClass, cordMetres, cordSquareMillimetres, isHandHeld, ...plateFacts(appliance) };
}

interface Papers {
  readonly competence: readonly object[];
  readonly instruments: readonly object[];
  readonly shortcomings: readonly { sentence: string }[];
}

async function papersOf(tx: Db, actor: Actor, { form, at }: { form: InspectionForm; at: Date }): Promise<Papers> {
  const { organisationId } = actor;
  const competences = await findCompetences(tx, organisationId, actor.userId ?? "");
  const used = (await findInstruments(tx, organisationId)).filter(({ id }) => form.instrumentIds.includes(id));
  if (used.length !== new Set(form.instrumentIds).size) {
    const sentence = "An instrument of the form is not in use any more: choose the one you used.";
    throw new Trouble("not_valid", sentence, { instrumentIds: sentence });
  }
  const shortcomings = paperShortcomings({
    competences: competences.map(competencePaper),
    instruments: used.map(instrumentPaper),
    hasFigures: figureNames.some((name) => form.measured[name] !== null),
    at,
  });
  return {
    competence: competences.map(({ id, what, issuedBy, validUntil }) => ({ id, what, issuedBy, validUntil })),
    instruments: used.map(({ id, make, model, serial, calibration }) => ({
      id,
      make,
      model,
      serial,
      calibratedUntil: calibration?.validUntil ?? null,
      certificate: calibration?.certificate ?? null,
    })),
    shortcomings,
  };
}

async function requireCorrectable(tx: Db, form: InspectionForm, organisationId: string): Promise<void> {
  if (form.correctsId === null) return;
  const wrong = await findInspection(tx, organisationId, form.correctsId);
  if (wrong?.applianceId !== form.applianceId)
    throw new Trouble("not_found", "The inspection to be corrected is not one of this appliance.");
  if (form.correctionWhy === "")
    throw new Trouble("not_valid", "Say what was wrong with the inspection.", { correctionWhy: "Say what was wrong." });
  if (await findCorrection(tx, form.correctsId)) throw correctedAlready();
}

function correctedAlready(): Trouble {
  return new Trouble("changed_meanwhile", "This inspection was corrected already: correct the correction instead.");
}

function requireSameThing(known: Inspection, form: InspectionForm): Inspection {
  if (known.applianceId === form.applianceId) return known;
  throw new Trouble("already_there", "This form was sent for another appliance: open the form of this one again.");
}

/** The inspections that still stand, the latest first: those that no other corrects. */
export function standing<T extends Pick<Inspection, "id" | "correctsId">>(all: readonly T[], alsoCorrected: string | null = null): T[] {
  const corrected = new Set([...all.map(({ correctsId }) => correctsId), alsoCorrected]);
  return all.filter(({ id }) => !corrected.has(id));
}

function requireSense(form: InspectionForm, facts: LimitFacts): void {
  const problems = contradictions({ facts, measured: form.measured });
  const [first] = Object.values(problems);
  if (first) throw new Trouble("not_valid", first, problems);
}

/** One inspection on its way into the store. */
interface Making {
  readonly actor: Actor;
  readonly form: InspectionForm;
  readonly appliance: Appliance;
  readonly policy: SiteInspectionPolicy;
  readonly at: Date;
  readonly now: Date;
}

async function judged(tx: Db, making: Making): Promise<{ judgement: Judgement; papers: Papers }> {
  const { actor, form, appliance, policy, at } = making;
  const facts = limitFacts(appliance, form);
  requireSense(form, facts);
  const papers = await papersOf(tx, actor, { form, at });
  const own = form.limitedWhy === "" ? [] : [{ sentence: form.limitedWhy }];
  const { checklist, measured } = form;
  const made = { standard: policy.standard, facts, checklist, measured, shortcomings: [...papers.shortcomings, ...own] };
  return { judgement: judgeInspection(made), papers };
}

async function write(tx: Db, making: Making): Promise<Inspection> {
  const { actor, form, appliance, policy, at, now } = making;
  const { judgement, papers } = await judged(tx, making);
  const { organisationId } = actor;
  const others = standing(await inspectionsOf(tx, organisationId, appliance.id), form.correctsId);
  const due = nextDue({
    at,
    result: judgement.result,
    environment: form.environment,
    column: intervalColumn(form.protectionClass, appliance.category),
    ownMonths: policy.months,
    dueBefore: others[0]?.nextDueAt ?? null,
  });
  const id = newId();
  const fail = { actor, appliance, inspectionId: id, judgement, takeOutOfUse: form.takeOutOfUse, now };
  const consequence = judgement.result === "fail" ? await findingOfFail(tx, fail) : { findingId: null, tookOutOfUse: false };
  if (judgement.result === "pass") await tellOfPass(tx, fail);
  const row = {
    id,
    organisationId,
    siteId: appliance.siteId,
    unitId: appliance.unitId,
    outletId: appliance.outletId,
    applianceId: appliance.id,
    formId: form.formId,
    at,
    receivedAt: now,
    byUserId: actor.userId,
    signedName: form.signedName,
    standard: policy.standard,
    environment: form.environment,
    protectionClass: form.protectionClass,
    cordMetres: form.cordMetres,
    checklist: form.checklist,
    measurements: { ...form.measured, cordSquareMillimetres: form.cordSquareMillimetres, judged: judgement.figures },
    instruments: papers.instruments,
    competence: papers.competence,
    result: judgement.result,
    reasons: judgement.reasons,
    notes: form.notes || null,
    nextDueAt: due.dueAt,
    nextDueWhy: due.why,
    ...consequence,
    correctsId: form.correctsId,
    correctionWhy: form.correctsId === null ? null : form.correctionWhy,
  };
  await insertInspection(tx, row);
  const latest = others[0] && others[0].at > at ? others[0] : row;
  await writeInspectionDue(tx, {
    applianceId: appliance.id,
    organisationId,
    lastInspectionId: latest.id,
    lastAt: latest.at,
    lastResult: latest.result,
    dueAt: latest.nextDueAt,
  });
  await record(tx, making, row);
  return row as unknown as Inspection;
}

async function record(tx: Db, { actor, now }: Making, row: { id: string; applianceId: string; correctsId: string | null }): Promise<void> {
  const after = JSON.parse(JSON.stringify(row)) as Record<string, unknown>;
  const what = row.correctsId === null ? "inspection recorded" : "inspection corrected";
  const entry = { organisationId: actor.organisationId, at: now, actor: recordName(actor), what };
  await appendRecord(tx, [{ ...entry, subjectKind: "appliance", subjectId: row.applianceId, after }]);
}

/**
 * Records an inspection: judged by the standard of its site, with the finding of a fail, the appliance out of use where asked, the next
 * due date and the record entry, all at once. It never changes afterwards: a correction is another one that names it. The same form
 * sent twice is recorded once. Permission: `record inspections` at its site. Throws `Refused` or `Trouble`.
 */
export async function recordInspection(
  db: Store,
  actor: Actor,
  { form, now }: { readonly form: InspectionForm; readonly now: Date },
): Promise<InspectionOutcome> {
  requirePermission(actor, "record inspections");
  try {
    return await db.$transaction(async (tx) => {
      const appliance = await getAppliance(tx, actor, form.applianceId);
      requirePermission(actor, "record inspections", appliance.siteId);
      const known = await findInspectionByForm(tx, actor.organisationId, form.formId);
      if (known) return outcomeOf(requireSameThing(known, form), true);
      if (appliance.state === "retired") throw new Trouble("not_allowed_now", "This appliance is retired: there is nothing to inspect.");
      await requireCorrectable(tx, form, actor.organisationId);
      const site = await findSite(tx, actor.organisationId, appliance.siteId);
      if (!site) throw new Trouble("not_found", "The site of this appliance is not there any more.");
      const policy = await inspectionPolicyOf(tx, site);
      // A phone's clock may be ahead; nothing was inspected after it arrived.
      const at = new Date(Math.min(new Date(form.at).getTime(), now.getTime()));
      return outcomeOf(await write(tx, { actor, form, appliance, policy, at, now }), false);
    });
  } catch (error) {
    if (error instanceof Trouble || error instanceof Refused) throw error;
    // Two sendings of one form at once, or two corrections: the unique index let one of them through.
    const known = await findInspectionByForm(db, actor.organisationId, form.formId);
    if (known?.applianceId === form.applianceId) return outcomeOf(known, true);
    if (form.correctsId !== null && (await findCorrection(db, form.correctsId))) throw correctedAlready();
    throw error;
  }
}
