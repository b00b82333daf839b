import type { Actor } from "@/lib/access/actor";
import type { Db, Store } from "@/lib/store/client";
import { type HeldLease, LeaseLost, proveLease } from "@/lib/store/lease-queries";
import { holdStream, type StreamChange, updateStream } from "@/lib/store/stream-queries";
import type { ResultAccount } from "./site-results";

export interface FollowWish {
  readonly db: Store;
  readonly actor: Actor;
  readonly siteId: string;
  readonly lease: HeldLease;
  readonly now: Date;
}

/** What a transaction of a site's stream stored, and how it moves the stream. */
export interface FollowWritten {
  readonly stored: ResultAccount;
  readonly change: StreamChange;
}

/** One transaction of the site's stream, which nobody else may have moved on from `from` meanwhile. Throws `LeaseLost`. */
export function moveStream(
  { db, actor, siteId, lease }: FollowWish,
  from: number,
  work: (tx: Db) => Promise<FollowWritten>,
): Promise<ResultAccount> {
  return db.$transaction(async (tx) => {
    await proveLease(tx, lease);
    const stream = await holdStream(tx, actor.organisationId, siteId);
    if (stream.screenedPart !== from) throw new LeaseLost(`The readings of site ${siteId} were judged by another process meanwhile.`);
    const { stored, change } = await work(tx);
    await updateStream(tx, siteId, change);
    return stored;
  });
}
