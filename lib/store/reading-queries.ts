import { type BulkColumn, bulkInsert, bulkUpdate } from "./bulk";
import type { Db } from "./client";
import type { DrawMinute, OutletEventRow } from "./generated/sqlite/client";

export type { DrawMinute, OutletEventRow };

const text = (name: string): BulkColumn => ({ name, type: "text" });
const real = (name: string): BulkColumn => ({ name, type: "real" });
const at: BulkColumn = { name: "at", type: "timestamp" };

const minuteColumns: readonly BulkColumn[] = [
  text("organisationId"),
  text("outletId"),
  text("receptacle"),
  at,
  text("applianceId"),
  ...["meanWatts", "maxWatts", "meanAmps", "meanVolts"].map(real),
  { name: "readings", type: "integer" },
];

const both = (a: number | null, b: number | null, join: (a: number, b: number) => number) => (a === null ? b : b === null ? a : join(a, b));

/** Two thinned rows of the same minute as one. */
export function joinMinutes(a: DrawMinute, b: DrawMinute): DrawMinute {
  const readings = a.readings + b.readings;
  const mean = (x: number, y: number) => (x * a.readings + y * b.readings) / readings;
  return {
    ...a,
    applianceId: b.applianceId ?? a.applianceId,
    meanWatts: both(a.meanWatts, b.meanWatts, mean),
    maxWatts: both(a.maxWatts, b.maxWatts, Math.max),
    meanAmps: both(a.meanAmps, b.meanAmps, mean),
    meanVolts: both(a.meanVolts, b.meanVolts, mean),
    readings,
  };
}

const minuteKey = (row: Pick<DrawMinute, "outletId" | "receptacle" | "at">) => `${row.outletId} ${row.receptacle} ${row.at.getTime()}`;

/** Stores thinned rows; a minute that another load has begun is joined with it. */
export async function addMinutes(tx: Db, rows: readonly DrawMinute[]): Promise<void> {
  if (rows.length === 0) return;
  const times = rows.map((row) => row.at.getTime());
  const stored = await tx.drawMinute.findMany({
    where: {
      outletId: { in: [...new Set(rows.map(({ outletId }) => outletId))] },
      at: { gte: new Date(times.reduce((a, b) => Math.min(a, b))), lte: new Date(times.reduce((a, b) => Math.max(a, b))) },
    },
  });
  const known = new Map(stored.map((row) => [minuteKey(row), row]));
  const joined = rows.map((row) => {
    const before = known.get(minuteKey(row));
    return before ? joinMinutes(before, row) : row;
  });
  await bulkInsert(tx, {
    table: "DrawMinute",
    columns: minuteColumns,
    rows: joined.map((row) => [
      row.organisationId,
      row.outletId,
      row.receptacle,
      row.at,
      row.applianceId,
      row.meanWatts,
      row.maxWatts,
      row.meanAmps,
      row.meanVolts,
      row.readings,
    ]),
    onConflict: {
      key: ["outletId", "receptacle", "at"],
      update: ["applianceId", "meanWatts", "maxWatts", "meanAmps", "meanVolts", "readings"],
    },
  });
}

const eventColumns: readonly BulkColumn[] = [
  text("organisationId"),
  text("outletId"),
  text("receptacle"),
  at,
  text("event"),
  text("cause"),
  text("applianceId"),
];

/** Stores events of outlets; one that is there already stays as it is. */
export async function addEvents(tx: Db, rows: readonly OutletEventRow[]): Promise<void> {
  await bulkInsert(tx, {
    table: "OutletEventRow",
    columns: eventColumns,
    rows: rows.map((row) => [row.organisationId, row.outletId, row.receptacle, row.at, row.event, row.cause, row.applianceId]),
    onConflict: { key: ["outletId", "receptacle", "at", "event"] },
  });
}

/** The largest steady draw of an appliance and when it was seen. */
export interface SeenDraw {
  readonly applianceId: string;
  readonly watts: number;
  readonly at: Date;
}

/** Writes the largest steady draws beside their appliances. */
export async function setSeenDraws(tx: Db, draws: readonly SeenDraw[]): Promise<void> {
  await bulkUpdate(tx, {
    table: "Appliance",
    columns: [text("id"), real("seenWatts"), { name: "seenAt", type: "timestamp" }],
    rows: draws.map((draw) => [draw.applianceId, draw.watts, draw.at]),
  });
}

/** Whose readings, and which stretch of time. */
export interface ReadingStretch {
  readonly organisationId: string;
  readonly applianceId?: string;
  readonly outletId?: string;
  readonly from: Date;
  readonly to: Date;
}

/** By the outlet alone, which leads a key, or by organisation and appliance, which lead another; both together would mislead the planner. */
const whoseWhere = ({ organisationId, applianceId, outletId }: Omit<ReadingStretch, "from" | "to">) =>
  outletId ? { outletId } : { organisationId, ...(applianceId ? { applianceId } : {}) };

const stretchWhere = ({ from, to, ...whose }: ReadingStretch) => ({ ...whoseWhere(whose), at: { gte: from, lte: to } });

/** Thinned readings of a stretch in time order: by the minute, and by the hour where the minutes are no longer kept. */
export async function findMinutes(db: Db, stretch: ReadingStretch): Promise<DrawMinute[]> {
  const where = stretchWhere(stretch);
  const [hours, minutes] = await Promise.all([db.drawHour.findMany({ where }), db.drawMinute.findMany({ where, orderBy: { at: "asc" } })]);
  return hours.length === 0 ? minutes : [...hours, ...minutes].sort((a, b) => a.at.getTime() - b.at.getTime());
}

/** Events of a stretch in time order. */
export async function findEvents(db: Db, stretch: ReadingStretch): Promise<OutletEventRow[]> {
  return db.outletEventRow.findMany({ where: stretchWhere(stretch), orderBy: { at: "asc" } });
}

/** The instant of the newest thinned reading of an appliance or an outlet, whose organisation the caller has checked. */
export async function lastReadingAt(db: Db, whose: Omit<ReadingStretch, "from" | "to">): Promise<Date | null> {
  return (await db.drawMinute.aggregate({ where: whoseWhere(whose), _max: { at: true } }))._max.at;
}

/** Outlets that have readings, by name. */
export async function meteredOutlets(
  db: Db,
  which: { readonly organisationId: string; readonly siteIds: readonly string[] | null; readonly words: string; readonly take: number },
): Promise<{ id: string; name: string; siteId: string }[]> {
  const { organisationId, siteIds, words, take } = which;
  const found = await db.$queryRaw<{ id: string; name: string; siteId: string }[]>`
    SELECT o."id", o."name", o."siteId" FROM "Outlet" o
    WHERE o."organisationId" = ${organisationId} AND o."nameKey" LIKE ${`%${words.replace(/[%_\\]/g, "")}%`}
      AND EXISTS (SELECT 1 FROM "DrawMinute" d WHERE d."outletId" = o."id")
    ORDER BY o."nameKey"`;
  return found.filter(({ siteId }) => siteIds === null || siteIds.includes(siteId)).slice(0, take);
}
