import { bulkInsert } from "./bulk";
import { type Db, dialectOf, rawReader } from "./client";
import type { SiteStream } from "./generated/sqlite/client";

export type { SiteStream };
/** A stream without the engine's states, which may be large. */
export type StreamPosition = Omit<SiteStream, "checkpoint" | "anchor">;

const position = {
  siteId: true,
  organisationId: true,
  lastPart: true,
  thinnedPart: true,
  screenedPart: true,
  newestAt: true,
  checkpointHash: true,
  checkpointAt: true,
  staleAt: true,
  rescreenedAt: true,
  rawFrom: true,
  keepDays: true,
} as const;

/**
 * Holds the stream of a site for the rest of the transaction and makes it where there is none: parts get their numbers one after
 * the other, however many processes take readings in. Take several in the order of their ids.
 */
export async function holdStream(tx: Db, organisationId: string, siteId: string): Promise<StreamPosition> {
  await tx.$executeRaw`INSERT INTO "SiteStream" ("siteId", "organisationId") VALUES (${siteId}, ${organisationId}) ON CONFLICT ("siteId") DO NOTHING`;
  if (dialectOf(tx) === "postgresql") await tx.$queryRaw`SELECT 1 AS "held" FROM "SiteStream" WHERE "siteId" = ${siteId} FOR UPDATE`;
  return tx.siteStream.findUniqueOrThrow({ where: { siteId }, select: position });
}

/** Holds the streams of these sites, in the order of their ids, as `holdStream` does one. */
export async function holdStreams(
  tx: Db,
  sites: readonly { readonly organisationId: string; readonly siteId: string }[],
): Promise<Map<string, StreamPosition>> {
  const text = (name: string) => ({ name, type: "text" }) as const;
  const ids = [...new Set(sites.map(({ siteId }) => siteId))].sort();
  await bulkInsert(tx, {
    table: "SiteStream",
    columns: [text("siteId"), text("organisationId")],
    rows: ids.map((id) => [id, sites.find(({ siteId }) => siteId === id)?.organisationId ?? ""]),
    onConflict: { key: ["siteId"] },
  });
  if (dialectOf(tx) === "postgresql")
    await tx.$queryRawUnsafe(`SELECT 1 AS "held" FROM "SiteStream" WHERE "siteId" = ANY($1::text[]) ORDER BY "siteId" FOR UPDATE`, ids);
  const rows = await tx.siteStream.findMany({ where: { siteId: { in: ids } }, select: position });
  return new Map(rows.map((row) => [row.siteId, row]));
}

/** Writes how far streams reach, with one statement. */
export async function advanceStreams(
  tx: Db,
  streams: readonly Pick<StreamPosition, "siteId" | "organisationId" | "lastPart" | "newestAt">[],
): Promise<void> {
  const text = (name: string) => ({ name, type: "text" }) as const;
  await bulkInsert(tx, {
    table: "SiteStream",
    columns: [text("siteId"), text("organisationId"), { name: "lastPart", type: "integer" }, { name: "newestAt", type: "timestamp" }],
    rows: streams.map(({ siteId, organisationId, lastPart, newestAt }) => [siteId, organisationId, lastPart, newestAt]),
    onConflict: { key: ["siteId"], update: ["lastPart", "newestAt"] },
  });
}

export function findStream(db: Db, siteId: string): Promise<StreamPosition | null> {
  return db.siteStream.findUnique({ where: { siteId }, select: position });
}

/** The streams of an organisation, or of all. */
export function findStreams(db: Db, organisationId: string | null): Promise<StreamPosition[]> {
  return db.siteStream.findMany({ where: organisationId === null ? {} : { organisationId }, select: position, orderBy: { siteId: "asc" } });
}

/** The stored state of a site's screening; null before the first. */
export async function findCheckpoint(db: Db, siteId: string): Promise<Uint8Array | null> {
  return (await db.siteStream.findUnique({ where: { siteId }, select: { checkpoint: true } }))?.checkpoint ?? null;
}

/** What was judged of the site's readings before those that are kept one by one; null where all are kept. */
export async function findAnchor(db: Db, siteId: string): Promise<Uint8Array | null> {
  return (await db.siteStream.findUnique({ where: { siteId }, select: { anchor: true } }))?.anchor ?? null;
}

export type StreamChange = Partial<Omit<SiteStream, "siteId" | "organisationId" | "checkpoint" | "anchor">> & {
  readonly checkpoint?: Uint8Array<ArrayBuffer> | null;
  readonly anchor?: Uint8Array<ArrayBuffer> | null;
};

export async function updateStream(tx: Db, siteId: string, change: StreamChange): Promise<void> {
  await tx.siteStream.update({ where: { siteId }, data: change });
}

/** A site whose readings wait to be judged, or to be judged anew. */
export interface WaitingStream {
  readonly siteId: string;
  readonly organisationId: string;
  readonly hasNew: boolean;
  readonly rescreenedAt: Date | null;
}

/** The sites with readings that were not judged yet, or that belong before others already judged. */
export async function findWaitingStreams(db: Db): Promise<WaitingStream[]> {
  const found = await rawReader(db).$queryRaw<{ siteId: string }[]>`
    SELECT "siteId" FROM "SiteStream" WHERE "lastPart" > "screenedPart" OR "staleAt" IS NOT NULL ORDER BY "siteId"`;
  if (found.length === 0) return [];
  const streams = await db.siteStream.findMany({
    where: { siteId: { in: found.map(({ siteId }) => siteId) } },
    select: { siteId: true, organisationId: true, lastPart: true, screenedPart: true, rescreenedAt: true },
  });
  return streams.map(({ lastPart, screenedPart, ...stream }) => ({ ...stream, hasNew: lastPart > screenedPart }));
}
