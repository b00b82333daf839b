import { storedInstant } from "./bulk";
import { type Db, dialectOf, rawReader } from "./client";
import { Prisma } from "./generated/sqlite/client";

const sql = Prisma.sql;

/** How much there is at each site, by the site's id. */
export interface SiteCounts {
  readonly units: number;
  readonly circuits: number;
  readonly outlets: number;
  readonly appliances: number;
}

/** Counts of all of an organisation's sites. */
export async function siteCounts(db: Db, organisationId: string): Promise<Map<string, SiteCounts>> {
  const where = { organisationId };
  const [units, circuits, outlets, appliances] = await Promise.all([
    db.unit.groupBy({ by: ["siteId"], where, _count: { _all: true } }),
    db.circuit.groupBy({ by: ["siteId"], where, _count: { _all: true } }),
    db.outlet.groupBy({ by: ["siteId"], where, _count: { _all: true } }),
    db.appliance.groupBy({ by: ["siteId"], where: { ...where, state: { not: "retired" } }, _count: { _all: true } }),
  ]);
  const counts = new Map<string, SiteCounts>();
  const none: SiteCounts = { units: 0, circuits: 0, outlets: 0, appliances: 0 };
  const put = (rows: readonly { siteId: string; _count: { _all: number } }[], name: keyof SiteCounts) => {
    for (const { siteId, _count } of rows) counts.set(siteId, { ...(counts.get(siteId) ?? none), [name]: _count._all });
  };
  put(units, "units");
  put(circuits, "circuits");
  put(outlets, "outlets");
  put(appliances, "appliances");
  return counts;
}

/** An open finding and the unit it is in, as far as that is known. */
export interface PlacedFinding {
  readonly id: string;
  readonly siteId: string;
  readonly signalWord: string;
  readonly sentence: string;
  readonly openedAt: Date;
  readonly unitId: string | null;
}

/** Open findings of these sites, the oldest first; the unit is the appliance's, else the outlet's, else the circuit's. */
export async function placedFindings(db: Db, organisationId: string, siteIds: readonly string[]): Promise<PlacedFinding[]> {
  const rows = await db.finding.findMany({
    where: { organisationId, siteId: { in: [...siteIds] }, closedAt: null },
    select: {
      id: true,
      siteId: true,
      signalWord: true,
      sentence: true,
      openedAt: true,
      applianceId: true,
      outletId: true,
      circuitId: true,
    },
    orderBy: [{ openedAt: "asc" }, { id: "asc" }],
    take: 900,
  });
  const present = (ids: (string | null)[]) => ({ where: { id: { in: [...new Set(ids)].filter((id) => id !== null) } } });
  const select = { id: true, unitId: true } as const;
  const [appliances, outlets, circuits] = await Promise.all([
    db.appliance.findMany({ ...present(rows.map((row) => row.applianceId)), select }),
    db.outlet.findMany({ ...present(rows.map((row) => row.outletId)), select }),
    db.circuit.findMany({ ...present(rows.map((row) => row.circuitId)), select }),
  ]);
  const units = new Map([...circuits, ...outlets, ...appliances].map((row) => [row.id, row.unitId]));
  return rows.map(({ applianceId, outletId, circuitId, ...finding }) => {
    const unitId = [applianceId, outletId, circuitId].map((id) => (id === null ? null : (units.get(id) ?? null))).find((id) => id !== null);
    return { ...finding, unitId: unitId ?? null };
  });
}

function receptacleList(names: readonly string[]): Prisma.Sql {
  return Prisma.join(names.map((name) => sql`${name}`));
}

/** The names that the receptacles of a site go by in logs: numbers, names that appliances have, and none. */
async function receptacleNames(db: Db, siteId: string): Promise<string[]> {
  const most = await db.outlet.aggregate({ where: { siteId }, _max: { receptacles: true } });
  const named = await db.appliance.findMany({
    where: { siteId, receptacle: { not: null } },
    distinct: ["receptacle"],
    select: { receptacle: true },
  });
  const numbers = Array.from({ length: most._max.receptacles ?? 2 }, (_, i) => String(i + 1));
  return [...new Set(["", ...numbers, ...named.flatMap(({ receptacle }) => receptacle ?? [])])];
}

/** When the latest reading of a site was taken; null without readings. One index look-up a receptacle, however long the log. */
async function latestReading(db: Db, siteId: string, names: readonly string[]): Promise<Date | null> {
  const list = Prisma.join(
    names.map((name) => sql`SELECT ${name} AS "name"`),
    " UNION ALL ",
  );
  const rows = await rawReader(db).$queryRaw<{ at: string | Date | null }[]>(sql`SELECT MAX(m."at") AS "at" FROM (SELECT
    (SELECT d."at" FROM "DrawMinute" d WHERE d."outletId" = o."id" AND d."receptacle" = r."name" ORDER BY d."at" DESC LIMIT 1) AS "at"
    FROM "Outlet" o CROSS JOIN (${list}) r WHERE o."siteId" = ${siteId}) m`);
  const at = rows[0]?.at;
  return at ? new Date(at) : null;
}

/** The largest load of each circuit of a site in the hour that ends with the latest reading, amps, by the circuit's id. */
export interface SiteLoads {
  readonly upTo: Date | null;
  readonly amps: ReadonlyMap<string, number>;
}

const loadWindowMs = 3_600_000;

/** Minute by minute, what the receptacles of a circuit drew together. Amps as metered, else watts over the outlet's volts. */
export async function siteLoads(db: Db, siteId: string): Promise<SiteLoads> {
  const names = await receptacleNames(db, siteId);
  const upTo = await latestReading(db, siteId, names);
  if (upTo === null) return { upTo, amps: new Map() };
  const since = new Date(upTo.getTime() - loadWindowMs);
  const from = dialectOf(db) === "sqlite" ? storedInstant(since) : since;
  const rows = await rawReader(db).$queryRaw<{ circuitId: string; amps: number | null }[]>(sql`SELECT t."circuitId", MAX(t."amps") AS "amps"
    FROM (SELECT o."circuitId", d."at", SUM(COALESCE(d."meanAmps", d."meanWatts" / COALESCE(NULLIF(d."meanVolts", 0), NULLIF(c."volts", 0)))) AS "amps"
      FROM "Outlet" o JOIN "Circuit" c ON c."id" = o."circuitId" JOIN "DrawMinute" d ON d."outletId" = o."id"
      WHERE o."siteId" = ${siteId} AND d."receptacle" IN (${receptacleList(names)}) AND d."at" >= ${from}
      GROUP BY o."circuitId", d."at") t GROUP BY t."circuitId"`);
  return { upTo, amps: new Map(rows.flatMap(({ circuitId, amps }) => (amps === null ? [] : [[circuitId, Number(amps)] as const]))) };
}

/** Appliances of a unit that are not retired, by outlet and tag. */
export function appliancesOfUnit(db: Db, organisationId: string, unitId: string) {
  return db.appliance.findMany({
    where: { organisationId, unitId, state: { not: "retired" } },
    orderBy: [{ outletId: "asc" }, { tagKey: "asc" }],
    take: 200,
  });
}

/** How many appliances that are not retired each unit of a site has. */
export async function applianceCountsByUnit(db: Db, siteId: string): Promise<Map<string, number>> {
  const rows = await db.appliance.groupBy({ by: ["unitId"], where: { siteId, state: { not: "retired" } }, _count: { _all: true } });
  return new Map(rows.flatMap(({ unitId, _count }) => (unitId === null ? [] : [[unitId, _count._all] as const])));
}
