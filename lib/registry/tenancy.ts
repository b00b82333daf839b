import { z } from "zod";
import { type Actor, recordName } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { type OccupantLanguage, plainValue } from "@/lib/casework/occupant-texts";
import type { Db, Store } from "@/lib/store/client";
import { holdsOnAppliance } from "@/lib/store/hold-queries";
import {
  changeTenancy,
  emptyMailsOf,
  endLinksOf,
  findContact,
  findTenancy,
  insertTenancy,
  type SiteContact,
  type Tenancy,
  tenanciesOfSite,
} from "@/lib/store/occupant-queries";
import { findSite, findUnit, getSitePlan } from "@/lib/store/place-queries";
import { appendRecord } from "@/lib/store/record";
import type { Site, Unit } from "@/lib/store/rows";
import { heldSentence } from "./hold";

export interface TenancyDraft {
  /** Made once for each form that is shown, so that sending it twice enters one occupant. */
  readonly id: string;
  readonly unitId: string;
  readonly name: string;
  readonly email: string;
  readonly language: OccupantLanguage;
  readonly note: string;
  readonly fromAt: Date;
  readonly now: Date;
}

/** The occupants of a site, with its units and whom they call. */
export interface SiteOccupants {
  readonly site: Site;
  readonly units: readonly Unit[];
  readonly tenancies: readonly Tenancy[];
  readonly contact: SiteContact | null;
}

/** Permission: `edit occupants` at the site; throws `Trouble` ("not_found") where there is none. */
export async function siteOccupants(db: Db, actor: Actor, siteId: string): Promise<SiteOccupants> {
  requirePermission(actor, "edit occupants", siteId);
  const site = await findSite(db, actor.organisationId, siteId);
  if (!site) throw new Trouble("not_found", "There is no such site here.");
  const { units } = await getSitePlan(db, siteId);
  const tenancies = await tenanciesOfSite(db, actor.organisationId, siteId);
  return { site, units, tenancies, contact: await findContact(db, siteId) };
}

const mailShape = z.email();

function checkedDraft({ name, email, note }: Pick<TenancyDraft, "name" | "email" | "note">) {
  const fields: Record<string, string> = {};
  const said = { name: plainValue(name), email: email.trim() || null, note: note.trim() || null };
  if (said.name === "") fields["name"] = "Write the occupant's name, or what they are called here.";
  if (said.email !== null && !mailShape.safeParse(said.email).success)
    fields["email"] = "This is no e-mail address: mend it, or leave it empty.";
  const first = Object.values(fields)[0];
  if (first !== undefined) throw new Trouble("not_valid", first, fields);
  return said;
}

/** Enters an occupant of a unit. The record gets the tenancy's id and dates, never a name. Permission: `edit occupants` at the site. */
export async function startTenancy(db: Store, actor: Actor, draft: TenancyDraft): Promise<{ id: string }> {
  const { organisationId } = actor;
  const unit = await findUnit(db, organisationId, draft.unitId);
  if (!unit) throw new Trouble("not_valid", "Choose the unit.", { unitId: "Choose the unit." });
  requirePermission(actor, "edit occupants", unit.siteId);
  const said = checkedDraft(draft);
  const { id, language, fromAt, now } = draft;
  const { id: unitId, siteId } = unit;
  await db.$transaction(async (tx) => {
    if (!(await insertTenancy(tx, { id, organisationId, siteId, unitId, ...said, language, fromAt }))) return;
    await writeEntry(tx, actor, { id, what: "tenancy started", after: { unitId, language, fromAt }, now });
  });
  return { id };
}

async function writeEntry(
  tx: Db,
  actor: Actor,
  { id, what, before, after, now }: { id: string; what: string; before?: object; after?: object; now: Date },
): Promise<void> {
  const { organisationId } = actor;
  const entry = { organisationId, at: now, actor: recordName(actor), what, subjectKind: "tenancy", subjectId: id };
  await appendRecord(tx, [{ ...entry, ...(before ? { before } : {}), ...(after ? { after } : {}) }]);
}

async function mine(db: Db, actor: Actor, id: string): Promise<Tenancy> {
  const tenancy = await findTenancy(db, actor.organisationId, id);
  if (!tenancy) throw new Trouble("not_found", "There is no such occupant here.");
  requirePermission(actor, "edit occupants", tenancy.siteId);
  return tenancy;
}

const changedMeanwhile = () => new Trouble("changed_meanwhile", "Somebody changed this occupant meanwhile: read the page again.");

/** Ends a tenancy, also one day to come; its links end with it. Permission: `edit occupants` at the site. */
export async function endTenancy(
  db: Store,
  actor: Actor,
  given: { readonly id: string; readonly toAt: Date; readonly now: Date },
): Promise<void> {
  const { id, toAt, now } = given;
  await db.$transaction(async (tx) => {
    const tenancy = await mine(tx, actor, id);
    const bad = (sentence: string) => new Trouble("not_valid", sentence, { toAt: sentence });
    if (tenancy.toAt !== null && tenancy.toAt <= now) throw new Trouble("not_allowed_now", "This tenancy has ended already.");
    if (toAt <= tenancy.fromAt) throw bad("It cannot end before it began: choose a later day.");
    if (!(await changeTenancy(tx, tenancy, { toAt }))) throw changedMeanwhile();
    const links = await endLinksOf(tx, id, { at: toAt, now });
    await writeEntry(tx, actor, { id, what: "tenancy ended", before: { toAt: tenancy.toAt }, after: { toAt, linksEnded: links }, now });
  });
}

/**
 * Erases the name, address and note of a past occupant, and the words of the mails to them. What was done about the appliance stays.
 * Permission: `edit occupants` at the site. Throws `Trouble` while the tenancy lasts or a hold keeps the site as it is.
 */
export async function eraseOccupant(db: Store, actor: Actor, given: { readonly id: string; readonly now: Date }): Promise<void> {
  const { id, now } = given;
  await db.$transaction(async (tx) => {
    const tenancy = await mine(tx, actor, id);
    if (tenancy.erasedAt !== null) return;
    if (tenancy.toAt === null || tenancy.toAt > now)
      throw new Trouble("not_allowed_now", "This tenancy has not ended: end it first, then erase the name.");
    const { organisationId } = actor;
    const [hold] = await holdsOnAppliance(tx, { organisationId, applianceId: "", siteId: tenancy.siteId });
    if (hold) throw new Trouble("not_allowed_now", heldSentence(hold));
    if (!(await changeTenancy(tx, tenancy, { name: null, email: null, note: null, erasedAt: now }))) throw changedMeanwhile();
    await emptyMailsOf(tx, id, "erased");
    await writeEntry(tx, actor, { id, what: "occupant erased", now });
  });
}
