import type { Db } from "./client";

export interface NewKeptPack {
  /** Its job's id. */
  readonly id: string;
  readonly organisationId: string;
  readonly siteId: string;
  readonly day: string;
  readonly madeAt: Date;
  readonly byUserId: string | null;
  readonly head: string | null;
  readonly rows: number;
  readonly pages: number;
  readonly document: Uint8Array<ArrayBuffer>;
  readonly documentHash: string;
  readonly tables: Uint8Array<ArrayBuffer>;
  readonly tablesHash: string;
}

/** Keeps a pack in place of an earlier one of the same site and day. */
export async function keepPack(db: Db, { id, ...pack }: NewKeptPack): Promise<void> {
  await db.sitePack.upsert({ where: { id }, create: { id, ...pack }, update: pack });
}

/** The packs of a site that are kept, without their files, the latest day first. */
export function findKeptPacks(db: Db, organisationId: string, siteId: string) {
  return db.sitePack.findMany({
    where: { organisationId, siteId },
    omit: { document: true, tables: true },
    orderBy: [{ day: "desc" }, { id: "asc" }],
  });
}
export type KeptPack = Awaited<ReturnType<typeof findKeptPacks>>[number];

/** One file of a kept pack; null where none is kept. */
export async function findPackFile(db: Db, id: string, file: "document" | "tables"): Promise<Uint8Array<ArrayBuffer> | null> {
  const pack = await db.sitePack.findUnique({ where: { id }, select: { document: file === "document", tables: file === "tables" } });
  return pack?.[file] ?? null;
}

/** Removes the packs that were made before an instant; says how many. */
export async function removePacksBefore(db: Db, at: Date): Promise<number> {
  return (await db.sitePack.deleteMany({ where: { madeAt: { lt: at } } })).count;
}
