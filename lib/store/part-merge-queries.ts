import type { Db } from "./client";
import { type KeptPart, type KeptReading, openKeptPart, packReadings } from "./kept-log-queries";

/** The sites with at least `fewest` parts of live sources that came before an instant and hold few rows each. */
export async function sitesToMerge(
  db: Db,
  { before, rows, fewest }: { readonly before: Date; readonly rows: number; readonly fewest: number },
): Promise<{ organisationId: string; siteId: string }[]> {
  const live = [{ importRunId: { startsWith: "key " } }, { importRunId: { startsWith: "broker " } }];
  const groups = await db.keptLogPart.groupBy({
    by: ["organisationId", "siteId"],
    where: { siteId: { not: null }, toAt: { lt: before }, rows: { lt: rows }, OR: live },
    _count: { id: true },
  });
  return groups.flatMap(({ organisationId, siteId, _count }) =>
    siteId !== null && _count.id >= fewest ? [{ organisationId, siteId }] : [],
  );
}

/** The parts of a site that came up to a place in the order of arrival, load by load in the order of each. */
export async function arrivedParts(db: Db, siteId: string, upTo: number): Promise<(KeptPart & { readonly siteId: string })[]> {
  const columns = { id: true, importRunId: true, number: true, fromAt: true, toAt: true, rows: true } as const;
  const where = { siteId, arrival: { lte: upTo } };
  const parts = await db.keptLogPart.findMany({ where, select: columns, orderBy: [{ importRunId: "asc" }, { number: "asc" }] });
  return parts.map((part) => ({ ...part, siteId }));
}

/** Keeps neighbouring parts of one load as one, in the last one's place in both orders. Call it while the site's stream is held. */
export async function mergeParts(tx: Db, parts: readonly KeptPart[]): Promise<void> {
  const last = parts.at(-1);
  if (!last) return;
  const readings: KeptReading[] = [];
  for (const { id } of parts) for (const row of await openKeptPart(tx, id)) readings.push(row);
  const fromAt = new Date(Math.min(...parts.map((part) => part.fromAt.getTime())));
  const toAt = new Date(Math.max(...parts.map((part) => part.toAt.getTime())));
  await tx.keptLogPart.update({ where: { id: last.id }, data: { rows: readings.length, fromAt, toAt, body: packReadings(readings) } });
  const gone = parts.slice(0, -1).map(({ id }) => id);
  for (let at = 0; at < gone.length; at += 500) await tx.keptLogPart.deleteMany({ where: { id: { in: gone.slice(at, at + 500) } } });
}
