import { randomInt } from "node:crypto";
import type { EnergyHourRow } from "@/lib/watch/energy-sum";
import { type BulkColumn, bulkInsert } from "./bulk";
import type { Db } from "./client";
import type { EnergyDue, EnergyHour, Prisma } from "./generated/sqlite/client";

export type { EnergyDue };

const text = (name: string): BulkColumn => ({ name, type: "text" });
const integer = (name: string): BulkColumn => ({ name, type: "integer" });
const at: BulkColumn = { name: "at", type: "timestamp" };
const most = 2 ** 31 - 1;

/** An hour of a site, by its start on the site's clock. */
export interface SiteHour {
  readonly siteId: string;
  readonly atMs: number;
}

/** Marks hours as due for booking, inside the transaction that stores their readings or placements. */
export async function markEnergyDue(tx: Db, organisationId: string, hours: readonly SiteHour[]): Promise<void> {
  const once = new Map(hours.map((hour) => [`${hour.siteId} ${hour.atMs}`, hour]));
  await bulkInsert(tx, {
    table: "EnergyDue",
    columns: [text("organisationId"), text("siteId"), at, integer("marks")],
    rows: [...once.values()].map(({ siteId, atMs }) => [organisationId, siteId, new Date(atMs), randomInt(1, most)]),
    onConflict: { key: ["siteId", "at"], update: ["marks"] },
  });
}

/** Marks the booked hours of outlets from an instant on: who held their receptacles has changed. */
export async function markBookedHours(tx: Db, organisationId: string, outletIds: readonly string[], from: Date): Promise<void> {
  for (let i = 0; i < outletIds.length; i += 500) {
    const where = { organisationId, outletId: { in: outletIds.slice(i, i + 500) }, at: { gte: from } };
    const rows = await tx.energyHour.findMany({ where, select: { siteId: true, at: true }, distinct: ["siteId", "at"] });
    await markEnergyDue(
      tx,
      organisationId,
      rows.map((row) => ({ siteId: row.siteId, atMs: row.at.getTime() })),
    );
  }
}

/** Hours that are due, the oldest first. */
export function findEnergyDue(db: Db, organisationId: string, take: number): Promise<EnergyDue[]> {
  return db.energyDue.findMany({ where: { organisationId }, orderBy: [{ at: "asc" }, { siteId: "asc" }], take });
}

/** How many hours are due. */
export function countEnergyDue(db: Db, organisationId: string): Promise<number> {
  return db.energyDue.count({ where: { organisationId } });
}

/** Takes marks away that have not been set anew since they were read. */
export async function clearEnergyDue(tx: Db, due: readonly EnergyDue[]): Promise<void> {
  for (const { siteId, at: hour, marks } of due) await tx.energyDue.deleteMany({ where: { siteId, at: hour, marks } });
}

const hourColumns: readonly BulkColumn[] = [
  ...["organisationId", "siteId", "unitId", "circuitId", "outletId", "receptacle", "applianceId"].map(text),
  at,
  ...["microjoules", "measuredMs", "gapMs"].map(integer),
];

/** Puts booked rows in the place of all that was booked in these hours. */
export async function replaceEnergyHours(
  tx: Db,
  organisationId: string,
  hours: readonly SiteHour[],
  rows: readonly EnergyHourRow[],
): Promise<void> {
  for (const siteId of new Set(hours.map((hour) => hour.siteId))) {
    const times = hours.filter((hour) => hour.siteId === siteId).map(({ atMs }) => new Date(atMs));
    for (let i = 0; i < times.length; i += 500)
      await tx.energyHour.deleteMany({ where: { organisationId, siteId, at: { in: times.slice(i, i + 500) } } });
  }
  await bulkInsert(tx, {
    table: "EnergyHour",
    columns: hourColumns,
    rows: rows.map((row) => [
      organisationId,
      row.siteId,
      row.unitId,
      row.circuitId,
      row.outletId,
      row.receptacle,
      row.applianceId,
      new Date(row.atMs),
      Number(row.microjoules),
      row.measuredMs,
      row.gapMs,
    ]),
    onConflict: { key: ["outletId", "receptacle", "at", "applianceId"], update: ["microjoules", "measuredMs", "gapMs"] },
  });
}

/** Whose hours: of a site, narrowed to a unit, a circuit, an outlet or an appliance; an appliance's own hours at every site in reach. */
export interface EnergyScope {
  readonly organisationId: string;
  /** Null is every site. */
  readonly siteIds: readonly string[] | null;
  readonly siteId?: string | undefined;
  readonly unitId?: string | undefined;
  readonly circuitId?: string | undefined;
  readonly outletId?: string | undefined;
  readonly applianceId?: string | undefined;
  /** Outlets left out: those that are meters, so that nothing is counted twice. */
  readonly without?: readonly string[] | undefined;
}

function scopeWhere({ organisationId, siteIds, without = [], ...narrow }: EnergyScope): Prisma.EnergyHourWhereInput {
  const named = Object.fromEntries(Object.entries(narrow).filter(([, value]) => value !== undefined));
  const reach = siteIds === null ? [] : [{ siteId: { in: [...siteIds] } }];
  return { organisationId, ...named, AND: [...reach, ...(without.length === 0 ? [] : [{ outletId: { notIn: [...without] } }])] };
}

const stretchOf = (scope: EnergyScope, fromMs: number, toMs: number) => ({
  ...scopeWhere(scope),
  at: { gte: new Date(fromMs), lt: new Date(toMs) },
});

function shownRow(row: EnergyHour): EnergyHourRow {
  const { siteId, unitId, circuitId, outletId, receptacle, applianceId, microjoules, measuredMs, gapMs } = row;
  return { siteId, unitId, circuitId, outletId, receptacle, applianceId, atMs: row.at.getTime(), microjoules, measuredMs, gapMs };
}

/** Booked hours that begin in a stretch (its end not included), in time order. */
export async function findEnergyHours(db: Db, scope: EnergyScope, fromMs: number, toMs: number): Promise<EnergyHourRow[]> {
  const where = stretchOf(scope, fromMs, toMs);
  return (await db.energyHour.findMany({ where, orderBy: [{ at: "asc" }, { outletId: "asc" }, { receptacle: "asc" }] })).map(shownRow);
}

/** First and last booked hour; null before the first booking. */
export async function energyExtent(db: Db, scope: EnergyScope): Promise<{ readonly fromMs: number; readonly toMs: number } | null> {
  const { _min, _max } = await db.energyHour.aggregate({ where: scopeWhere(scope), _min: { at: true }, _max: { at: true } });
  return _min.at === null || _max.at === null ? null : { fromMs: _min.at.getTime(), toMs: _max.at.getTime() };
}

/** Whether anything is booked in an hour of a site. */
export async function isHourBooked(db: Db, { siteId, atMs }: SiteHour): Promise<boolean> {
  return (await db.energyHour.findFirst({ where: { siteId, at: new Date(atMs) }, select: { at: true } })) !== null;
}

/** Every stay at these outlets, and when each of their appliances was first recorded anywhere. */
export async function staysAtOutlets(db: Db, outletIds: readonly string[]) {
  const stays = [];
  for (let i = 0; i < outletIds.length; i += 500)
    stays.push(
      ...(await db.placement.findMany({
        where: { outletId: { in: outletIds.slice(i, i + 500) } },
        select: { applianceId: true, outletId: true, receptacle: true, fromAt: true, toAt: true },
      })),
    );
  const ids = [...new Set(stays.map(({ applianceId }) => applianceId))];
  const firsts = new Map<string, number>();
  for (let i = 0; i < ids.length; i += 500)
    for (const { applianceId, _min } of await db.placement.groupBy({
      by: ["applianceId"],
      where: { applianceId: { in: ids.slice(i, i + 500) } },
      _min: { fromAt: true },
    }))
      if (_min.fromAt !== null) firsts.set(applianceId, _min.fromAt.getTime());
  return { stays, firsts };
}

/** What a scope used in one hour: together, and the part that no known appliance used. */
export interface ScopeHour {
  readonly atMs: number;
  readonly microjoules: bigint;
  readonly unknown: bigint;
  readonly measuredMs: number;
  readonly gapMs: number;
}

/** A scope's hours in order, added up over its receptacles. */
export async function sumByHour(db: Db, scope: EnergyScope, fromMs: number, toMs: number): Promise<ScopeHour[]> {
  const where = stretchOf(scope, fromMs, toMs);
  const _sum = { microjoules: true, measuredMs: true, gapMs: true } as const;
  const all = await db.energyHour.groupBy({ by: ["at"], where, _sum, orderBy: { at: "asc" } });
  const nobody = await db.energyHour.groupBy({ by: ["at"], where: { ...where, applianceId: "" }, _sum: { microjoules: true } });
  const unknown = new Map(nobody.map((row) => [row.at.getTime(), row._sum.microjoules ?? 0n]));
  return all.map((row) => ({
    atMs: row.at.getTime(),
    microjoules: row._sum.microjoules ?? 0n,
    unknown: unknown.get(row.at.getTime()) ?? 0n,
    measuredMs: Number(row._sum.measuredMs ?? 0),
    gapMs: Number(row._sum.gapMs ?? 0),
  }));
}

/** By what a sum is split. */
export type EnergySplit = "unitId" | "circuitId" | "outletId" | "applianceId";

export interface SplitEnergy {
  /** The id; null or empty where none is known. */
  readonly id: string | null;
  readonly microjoules: bigint;
  readonly measuredMs: number;
  readonly gapMs: number;
}

/** A scope's energy split by one of its things. */
export async function splitEnergy(
  db: Db,
  scope: EnergyScope,
  stretch: { readonly fromMs: number; readonly toMs: number },
  by: EnergySplit,
): Promise<SplitEnergy[]> {
  const where = stretchOf(scope, stretch.fromMs, stretch.toMs);
  const rows = await db.energyHour.groupBy({ by: [by], where, _sum: { microjoules: true, measuredMs: true, gapMs: true } });
  return rows.map((row) => ({
    id: row[by],
    microjoules: row._sum.microjoules ?? 0n,
    measuredMs: Number(row._sum.measuredMs ?? 0),
    gapMs: Number(row._sum.gapMs ?? 0),
  }));
}

/** How many receptacles of a scope have readings, and how many whole hours between the first and last of each have none. */
export async function receptacleSpans(
  db: Db,
  scope: EnergyScope,
  fromMs: number,
  toMs: number,
): Promise<{ readonly receptacles: number; readonly missingHours: number }> {
  const rows = await db.energyHour.groupBy({
    by: ["outletId", "receptacle", "at"],
    where: stretchOf(scope, fromMs, toMs),
  });
  const spans = new Map<string, { first: number; last: number; hours: number }>();
  for (const { outletId, receptacle, at: hour } of rows) {
    const ms = hour.getTime();
    const span = spans.get(`${outletId} ${receptacle}`) ?? { first: ms, last: ms, hours: 0 };
    spans.set(`${outletId} ${receptacle}`, { first: Math.min(span.first, ms), last: Math.max(span.last, ms), hours: span.hours + 1 });
  }
  let missing = 0;
  for (const { first, last, hours } of spans.values()) missing += Math.max(0, Math.round((last - first) / 3_600_000) + 1 - hours);
  return { receptacles: spans.size, missingHours: missing };
}
