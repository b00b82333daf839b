import { createHash } from "node:crypto";
import { readSitePack, rowsOf } from "@/lib/documents/site-pack";
import { sitePackPdf } from "@/lib/documents/site-pack-pdf";
import { sitePackTables } from "@/lib/documents/site-pack-tables";
import type { Store } from "@/lib/store/client";
import { keepPack, removePacksBefore } from "@/lib/store/kept-pack-queries";
import { actorOf } from "./job-actor";
import type { JobHandle, JobWork } from "./worker";

/** The kind of job that makes the pack of a site for a day. */
export const sitePackKind = "site pack";

/** How long a finished pack is kept, days. Own choice: the same data makes it again. */
export const packDays = 30;

export interface PackPayload {
  readonly siteId: string;
  readonly day: string;
}

/** One job for a site and day, so that asking twice makes one pack. */
export function packJobId({ siteId, day }: PackPayload): string {
  return `${packJobStart(siteId)}${day}`;
}

export function packJobStart(siteId: string): string {
  return `${sitePackKind} ${siteId} `;
}

const hashOf = (bytes: Uint8Array) => createHash("sha256").update(bytes).digest("hex");

async function isStopped(handle: JobHandle, done: number, total: number): Promise<boolean> {
  await handle.advance(done, total);
  return handle.isCancelled();
}

/** Makes a pack with the rights that whoever asked has now, and keeps its files in the database. */
export const sitePackJob: JobWork = async (db, handle) => {
  const { job, clock } = handle;
  const { siteId, day } = job.payload as unknown as PackPayload;
  const now = clock();
  const pack = await readSitePack(db, await actorOf(db, job), { siteId, day, now });
  const document = await sitePackPdf(pack, (done, total) => isStopped(handle, done, total));
  if (document === null) return { message: "Stopped before it was finished; nothing of it is kept.", cancelled: true };
  const tables = sitePackTables(pack);
  const { organisationId, byUserId } = job;
  const [bytes, rows] = [new Uint8Array(document.bytes), rowsOf(pack)];
  await keepPack(db, {
    ...{ id: job.id, organisationId, siteId, day, madeAt: now, byUserId, head: pack.head?.text ?? null, rows, pages: document.pages },
    ...{ document: bytes, documentHash: hashOf(bytes), tables: new Uint8Array(tables), tablesHash: hashOf(tables) },
  });
  return { message: `${rows} rows on ${document.pages} pages.` };
};

/** Removes the packs that were kept long enough. */
export async function forgetOldPacks(db: Store, at: Date): Promise<void> {
  await removePacksBefore(db, new Date(at.getTime() - packDays * 86_400_000));
}
