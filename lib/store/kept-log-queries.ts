import { deflateSync, inflateSync } from "node:zlib";
import type { OutletEvent, Reading } from "@/lib/watch/reading";
import type { Db } from "./client";
import { newId } from "./ids";

/** A reading as it is kept: the outlet by its id, so that renaming an outlet loses nothing. */
export type KeptReading = Omit<Reading, "outlet"> & { readonly outletId: string };

/** What is known of a part without opening it. */
export interface KeptPart {
  readonly id: string;
  readonly importRunId: string;
  /** Null where the part may hold readings of several sites. */
  readonly siteId: string | null;
  readonly number: number;
  readonly fromAt: Date;
  readonly toAt: Date;
  readonly rows: number;
}

/** What makes two readings the same reading. */
export function readingKey(row: KeptReading): string {
  const { atMs, outletId, receptacle, tag, watts, amps, volts, powerFactor, event } = row;
  return `${atMs} ${outletId} ${receptacle} ${tag} ${watts} ${amps} ${volts} ${powerFactor} ${event}`;
}

type PackedRow = [
  at: number,
  outlet: number,
  receptacle: string | null,
  tag: string | null,
  watts: number | null,
  amps: number | null,
  volts: number | null,
  powerFactor: number | null,
  event: OutletEvent | null,
  cause: string | null,
];

/** Readings as they are stored together, in their order. */
export function packReadings(readings: readonly KeptReading[]): Uint8Array<ArrayBuffer> {
  const outlets = new Map<string, number>();
  const rows = readings.map((row): PackedRow => {
    const outlet = outlets.get(row.outletId) ?? outlets.size;
    outlets.set(row.outletId, outlet);
    return [row.atMs, outlet, row.receptacle, row.tag, row.watts, row.amps, row.volts, row.powerFactor, row.event, row.cause];
  });
  return new Uint8Array(deflateSync(JSON.stringify({ outlets: [...outlets.keys()], rows }), { level: 4 }));
}

/** Readings that were stored together. */
export function unpackReadings(body: Uint8Array): KeptReading[] {
  const { outlets, rows } = JSON.parse(inflateSync(body).toString("utf8")) as { outlets: string[]; rows: PackedRow[] };
  return rows.map(([atMs, outlet, receptacle, tag, watts, amps, volts, powerFactor, event, cause]) => ({
    atMs,
    outletId: outlets[outlet] ?? "",
    receptacle,
    tag,
    watts,
    amps,
    volts,
    powerFactor,
    event,
    cause,
  }));
}

/** Readings of one load at one site, in the order in which they came, to be kept as one part. */
export interface NewPart extends Pick<KeptPart, "importRunId" | "number"> {
  readonly organisationId: string;
  readonly siteId: string;
  /** Counts the site's parts in the order in which they came. */
  readonly arrival: number;
  readonly readings: readonly KeptReading[];
}

function partRow({ readings, ...part }: NewPart) {
  let [from, to] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const { atMs } of readings) {
    if (atMs < from) from = atMs;
    if (atMs > to) to = atMs;
  }
  return { id: newId(), ...part, fromAt: new Date(from), toAt: new Date(to), rows: readings.length, body: packReadings(readings) };
}

/** Keeps parts with one statement. */
export async function insertKeptParts(tx: Db, parts: readonly NewPart[]): Promise<void> {
  if (parts.length > 0) await tx.keptLogPart.createMany({ data: parts.map(partRow) });
}

const partColumns = { id: true, importRunId: true, siteId: true, number: true, fromAt: true, toAt: true, rows: true } as const;

/** The parts of an organisation, optionally only those that touch a stretch of time. */
export async function findKeptParts(
  db: Db,
  at: {
    readonly organisationId: string;
    /** Only parts that may hold readings of this site. */
    readonly siteId?: string;
    readonly from?: Date;
    readonly to?: Date;
  },
): Promise<KeptPart[]> {
  return db.keptLogPart.findMany({
    where: {
      organisationId: at.organisationId,
      ...(at.siteId === undefined ? {} : { OR: [{ siteId: at.siteId }, { siteId: null }] }),
      ...(at.from ? { toAt: { gte: at.from } } : {}),
      ...(at.to ? { fromAt: { lte: at.to } } : {}),
    },
    select: partColumns,
    orderBy: [{ fromAt: "asc" }, { importRunId: "asc" }, { number: "asc" }],
  });
}

/** The parts that may hold readings of a site within a stretch of time; quick for a recent one, however much is kept. */
export async function findSiteParts(
  db: Db,
  {
    organisationId,
    siteId,
    from,
    to,
  }: { readonly organisationId: string; readonly siteId: string; readonly from: Date; readonly to: Date },
): Promise<KeptPart[]> {
  const touching = { organisationId, toAt: { gte: from }, fromAt: { lte: to } };
  const own = await db.keptLogPart.findMany({ where: { ...touching, siteId }, select: partColumns });
  return [...own, ...(await db.keptLogPart.findMany({ where: { ...touching, siteId: null }, select: partColumns }))];
}

/** A part of one site that came after another, with its place in the order of arrival. */
export type ArrivedPart = KeptPart & { readonly arrival: number };

/** The parts of a site that came after `arrival`, in the order in which they came. */
export async function partsSince(db: Db, siteId: string, arrival: number, take?: number): Promise<ArrivedPart[]> {
  const parts = await db.keptLogPart.findMany({
    where: { siteId, arrival: { gt: arrival } },
    select: { ...partColumns, arrival: true },
    orderBy: { arrival: "asc" },
    ...(take === undefined ? {} : { take }),
  });
  return parts.map((part) => ({ ...part, arrival: part.arrival ?? 0 }));
}

/** The part was kept together with others, or put away, since it was found. */
export class PartGone extends Error {
  override readonly name = "PartGone";
}

/** The readings of a part, in the order in which they came. Throws `PartGone`. */
export async function openKeptPart(db: Db, id: string): Promise<KeptReading[]> {
  const part = await db.keptLogPart.findUnique({ where: { id }, select: { body: true } });
  if (part === null) throw new PartGone(`Part ${id} of the kept readings is there no more.`);
  return unpackReadings(part.body);
}

const mostAttempts = 5;

/** Does work that finds parts and opens them, from the start again where one was merged with others between the two. */
export async function againIfMerged<T>(work: () => Promise<T>): Promise<T> {
  for (let attempt = 1; ; attempt++) {
    try {
      return await work();
    } catch (error) {
      if (!(error instanceof PartGone) || attempt >= mostAttempts) throw error;
    }
  }
}

/** Takes a load's set-aside rows away, before the load is done again from the start. */
export async function clearSetAside(db: Db, importRunId: string): Promise<void> {
  await db.setAsideRow.deleteMany({ where: { importRunId } });
}

/** The number of the next part of a load: a load that is done again goes on after what it kept before. */
export async function nextPartNumber(db: Db, importRunId: string): Promise<number> {
  return ((await db.keptLogPart.aggregate({ where: { importRunId }, _max: { number: true } }))._max.number ?? -1) + 1;
}

/** The instant of the oldest kept reading, of an organisation or one of its sites; null before the first load. */
export async function keptFrom(db: Db, organisationId: string, siteId?: string): Promise<Date | null> {
  const where = siteId === undefined ? { organisationId } : { organisationId, OR: [{ siteId }, { siteId: null }] };
  return (await db.keptLogPart.aggregate({ where, _min: { fromAt: true } }))._min.fromAt;
}

/** The instant of the newest reading of all loads; null before the first. */
export async function keptUntil(db: Db, organisationId: string): Promise<Date | null> {
  return (await db.keptLogPart.aggregate({ where: { organisationId }, _max: { toAt: true } }))._max.toAt;
}
