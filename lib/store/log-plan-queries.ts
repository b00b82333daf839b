import type { Db } from "./client";
import type { Appliance, Placement } from "./generated/sqlite/client";

const idsPerQuery = 5000;

async function byChunks<T>(keys: readonly string[], find: (chunk: string[]) => Promise<T[]>): Promise<T[]> {
  const found: T[] = [];
  for (let at = 0; at < keys.length; at += idsPerQuery) found.push(...(await find(keys.slice(at, at + idsPerQuery))));
  return found;
}

/** Every outlet of an organisation with its site, unit and circuit. */
export function outletsInPlan(db: Db, organisationId: string) {
  return db.outlet.findMany({
    where: { organisationId },
    select: {
      id: true,
      name: true,
      nameKey: true,
      siteId: true,
      unitId: true,
      circuitId: true,
      outletAmps: true,
      receptacles: true,
      site: { select: { name: true, timeZone: true, nominalVolts: true } },
      unit: { select: { name: true } },
      circuit: { select: { name: true, deviceAmps: true, volts: true, leg: true } },
    },
    orderBy: { id: "asc" },
  });
}

export type OutletInPlan = Awaited<ReturnType<typeof outletsInPlan>>[number];

/** Which appliance is recorded at which receptacle of these outlets. */
export function appliancesAtOutlets(db: Db, outletIds: readonly string[]) {
  return byChunks(outletIds, (chunk) =>
    db.appliance.findMany({
      where: { outletId: { in: chunk } },
      select: { id: true, outletId: true, receptacle: true },
      orderBy: { id: "asc" },
    }),
  );
}

export type LoggedAppliance = Pick<
  Appliance,
  | "id"
  | "tag"
  | "tagKey"
  | "siteId"
  | "outletId"
  | "receptacle"
  | "category"
  | "ratedVolts"
  | "ratedHertz"
  | "ratedWatts"
  | "ratedAmps"
  | "labelText"
  | "protectionClass"
  | "maxLampWatts"
  | "seenWatts"
  | "seenAt"
  | "lastSeenAt"
>;

/** The appliances that a log can speak of: those that are or were at an outlet. */
export function loggedAppliances(db: Db, organisationId: string): Promise<LoggedAppliance[]> {
  return db.appliance.findMany({
    where: { organisationId, OR: [{ outletId: { not: null } }, { lastSeenAt: { not: null } }] },
    select: {
      id: true,
      tag: true,
      tagKey: true,
      siteId: true,
      outletId: true,
      receptacle: true,
      category: true,
      ratedVolts: true,
      ratedHertz: true,
      ratedWatts: true,
      ratedAmps: true,
      labelText: true,
      protectionClass: true,
      maxLampWatts: true,
      seenWatts: true,
      seenAt: true,
      lastSeenAt: true,
    },
    orderBy: { id: "asc" },
  });
}

/** The placements of these appliances, oldest first. */
export function placementsOf(db: Db, applianceIds: readonly string[]): Promise<Placement[]> {
  return byChunks(applianceIds, (chunk) =>
    db.placement.findMany({ where: { applianceId: { in: chunk } }, orderBy: [{ fromAt: "asc" }, { id: "asc" }] }),
  );
}
