import { type Actor, recordName } from "@/lib/access/actor";
import { requireSeen } from "@/lib/access/changed-meanwhile";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { refreshDerivedColumns } from "@/lib/store/appliance-queries";
import type { Db, Store } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";
import {
  findCircuit,
  findOutlet,
  findSite,
  findUnit,
  moveOutletContents,
  type PlaceKind,
  placeNamed,
  saveCircuit,
  saveOutlet,
  saveSite,
  saveUnit,
} from "@/lib/store/place-queries";
import { appendRecord } from "@/lib/store/record";
import type { Site } from "@/lib/store/rows";
import { applianceColumns } from "./appliance-columns";
import { type CircuitInput, type OutletInput, placeSeen, type SiteInput, type UnitInput } from "./place-form";
import { nameKey } from "./place-name";
import { supplyOfSite } from "./site-policy";

type Saved = { readonly id: string };
interface Change {
  readonly kind: PlaceKind;
  readonly id: string;
  readonly before: object | null;
  readonly after: object;
}

function gone(kind: PlaceKind): Trouble {
  return new Trouble("not_found", `This ${kind} is not there any more: go back to the building and choose it again.`);
}

async function requireFreeName(tx: Db, actor: Actor, kind: PlaceKind, place: { id: string | null; siteId: string | null; name: string }) {
  const holder = await placeNamed(tx, kind, { organisationId: actor.organisationId, siteId: place.siteId, nameKey: nameKey(place.name) });
  if (holder === null || holder === place.id) return;
  const where = kind === "site" || kind === "outlet" ? "in this organisation" : "at this site";
  const sentence = `There already is a ${kind} "${place.name}" ${where}: choose another name.`;
  throw new Trouble("already_there", sentence, { name: sentence });
}

async function record(tx: Db, actor: Actor, change: Change, now: Date): Promise<void> {
  const { kind, id, before, after } = change;
  const what = before ? `${kind} changed` : `${kind} added`;
  const entry = { organisationId: actor.organisationId, at: now, actor: recordName(actor), what, subjectKind: kind, subjectId: id, after };
  await appendRecord(tx, [before ? { ...entry, before } : entry]);
}

/** What a place was, by the fields of its form; throws where it is no longer what that form was filled from. */
function seenBefore(
  kind: PlaceKind,
  row: object | null,
  input: { readonly name: string; readonly seen?: string | undefined },
): object | null {
  const before = placeSeen(kind, row);
  if (before) requireSeen(input.seen, before, { what: `the ${kind} "${String(before["name"])}"` });
  return before;
}

/** Adds or changes a site. Another nominal voltage chooses other figures of some plates, so their limits are worked out again. */
export async function saveSitePlace(db: Store, actor: Actor, input: SiteInput & { readonly now: Date }): Promise<Saved> {
  requirePermission(actor, "edit places", input.id ?? undefined);
  if (input.id === null && actor.siteIds !== "all") throw new Trouble("not_allowed_now", "Only someone who sees all sites can add one.");
  const { organisationId } = actor;
  const { name, timeZone, nominalVolts } = input;
  return db.$transaction(async (tx) => {
    const before = input.id === null ? null : await findSite(tx, organisationId, input.id);
    if (input.id !== null && before === null) throw gone("site");
    const was = seenBefore("site", before, input);
    await requireFreeName(tx, actor, "site", { id: input.id, siteId: null, name });
    const id = input.id ?? newId();
    await saveSite(tx, id, { organisationId, name, nameKey: nameKey(name), timeZone, nominalVolts });
    if (before && before.nominalVolts !== nominalVolts) await refreshSite(tx, { id, nominalVolts });
    await record(tx, actor, { kind: "site", id, before: was, after: { name, timeZone, nominalVolts } }, input.now);
    return { id };
  });
}

async function refreshSite(tx: Db, site: Pick<Site, "id" | "nominalVolts">): Promise<void> {
  const supply = await supplyOfSite(tx, site);
  await refreshDerivedColumns(tx, site.id, (row) => applianceColumns(row.tag, row, supply));
}

/** Adds or changes a unit of a site. */
export async function saveUnitPlace(db: Store, actor: Actor, input: UnitInput & { readonly now: Date }): Promise<Saved> {
  requirePermission(actor, "edit places", input.siteId);
  const { organisationId } = actor;
  const { name, siteId } = input;
  return db.$transaction(async (tx) => {
    if (!(await findSite(tx, organisationId, siteId))) throw gone("site");
    const before = input.id === null ? null : await findUnit(tx, organisationId, input.id);
    if (input.id !== null && before?.siteId !== siteId) throw gone("unit");
    const was = seenBefore("unit", before, input);
    await requireFreeName(tx, actor, "unit", { id: input.id, siteId, name });
    const id = input.id ?? newId();
    await saveUnit(tx, id, { organisationId, siteId, name, nameKey: nameKey(name) });
    await record(tx, actor, { kind: "unit", id, before: was, after: { name, siteId } }, input.now);
    return { id };
  });
}

async function requireUnitOfSite(tx: Db, actor: Actor, unitId: string | null, siteId: string): Promise<void> {
  if (unitId === null) return;
  if ((await findUnit(tx, actor.organisationId, unitId))?.siteId !== siteId) throw gone("unit");
}

/** Adds or changes a branch circuit: its protective device, its voltage, the leg it hangs on. */
export async function saveCircuitPlace(db: Store, actor: Actor, input: CircuitInput & { readonly now: Date }): Promise<Saved> {
  requirePermission(actor, "edit places", input.siteId);
  const { organisationId } = actor;
  const { name, siteId, unitId, deviceAmps, volts, leg } = input;
  return db.$transaction(async (tx) => {
    if (!(await findSite(tx, organisationId, siteId))) throw gone("site");
    const before = input.id === null ? null : await findCircuit(tx, organisationId, input.id);
    if (input.id !== null && before?.siteId !== siteId) throw gone("circuit");
    const was = seenBefore("circuit", before, input);
    await requireUnitOfSite(tx, actor, unitId, siteId);
    await requireFreeName(tx, actor, "circuit", { id: input.id, siteId, name });
    const id = input.id ?? newId();
    await saveCircuit(tx, id, { organisationId, siteId, unitId, name, nameKey: nameKey(name), deviceAmps, volts, leg });
    await record(tx, actor, { kind: "circuit", id, before: was, after: { name, unitId, deviceAmps, volts, leg } }, input.now);
    return { id };
  });
}

/** Adds or changes an outlet. What is plugged in follows it to another unit, for it is the same outlet. */
export async function saveOutletPlace(db: Store, actor: Actor, input: OutletInput & { readonly now: Date }): Promise<Saved> {
  requirePermission(actor, "edit places", input.siteId);
  const { organisationId } = actor;
  const { name, siteId, unitId, circuitId, outletAmps, receptacles } = input;
  return db.$transaction(async (tx) => {
    if (!(await findSite(tx, organisationId, siteId))) throw gone("site");
    const before = input.id === null ? null : await findOutlet(tx, organisationId, input.id);
    if (input.id !== null && before?.siteId !== siteId) throw gone("outlet");
    const was = seenBefore("outlet", before, input);
    await requireUnitOfSite(tx, actor, unitId, siteId);
    if (circuitId !== null && (await findCircuit(tx, organisationId, circuitId))?.siteId !== siteId) throw gone("circuit");
    await requireFreeName(tx, actor, "outlet", { id: input.id, siteId, name });
    const id = input.id ?? newId();
    await saveOutlet(tx, id, { organisationId, siteId, unitId, circuitId, name, nameKey: nameKey(name), outletAmps, receptacles });
    if (before && before.unitId !== unitId) await moveOutletContents(tx, id, { siteId, unitId });
    const after = { name, unitId, circuitId, outletAmps, receptacles };
    await record(tx, actor, { kind: "outlet", id, before: was, after }, input.now);
    return { id };
  });
}
