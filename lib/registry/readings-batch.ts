import { createHash } from "node:crypto";
import { Trouble } from "@/lib/access/trouble";
import { countArrivals } from "@/lib/store/batch-queries";
import type { Store } from "@/lib/store/client";
import { proveLease } from "@/lib/store/lease-queries";
import type { ArrivalAnswer, ArrivalBatch, ArrivalSource } from "./arrival-batch";
import { batchLimits, openBatch, readBody, tooLarge } from "./arrival-body";
import type { ArrivalOutlets } from "./arrival-outlets";
import type { ArrivalQueue } from "./arrival-queue";
import { readArrivedRows } from "./arrival-rows";

/** What takes readings in: the queue and the memory of what they name. One of each a process. */
export interface Arrivals {
  readonly queue: ArrivalQueue;
  readonly outlets: ArrivalOutlets;
}

export interface ReadingsBatch {
  readonly source: ArrivalSource;
  readonly body: AsyncIterable<Uint8Array>;
  /** Length that the sender announced, bytes as sent; null when it did not. */
  readonly announced?: number | null;
  readonly batchId: string | null;
  readonly now: Date;
  readonly lease?: ArrivalBatch["lease"];
}

function requireBatchId(batchId: string | null): void {
  if (batchId === null || new RegExp(`^[\\x21-\\x7e]{1,${batchLimits.longestBatchId}}$`).test(batchId)) return;
  throw new Trouble("not_valid", `A batch name has 1 to ${batchLimits.longestBatchId} visible ASCII characters without spaces.`);
}

/**
 * Takes one batch of readings of a site and answers once they are kept for good. Throws `Trouble` when nothing of it can be taken, and
 * `TooBusy` or `BatchConflict` (see `ArrivalQueue`). Whoever calls it has proved that the source may send for its site.
 */
export async function takeBatch({ queue, outlets }: Arrivals, batch: ReadingsBatch): Promise<ArrivalAnswer> {
  const { source, batchId, now, lease } = batch;
  requireBatchId(batchId);
  queue.requireRoom(source.name);
  const site = await outlets.site(source.organisationId, source.siteId, now);
  if (site === null) throw new Trouble("not_found", "The site of this key or topic is no longer in use, so nothing was taken.");
  const bytes = await readBody(batch.body, batch.announced ?? null);
  const bodyHash = createHash("sha256").update(bytes).digest("hex");
  const rows = await readArrivedRows(await openBatch(bytes), { outlets, site, mostRows: batchLimits.mostRows });
  if (rows === null) throw tooLarge();
  return queue.offer({ source, batchId, bodyHash, rows, at: now, ...(lease ? { lease } : {}) });
}

/** Counts a message that could not be read, with the reason, so that it does not vanish unseen. */
export async function noteRefused(
  db: Store,
  source: ArrivalSource,
  { problem, at, lease }: { readonly problem: string; readonly at: Date; readonly lease: NonNullable<ArrivalBatch["lease"]> },
): Promise<void> {
  const { organisationId, siteId, name } = source;
  await db.$transaction(async (tx) => {
    await proveLease(tx, lease);
    const counts = { batches: 1, accepted: 0, repeated: 0, setAside: 1 };
    await countArrivals(tx, [{ organisationId, siteId, source: name, at, ...counts, problem: problem.slice(0, 240), problemAt: at }]);
  });
}
