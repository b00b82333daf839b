import { ArrivalOutlets } from "@/lib/registry/arrival-outlets";
import { ArrivalQueue } from "@/lib/registry/arrival-queue";
import type { Arrivals } from "@/lib/registry/readings-batch";
import type { Store } from "@/lib/store/client";
import { SiteFollowing } from "./site-following";

const everyMs = 1_000;

/** What takes readings in and follows them, of one process. */
export interface ProcessArrivals extends Arrivals {
  readonly following: SiteFollowing;
}

/** Starts to take readings in and to follow the sites they come from. Stop the following before the database is closed. */
export function startArrivals(db: Store): ProcessArrivals {
  const onTrouble = (siteId: string, error: unknown) => console.error(`The readings of site ${siteId} could not be followed.`, error);
  const following = new SiteFollowing(db, { clock: () => new Date(), everyMs, onTrouble });
  following.start();
  return { queue: new ArrivalQueue(db), outlets: new ArrivalOutlets(db), following };
}

const shared = globalThis as typeof globalThis & { platewardenArrivals?: ProcessArrivals };

/** The process's one, started at the first call. */
export function processArrivals(db: Store): ProcessArrivals {
  shared.platewardenArrivals ??= startArrivals(db);
  return shared.platewardenArrivals;
}
