import { type Actor, recordName } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { tagKey } from "@/lib/identity/tag-code";
import { checkAppliances } from "@/lib/matching/cross-check.run";
import { type Appliance, changeAppliance, findAppliance, findApplianceByTag, insertAppliance } from "@/lib/store/appliance-queries";
import { labelFactNames } from "@/lib/store/appliance-selects";
import type { Db, Store } from "@/lib/store/client";
import { wasMade } from "@/lib/store/form-id-queries";
import { newId } from "@/lib/store/ids";
import { findSite } from "@/lib/store/place-queries";
import { appendRecord } from "@/lib/store/record";
import { voidTagCode } from "@/lib/store/tag-queries";
import { applianceColumns, type LabelFacts, type Supply } from "./appliance-columns";
import type { ApplianceFields } from "./appliance-form";
import { requireNotHeld } from "./hold";
import { findNamedPlace, placeWords } from "./place-find";
import type { Place } from "./placement-history";
import { writePoints } from "./placement-write";
import { supplyOfSite } from "./site-policy";
import { takeTag } from "./tag";

/** What an edit came to: saved, or somebody else's change shown beside one's own. */
export type EditOutcome =
  | { readonly saved: true; readonly id: string }
  | { readonly saved: false; readonly version: number; readonly theirs: ApplianceFields };

export function factsOf(source: LabelFacts): LabelFacts {
  return Object.fromEntries(labelFactNames.map((name) => [name, source[name]])) as unknown as LabelFacts;
}

/** The place of an appliance row. */
export function placeOfAppliance({ siteId, unitId, outletId, receptacle }: Place): Place {
  return { siteId, unitId, outletId, receptacle };
}

/** A stored appliance in the words of the form. */
export async function applianceFields(db: Db, appliance: Appliance): Promise<ApplianceFields> {
  const place = await placeWords(db, appliance.organisationId, placeOfAppliance(appliance));
  return { tag: appliance.tag, ...place, ...factsOf(appliance) };
}

/** An appliance that the actor may see, or the trouble that says it is not there. */
export async function getAppliance(db: Db, actor: Actor, id: string): Promise<Appliance> {
  const appliance = await findAppliance(db, actor.organisationId, id);
  if (!appliance) throw new Trouble("not_found", "This appliance is not in the registry: search for its tag in the list.");
  requirePermission(actor, "see appliances", appliance.siteId);
  return appliance;
}

async function supplyAt(tx: Db, organisationId: string, siteId: string): Promise<Supply> {
  const site = await findSite(tx, organisationId, siteId);
  return site === null ? null : supplyOfSite(tx, site);
}

function sayPlace(tx: Db, applianceId: string, work: { organisationId: string; place: Place; now: Date }) {
  const point = { kind: "said", atMs: work.now.getTime(), place: work.place, source: "form" } as const;
  return writePoints(tx, { organisationId: work.organisationId, points: new Map([[applianceId, [point]]]), now: work.now });
}

export interface NewAppliance {
  readonly fields: ApplianceFields;
  /** The id it will have, made with the form, so that a form that is sent twice adds one appliance. */
  readonly formId?: string | undefined;
  readonly now: Date;
}

/** Adds an appliance and compares it with the recall lists; without a tag it gets a fresh one. Returns its id and tag. */
export async function addAppliance(db: Store, actor: Actor, { fields, formId, now }: NewAppliance) {
  requirePermission(actor, "edit appliances", fields.siteId);
  const { organisationId } = actor;
  const added = await db.$transaction(async (tx) => {
    const id = formId ?? newId();
    if (await wasMade(tx, "appliance", { id: formId, organisationId })) return { id, tag: (await getAppliance(tx, actor, id)).tag };
    const place = await findNamedPlace(tx, actor, fields);
    if (fields.tag !== null) await requireFreeTag(tx, organisationId, fields.tag, id);
    const { tag, issued } = await takeTag(tx, { organisationId, text: fields.tag, applianceId: id, now });
    const facts = factsOf(fields);
    const columns = applianceColumns(tag, facts, await supplyAt(tx, organisationId, place.siteId));
    await insertAppliance(tx, {
      id,
      organisationId,
      tag,
      tagIssued: issued,
      ...place,
      ...facts,
      ...columns,
      createdAt: now,
      updatedAt: now,
    });
    await sayPlace(tx, id, { organisationId, place, now });
    const entry = { organisationId, at: now, actor: recordName(actor), what: "appliance added", subjectKind: "appliance", subjectId: id };
    await appendRecord(tx, [{ ...entry, after: { tag, ...place, ...known(facts) } }]);
    return { id, tag };
  });
  await checkAppliances(db, actor, [added.id], now);
  return added;
}

/** A tag may be on an appliance without being entered among the codes, when it came before they were kept. */
async function requireFreeTag(tx: Db, organisationId: string, text: string, applianceId: string): Promise<void> {
  const holder = await findApplianceByTag(tx, organisationId, tagKey(text));
  if (!holder || holder.id === applianceId) return;
  const sentence = `The tag ${holder.tag} is on another appliance: open that one, or take a fresh tag.`;
  throw new Trouble("already_there", sentence, { tag: sentence });
}

function known(facts: LabelFacts): Partial<LabelFacts> {
  return Object.fromEntries(Object.entries(facts).filter(([, value]) => value !== null));
}

function samePlace(a: Place, b: Place): boolean {
  return a.siteId === b.siteId && a.unitId === b.unitId && a.outletId === b.outletId && a.receptacle === b.receptacle;
}

/** What differs, before and after, by name. */
function difference(before: object, after: object): { before: object; after: object } | null {
  const [old, fresh] = [before as Record<string, unknown>, after as Record<string, unknown>];
  const names = Object.keys(fresh).filter((name) => old[name] !== fresh[name]);
  if (names.length === 0) return null;
  const pick = (row: Record<string, unknown>) => Object.fromEntries(names.map((name) => [name, row[name]]));
  return { before: pick(old), after: pick(fresh) };
}

async function changedTag(tx: Db, appliance: Appliance, text: string | null, now: Date) {
  if (text === null || tagKey(text) === appliance.tagKey) return { tag: appliance.tag, issued: appliance.tagIssued };
  const { organisationId, id } = appliance;
  await requireFreeTag(tx, organisationId, text, id);
  const taken = await takeTag(tx, { organisationId, text, applianceId: id, now });
  await voidTagCode(tx, organisationId, appliance.tagKey, now);
  return taken;
}

export interface EditWork {
  readonly id: string;
  /** The version that the form was filled from. */
  readonly version: number;
  readonly fields: ApplianceFields;
  readonly now: Date;
}

/**
 * Changes an appliance. When somebody changed it since the form was opened nothing is written: their values come back with the
 * version to save over, so that the form shows both. A changed one is compared with the recall lists again.
 */
export async function editAppliance(db: Store, actor: Actor, work: EditWork): Promise<EditOutcome> {
  const { id, version, fields, now } = work;
  const { organisationId } = actor;
  const outcome = await db.$transaction(async (tx): Promise<EditOutcome> => {
    const appliance = await getAppliance(tx, actor, id);
    requirePermission(actor, "edit appliances", appliance.siteId);
    requirePermission(actor, "edit appliances", fields.siteId);
    await requireNotHeld(tx, appliance);
    if (appliance.version !== version) {
      return { saved: false, version: appliance.version, theirs: await applianceFields(tx, appliance) } as const;
    }
    const place = await findNamedPlace(tx, actor, fields);
    const { tag, issued } = await changedTag(tx, appliance, fields.tag, now);
    const facts = factsOf(fields);
    const columns = applianceColumns(tag, facts, await supplyAt(tx, organisationId, place.siteId));
    const old = { tag: appliance.tag, ...placeOfAppliance(appliance), ...factsOf(appliance) };
    const { model, serial, dateCode } = columns;
    const changes = difference(old, { tag, ...place, ...facts, model, serial, dateCode });
    if (changes === null) return { saved: true, id } as const;
    if (!(await changeAppliance(tx, id, version, { tag, tagIssued: issued, ...facts, ...columns, updatedAt: now }))) {
      throw new Trouble("changed_meanwhile", "Somebody else is saving this appliance right now: save again to see both.");
    }
    if (!samePlace(appliance, place)) await sayPlace(tx, id, { organisationId, place, now });
    const entry = { organisationId, at: now, actor: recordName(actor), what: "appliance changed", subjectKind: "appliance", subjectId: id };
    await appendRecord(tx, [{ ...entry, ...changes }]);
    return { saved: true, id } as const;
  });
  if (outcome.saved) await checkAppliances(db, actor, [id], now);
  return outcome;
}
