import { type BulkColumn, bulkInsert } from "./bulk";
import type { Db } from "./client";
import type { DrawHour, DrawMinute } from "./generated/sqlite/client";
import { newId } from "./ids";
import { type KeptReading, packReadings } from "./kept-log-queries";
import { joinMinutes } from "./reading-queries";

export type { DrawHour };

/** How many days the organisation's readings are kept one by one; null is for good. */
export async function organisationKeepDays(db: Db, organisationId: string): Promise<number | null> {
  return (await db.readingRetention.findUnique({ where: { organisationId } }))?.keepDays ?? null;
}

export async function setOrganisationKeepDays(tx: Db, organisationId: string, keepDays: number | null): Promise<void> {
  await tx.readingRetention.upsert({ where: { organisationId }, create: { organisationId, keepDays }, update: { keepDays } });
}

/** The sites whose readings are not kept one by one for good, with their days. */
export async function findSitesToTidy(db: Db): Promise<{ siteId: string; organisationId: string; keepDays: number }[]> {
  const ofAll = new Map((await db.readingRetention.findMany()).map(({ organisationId, keepDays }) => [organisationId, keepDays]));
  const streams = await db.siteStream.findMany({
    select: { siteId: true, organisationId: true, keepDays: true },
    orderBy: { siteId: "asc" },
  });
  return streams.flatMap(({ siteId, organisationId, keepDays }) => {
    const days = keepDays ?? ofAll.get(organisationId) ?? null;
    return days === null ? [] : [{ siteId, organisationId, keepDays: days }];
  });
}

/** Whether hours of a site before an instant wait to be booked. */
export async function hasEnergyDueBefore(db: Db, siteId: string, before: Date): Promise<boolean> {
  return (await db.energyDue.findFirst({ where: { siteId, at: { lt: before } }, select: { siteId: true } })) !== null;
}

/** A part of which the first readings go: all of them, or those before `keep`. */
export interface CutPart {
  readonly id: string;
  readonly keep: readonly KeptReading[];
}

/** Takes the first readings out of parts. */
export async function cutParts(tx: Db, parts: readonly CutPart[]): Promise<void> {
  const whole = parts.filter(({ keep }) => keep.length === 0).map(({ id }) => id);
  for (let at = 0; at < whole.length; at += 500) await tx.keptLogPart.deleteMany({ where: { id: { in: whole.slice(at, at + 500) } } });
  for (const { id, keep } of parts.filter((part) => part.keep.length > 0)) {
    const times = keep.map(({ atMs }) => atMs);
    const fromAt = new Date(times.reduce((a, b) => Math.min(a, b)));
    await tx.keptLogPart.update({ where: { id }, data: { rows: keep.length, fromAt, body: packReadings(keep) } });
  }
}

const rowsAPart = 20_000;

/** Keeps readings around episodes for good. */
export async function insertEpisodeParts(
  tx: Db,
  { organisationId, siteId }: { readonly organisationId: string; readonly siteId: string },
  readings: readonly KeptReading[],
): Promise<void> {
  for (let at = 0; at < readings.length; at += rowsAPart) {
    const rows = readings.slice(at, at + rowsAPart);
    const times = rows.map(({ atMs }) => atMs);
    const span = { fromAt: new Date(times.reduce((a, b) => Math.min(a, b))), toAt: new Date(times.reduce((a, b) => Math.max(a, b))) };
    await tx.episodePart.create({ data: { id: newId(), organisationId, siteId, ...span, rows: rows.length, body: packReadings(rows) } });
  }
}

/** The instant of the oldest thinned minute of these outlets; null when there is none. */
export async function oldestMinute(db: Db, outletIds: readonly string[], before: Date): Promise<Date | null> {
  const where = { outletId: { in: [...outletIds] }, at: { lt: before } };
  return (await db.drawMinute.aggregate({ where, _min: { at: true } }))._min.at;
}

/** The thinned minutes of these outlets in a stretch of time, `to` left out. */
export function minutesOf(db: Db, outletIds: readonly string[], from: Date, to: Date): Promise<DrawMinute[]> {
  return db.drawMinute.findMany({ where: { outletId: { in: [...outletIds] }, at: { gte: from, lt: to } } });
}

const text = (name: string): BulkColumn => ({ name, type: "text" });
const real = (name: string): BulkColumn => ({ name, type: "real" });
const hourMs = 3_600_000;
const values = ["applianceId", "meanWatts", "maxWatts", "meanAmps", "meanVolts", "readings"];

/** Folds minutes into their hours, and takes the minutes away. Returns how many hours they became. */
export async function foldMinutes(tx: Db, minutes: readonly DrawMinute[]): Promise<number> {
  const hours = new Map<string, DrawHour>();
  const keyOf = (row: DrawHour) => `${row.outletId} ${row.receptacle} ${row.at.getTime()}`;
  const join = (row: DrawHour) => {
    const before = hours.get(keyOf(row));
    hours.set(keyOf(row), before ? joinMinutes(before, row) : row);
  };
  const folded = minutes.map((row) => ({ ...row, at: new Date(Math.floor(row.at.getTime() / hourMs) * hourMs) }));
  const times = [...new Set(folded.map(({ at }) => at.getTime()))].map((at) => new Date(at));
  const outletIds = [...new Set(minutes.map(({ outletId }) => outletId))];
  for (const row of folded) join(row);
  const touched = new Set(hours.keys());
  const stored = await tx.drawHour.findMany({ where: { outletId: { in: outletIds }, at: { in: times } } });
  for (const row of stored) if (touched.has(keyOf(row))) join(row);
  await bulkInsert(tx, {
    table: "DrawHour",
    columns: [
      ...["organisationId", "outletId", "receptacle"].map(text),
      { name: "at", type: "timestamp" },
      text("applianceId"),
      ...["meanWatts", "maxWatts", "meanAmps", "meanVolts"].map(real),
      { name: "readings", type: "integer" },
    ],
    rows: [...hours.values()].map((row) => [
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
    onConflict: { key: ["outletId", "receptacle", "at"], update: values },
  });
  await deleteMinutes(tx, minutes);
  return hours.size;
}

async function deleteMinutes(tx: Db, minutes: readonly DrawMinute[]): Promise<void> {
  const spots = new Map<string, DrawMinute[]>();
  for (const row of minutes) {
    const key = `${row.outletId} ${row.receptacle}`;
    const rows = spots.get(key);
    if (rows) rows.push(row);
    else spots.set(key, [row]);
  }
  for (const [first, ...more] of spots.values()) {
    if (!first) continue;
    const { outletId, receptacle } = first;
    const at = [first, ...more].map((row) => row.at);
    for (let from = 0; from < at.length; from += 500)
      await tx.drawMinute.deleteMany({ where: { outletId, receptacle, at: { in: at.slice(from, from + 500) } } });
  }
}
