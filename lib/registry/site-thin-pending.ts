import { findStream } from "@/lib/store/stream-queries";
import { isLiveSource } from "./arrival-batch";
import { type FollowStep, readStep } from "./follow-step";
import { type FollowWish, moveStream } from "./follow-write";
import type { LogPlan } from "./log-plan";
import { noResults } from "./site-results";
import { type SiteThinning, storeThinned, type Thinned } from "./site-thinning";

export interface PendingThinning {
  readonly thinning: SiteThinning;
  readonly plan: LogPlan;
  /** The readings end here for now: the last sightings are told, too. */
  readonly endsSeries: boolean;
}

async function thin({ thinning, endsSeries }: PendingThinning, step: FollowStep | null, isEnd: boolean): Promise<Thinned[]> {
  const thinned: Thinned[] = [];
  for (const { part, rows } of step?.parts ?? []) thinned.push(await thinning.take(rows, isLiveSource(part.importRunId)));
  if (isEnd && endsSeries) thinned.push(thinning.end());
  return thinned;
}

/**
 * Thins what came since, before everything is judged anew: a tag seen in it may say where an appliance was. How many rows it was.
 */
export async function thinPending(wish: FollowWish, pending: PendingThinning): Promise<number> {
  const { db, actor, siteId, now } = wish;
  let total = 0;
  for (;;) {
    const stream = await findStream(db, siteId);
    if (!stream) return total;
    const step = await readStep(db, siteId, stream.thinnedPart);
    const isEnd = step === null || step.last === stream.lastPart;
    const thinned = await thin(pending, step, isEnd);
    if (thinned.length > 0)
      await moveStream(wish, stream.screenedPart, async (tx) => {
        for (const one of thinned) await storeThinned(tx, actor, one, { plan: pending.plan, now });
        return { stored: noResults, change: step === null ? {} : { thinnedPart: step.last } };
      });
    total += step?.parts.reduce((sum, { part }) => sum + part.rows, 0) ?? 0;
    if (isEnd) return total;
  }
}
