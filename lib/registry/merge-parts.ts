import type { Store } from "@/lib/store/client";
import type { KeptPart } from "@/lib/store/kept-log-queries";
import { type HeldLease, proveLease } from "@/lib/store/lease-queries";
import { arrivedParts, mergeParts } from "@/lib/store/part-merge-queries";
import { findStream, holdStream } from "@/lib/store/stream-queries";
import { isLiveSource } from "./arrival-batch";
import { mergeRuns } from "./merge-runs";

export interface MergeWish {
  readonly db: Store;
  readonly organisationId: string;
  readonly siteId: string;
  readonly lease: HeldLease;
  /** Parts with newer readings are left alone: late rows and repeated ones are still looked up among them. */
  readonly before: Date;
}

/** How many parts were kept, and how many are instead. */
export interface Merged {
  readonly parts: number;
  readonly into: number;
}

function byLoad(parts: readonly KeptPart[]): KeptPart[][] {
  const loads = new Map<string, KeptPart[]>();
  for (const part of parts) loads.set(part.importRunId, [...(loads.get(part.importRunId) ?? []), part]);
  return [...loads.values()];
}

/**
 * Keeps what came in small parts, one a batch, in a few large ones: what is kept, in which order, and what is judged of it stay the same.
 * Only what was followed already is touched. Use it under the site's turn.
 */
export async function mergeSiteParts({ db, organisationId, siteId, lease, before }: MergeWish): Promise<Merged> {
  const stream = await findStream(db, siteId);
  if (!stream) return { parts: 0, into: 0 };
  const followed = await arrivedParts(db, siteId, Math.min(stream.screenedPart, stream.thinnedPart));
  const live = followed.filter(({ importRunId, toAt }) => isLiveSource(importRunId) && toAt < before);
  const runs = byLoad(live).flatMap((parts) => mergeRuns(parts));
  for (const run of runs)
    await db.$transaction(async (tx) => {
      await proveLease(tx, lease);
      // Whoever takes readings in holds the stream while it looks parts up, so that none goes from under its hands.
      await holdStream(tx, organisationId, siteId);
      await mergeParts(tx, run);
    });
  return { parts: runs.reduce((sum, run) => sum + run.length, 0), into: runs.length };
}
