import { randomUUID } from "node:crypto";
import { hostname } from "node:os";
import { Trouble } from "@/lib/access/trouble";
import type { Store } from "@/lib/store/client";
import { dropLease, type HeldLease, takeLease } from "@/lib/store/lease-queries";
import { isAlive } from "./import-life";

/** How a process names itself where it takes turns. */
export const turnOwner = `${hostname()} ${process.pid} ${randomUUID()}`;

/** Whether an owner was a process of this machine that is no longer there, so that nobody need wait for its turn to run out. */
export function isGoneOwner(owner: string): boolean {
  const [host, pid] = owner.split(" ");
  if (host !== hostname() || owner === turnOwner) return false;
  // Another process of our own number was before us.
  return Number(pid) === process.pid || !isAlive(Number(pid));
}

const turnMs = 30_000;
const renewMs = 10_000;
const askAgainMs = 200;
/** A site's turn is waited for this long. */
const patienceMs = 120_000;

const tails = new Map<string, Promise<unknown>>();

/** Lets the work of one process at one site take turns. */
function alone<T>(siteId: string, work: () => Promise<T>): Promise<T> {
  const turn = (tails.get(siteId) ?? Promise.resolve()).then(work, work);
  const tail = turn.catch(() => undefined).then(() => void (tails.get(siteId) === tail && tails.delete(siteId)));
  tails.set(siteId, tail);
  return turn;
}

async function waitForLease(db: Store, name: string, patience: number): Promise<HeldLease | null> {
  const end = Date.now() + patience;
  for (;;) {
    const now = new Date();
    const lease = await takeLease(db, { name, owner: turnOwner, now, until: new Date(now.getTime() + turnMs), isGone: isGoneOwner });
    if (lease || Date.now() >= end) return lease;
    await new Promise((resolve) => setTimeout(resolve, askAgainMs));
  }
}

/** The name of the turn at judging a site's readings. */
export const siteTurnName = (siteId: string) => `site ${siteId}`;

/**
 * Does work that only one process at a time may do at a site. The lease is renewed while the work goes on; whatever it writes must
 * prove the lease in the same transaction. Null when `patience` (ms) has run out before the turn came.
 */
export function takeSiteTurn<T>(
  db: Store,
  siteId: string,
  work: (lease: HeldLease) => Promise<T>,
  patience = patienceMs,
): Promise<T | null> {
  return alone(siteId, async () => {
    const lease = await waitForLease(db, siteTurnName(siteId), patience);
    if (lease === null) return null;
    const renew = () => {
      const now = new Date();
      const { name, owner } = lease;
      // A renewal that fails is no matter here: the proof in the next transaction tells.
      void takeLease(db, { name, owner, now, until: new Date(now.getTime() + turnMs) }).catch(() => undefined);
    };
    const timer = setInterval(renew, renewMs);
    try {
      return await work(lease);
    } finally {
      clearInterval(timer);
      await dropLease(db, lease);
    }
  });
}

/** The same, where the work must be done now. Throws `Trouble` when another process does not come to its end. */
export async function requireSiteTurn<T>(db: Store, siteId: string, work: (lease: HeldLease) => Promise<T>): Promise<T> {
  const box = await takeSiteTurn(db, siteId, async (lease) => ({ value: await work(lease) }));
  if (box === null) throw new Trouble("changed_meanwhile", "Another process judges this site's readings just now: try again in a minute.");
  return box.value;
}
