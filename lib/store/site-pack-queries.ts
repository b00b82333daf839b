import { storedInstant } from "./bulk";
import { type Db, dialectOf, rawReader } from "./client";
import { Prisma } from "./generated/sqlite/client";
import { inParts } from "./id-parts";

const sql = Prisma.sql;

interface Span {
  readonly siteId: string;
  readonly from: Date;
  readonly to: Date;
}

/** The largest load of a circuit in a stretch of time, and by what it was kept. */
export interface CircuitPeak {
  readonly circuitId: string;
  readonly amps: number;
  readonly keptBy: "minute" | "hour";
}

async function peaksOf(db: Db, table: "DrawMinute" | "DrawHour", { siteId, from, to }: Span): Promise<Map<string, number>> {
  const bound = (at: Date) => (dialectOf(db) === "sqlite" ? storedInstant(at) : at);
  const rows = await rawReader(db).$queryRaw<{ circuitId: string; amps: number | null }[]>(sql`SELECT t."circuitId", MAX(t."amps") AS "amps"
    FROM (SELECT o."circuitId", d."at", SUM(COALESCE(d."meanAmps", d."meanWatts" / COALESCE(NULLIF(d."meanVolts", 0), NULLIF(c."volts", 0)))) AS "amps"
      FROM "Outlet" o JOIN "Circuit" c ON c."id" = o."circuitId" JOIN ${Prisma.raw(`"${table}"`)} d ON d."outletId" = o."id"
      WHERE o."siteId" = ${siteId} AND d."at" >= ${bound(from)} AND d."at" <= ${bound(to)}
      GROUP BY o."circuitId", d."at") t GROUP BY t."circuitId"`);
  return new Map(rows.flatMap(({ circuitId, amps }) => (amps === null ? [] : [[circuitId, rounded(Number(amps))] as const])));
}

/** To a microampere: a sum of fractions ends differently by the order in which a database adds them up. */
function rounded(amps: number): number {
  return Math.round(amps * 1e6) / 1e6;
}

/** The largest load of each circuit of a site in a stretch of time, amps; by the minute where minutes are kept, else by the hour. */
export async function circuitPeaks(db: Db, span: Span): Promise<CircuitPeak[]> {
  const minutes = await peaksOf(db, "DrawMinute", span);
  const hours = await peaksOf(db, "DrawHour", span);
  return [...new Set([...minutes.keys(), ...hours.keys()])].sort().map((circuitId) => {
    const amps = minutes.get(circuitId);
    return amps === undefined ? { circuitId, amps: hours.get(circuitId) ?? 0, keptBy: "hour" } : { circuitId, amps, keptBy: "minute" };
  });
}

/** Every load of a recall list by an instant, the latest first. */
export function listLoadsBy(db: Db, organisationId: string, at: Date) {
  return db.noticeListLoad.findMany({
    where: { organisationId, loadedAt: { lte: at } },
    orderBy: [{ loadedAt: "desc" }, { id: "asc" }],
  });
}
export type ListLoadRow = Awaited<ReturnType<typeof listLoadsBy>>[number];

/** Every look at a fetched list's address by an instant, the latest first, with the list's name. */
export function listChecksBy(db: Db, organisationId: string, at: Date) {
  return db.noticeSourceCheck.findMany({
    where: { organisationId, at: { lte: at } },
    select: {
      ...{ id: true, at: true, outcome: true, fileHash: true, notices: true, message: true, answeredBy: true, sourceId: true },
      source: { select: { name: true, url: true } },
    },
    orderBy: [{ at: "desc" }, { id: "asc" }],
  });
}
export type ListCheckRow = Awaited<ReturnType<typeof listChecksBy>>[number];

/** Inspections of appliances that had come in by an instant, the latest first; a correction stands in for what it corrects. */
export async function inspectionsBy(
  db: Db,
  { organisationId, ids, at }: { readonly organisationId: string; readonly ids: readonly string[]; readonly at: Date },
) {
  const select = { id: true, applianceId: true, at: true, result: true, nextDueAt: true, correctsId: true } as const;
  const rows = [];
  for (const part of inParts(ids)) {
    const where = { organisationId, applianceId: { in: [...part] }, at: { lte: at }, receivedAt: { lte: at } };
    rows.push(...(await db.inspection.findMany({ where, select, orderBy: [{ at: "desc" }, { receivedAt: "desc" }, { id: "asc" }] })));
  }
  const corrected = new Set(rows.map(({ correctsId }) => correctsId));
  return rows.filter(({ id }) => !corrected.has(id));
}
export type InspectionRow = Awaited<ReturnType<typeof inspectionsBy>>[number];

/** When an entry of the record was written. */
export async function entryTime(db: Db, organisationId: string, number: number): Promise<Date> {
  const where = { organisationId_number: { organisationId, number } };
  return (await db.recordEntry.findUniqueOrThrow({ where, select: { at: true } })).at;
}
