import { type RatingColumnName, ratingColumns } from "./appliance-selects";
import type { Db } from "./client";
import type { Appliance, Placement } from "./generated/sqlite/client";

const idsPerQuery = 5000;

async function byChunks<T>(keys: readonly string[], find: (chunk: string[]) => Promise<T[]>): Promise<T[]> {
  const found: T[] = [];
  for (let at = 0; at < keys.length; at += idsPerQuery) found.push(...(await find(keys.slice(at, at + idsPerQuery))));
  return found;
}

/** Every outlet of an organisation, or of one site, with its site, unit and circuit. */
export function outletsInPlan(db: Db, organisationId: string, siteId?: string) {
  return db.outlet.findMany({
    where: { organisationId, ...(siteId === undefined ? {} : { siteId }) },
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
  | RatingColumnName
  | "seenWatts"
  | "seenAt"
  | "lastSeenAt"
  | "baselineFrom"
  | "baselineTo"
>;

const loggedColumns = {
  id: true,
  tag: true,
  tagKey: true,
  siteId: true,
  outletId: true,
  receptacle: true,
  ...ratingColumns,
  seenWatts: true,
  seenAt: true,
  lastSeenAt: true,
  baselineFrom: true,
  baselineTo: true,
} as const;

/**
 * The appliances that a site's readings can speak of: those that are or were at an outlet there, and those of the folded tags that
 * were seen there.
 */
export async function loggedAppliances(
  db: Db,
  { organisationId, siteId, tagKeys }: { readonly organisationId: string; readonly siteId: string; readonly tagKeys: readonly string[] },
): Promise<LoggedAppliance[]> {
  const here = { siteId, OR: [{ outletId: { not: null } }, { lastSeenAt: { not: null } }] };
  const present = await db.appliance.findMany({ where: { organisationId, ...here }, select: loggedColumns });
  const known = new Set(present.map(({ id }) => id));
  const stays = await db.placement.findMany({
    where: { organisationId, siteId },
    select: { applianceId: true },
    distinct: ["applianceId"],
  });
  const left = stays.map(({ applianceId }) => applianceId).filter((id) => !known.has(id));
  const gone = await byChunks(left, (chunk) =>
    db.appliance.findMany({ where: { organisationId, id: { in: chunk } }, select: loggedColumns }),
  );
  for (const { id } of gone) known.add(id);
  const guests = await byChunks(tagKeys, (chunk) =>
    db.appliance.findMany({ where: { organisationId, tagKey: { in: chunk } }, select: loggedColumns }),
  );
  const all = [...present, ...gone.filter(({ outletId, lastSeenAt }) => outletId !== null || lastSeenAt !== null)];
  return [...all, ...guests.filter(({ id }) => !known.has(id))].sort((a, b) => (a.id < b.id ? -1 : 1));
}

/** The placements of these appliances, oldest first. */
export function placementsOf(db: Db, applianceIds: readonly string[]): Promise<Placement[]> {
  return byChunks(applianceIds, (chunk) =>
    db.placement.findMany({ where: { applianceId: { in: chunk } }, orderBy: [{ fromAt: "asc" }, { id: "asc" }] }),
  );
}
