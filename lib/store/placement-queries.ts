import { bulkInsert, bulkUpdate } from "./bulk";
import { type Db, dialectOf } from "./client";
import type { Appliance, Observation, Placement } from "./generated/sqlite/client";

/** An outlet as a sighting finds it. */
export interface FoundOutlet {
  readonly id: string;
  readonly name: string;
  readonly nameKey: string;
  readonly siteId: string;
  readonly unitId: string | null;
}
export type FoundAppliance = Pick<
  Appliance,
  "id" | "tag" | "tagKey" | "siteId" | "unitId" | "outletId" | "receptacle" | "state" | "lastSeenAt"
>;

const foundAppliance = {
  id: true,
  tag: true,
  tagKey: true,
  siteId: true,
  unitId: true,
  outletId: true,
  receptacle: true,
  state: true,
  lastSeenAt: true,
} as const;
/** Fewer than the 999 parameters that the embedded adapter allows, with room for the other conditions. */
const idsPerQuery = 900;

async function byChunks<T>(keys: readonly string[], find: (chunk: string[]) => Promise<T[]>): Promise<T[]> {
  const found: T[] = [];
  for (let at = 0; at < keys.length; at += idsPerQuery) found.push(...(await find(keys.slice(at, at + idsPerQuery))));
  return found;
}

/** The appliances of these folded tags, in every state. */
export function appliancesByTag(db: Db, organisationId: string, tagKeys: readonly string[]): Promise<FoundAppliance[]> {
  return byChunks(tagKeys, (chunk) =>
    db.appliance.findMany({ where: { organisationId, tagKey: { in: chunk } }, select: foundAppliance, orderBy: { id: "asc" } }),
  );
}

/** The appliances of these ids, in every state. */
export function appliancesById(db: Db, organisationId: string, ids: readonly string[]): Promise<FoundAppliance[]> {
  return byChunks(ids, (chunk) => db.appliance.findMany({ where: { organisationId, id: { in: chunk } }, select: foundAppliance }));
}

const foundOutlet = { id: true, name: true, nameKey: true, siteId: true, unitId: true } as const;

/** The outlets of these folded names. */
export function outletsByName(db: Db, organisationId: string, nameKeys: readonly string[]): Promise<FoundOutlet[]> {
  return byChunks(nameKeys, (chunk) => db.outlet.findMany({ where: { organisationId, nameKey: { in: chunk } }, select: foundOutlet }));
}

/** The outlets of these ids. */
export function outletsById(db: Db, organisationId: string, ids: readonly string[]): Promise<FoundOutlet[]> {
  return byChunks(ids, (chunk) => db.outlet.findMany({ where: { organisationId, id: { in: chunk } }, select: foundOutlet }));
}

/** Holds other writers of these appliances' places back until the transaction ends; the embedded database has one writer anyway. */
export async function holdAppliances(tx: Db, ids: readonly string[]): Promise<void> {
  if (dialectOf(tx) !== "postgresql") return;
  await tx.$queryRawUnsafe(`SELECT "id" FROM "Appliance" WHERE "id" = ANY($1::text[]) ORDER BY "id" FOR UPDATE`, [...ids].sort());
}

/** The placements that reach into the time from `from` on, in time order. */
export function placementsFrom(tx: Db, ids: readonly string[], from: Date): Promise<Placement[]> {
  return byChunks(ids, (chunk) =>
    tx.placement.findMany({
      where: { applianceId: { in: chunk }, OR: [{ toAt: null }, { toAt: { gte: from } }, { fromAt: { gte: from } }] },
      orderBy: [{ fromAt: "asc" }, { toAt: "asc" }],
    }),
  );
}

/** The kept sightings from `from` on. */
export function observationsFrom(tx: Db, ids: readonly string[], from: Date): Promise<Observation[]> {
  return byChunks(ids, (chunk) => tx.observation.findMany({ where: { applianceId: { in: chunk }, at: { gte: from } } }));
}

/** What a rewriting of histories leaves to be stored. */
export interface PlacementChanges {
  readonly newObservations: readonly Observation[];
  readonly goneObservations: readonly string[];
  readonly newPlacements: readonly Placement[];
  readonly gonePlacements: readonly string[];
  /** Placements whose end has changed. */
  readonly ends: readonly { readonly id: string; readonly toAt: Date | null }[];
  readonly starts: readonly { readonly id: string; readonly fromAt: Date }[];
  readonly places: readonly Pick<Appliance, "id" | "siteId" | "unitId" | "outletId" | "receptacle">[];
  readonly lastSeen: readonly { readonly id: string; readonly at: Date }[];
}

const text = (name: string) => ({ name, type: "text" }) as const;
const instant = (name: string) => ({ name, type: "timestamp" }) as const;

/** Stores the changes with bulk statements, a thousand rows each. `updatedAt` marks the moved appliances. */
export async function writePlacements(tx: Db, changes: PlacementChanges, updatedAt: Date): Promise<void> {
  await byChunks(changes.goneObservations, async (chunk) => [await tx.observation.deleteMany({ where: { id: { in: chunk } } })]);
  await byChunks(changes.gonePlacements, async (chunk) => [await tx.placement.deleteMany({ where: { id: { in: chunk } } })]);
  await bulkInsert(tx, {
    table: "Observation",
    columns: [text("id"), text("organisationId"), text("applianceId"), text("outletId"), text("receptacle"), instant("at"), text("source")],
    rows: changes.newObservations.map((row) => [
      row.id,
      row.organisationId,
      row.applianceId,
      row.outletId,
      row.receptacle,
      row.at,
      row.source,
    ]),
  });
  await bulkInsert(tx, {
    table: "Placement",
    columns: [
      ...["id", "organisationId", "applianceId", "siteId", "unitId", "outletId", "receptacle"].map(text),
      instant("fromAt"),
      instant("toAt"),
      text("source"),
    ],
    rows: changes.newPlacements.map((row) => [
      row.id,
      row.organisationId,
      row.applianceId,
      row.siteId,
      row.unitId,
      row.outletId,
      row.receptacle,
      row.fromAt,
      row.toAt,
      row.source,
    ]),
  });
  await bulkUpdate(tx, {
    table: "Placement",
    columns: [text("id"), instant("toAt")],
    rows: changes.ends.map(({ id, toAt }) => [id, toAt]),
  });
  await bulkUpdate(tx, {
    table: "Placement",
    columns: [text("id"), instant("fromAt")],
    rows: changes.starts.map(({ id, fromAt }) => [id, fromAt]),
  });
  await bulkUpdate(tx, {
    table: "Appliance",
    columns: [...["id", "siteId", "unitId", "outletId", "receptacle"].map(text), instant("updatedAt")],
    rows: changes.places.map((row) => [row.id, row.siteId, row.unitId, row.outletId, row.receptacle, updatedAt]),
  });
  await bulkUpdate(tx, {
    table: "Appliance",
    columns: [text("id"), instant("lastSeenAt")],
    rows: changes.lastSeen.map(({ id, at }) => [id, at]),
  });
}
