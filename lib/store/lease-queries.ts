import type { Db, Store } from "./client";
import type { Lease } from "./generated/sqlite/client";

export type HeldLease = Pick<Lease, "name" | "owner" | "fence">;

/** The turn was taken over: whoever sees this stops and writes nothing more in its name. */
export class LeaseLost extends Error {
  override readonly name = "LeaseLost";
}

export interface LeaseWish {
  readonly name: string;
  /** Who asks; another call by the same owner lengthens its turn. */
  readonly owner: string;
  readonly now: Date;
  readonly until: Date;
  /** Whether an owner is known to be gone for good: its turn need not run out. */
  readonly isGone?: (owner: string) => boolean;
}

/**
 * Takes a turn that is free, has run out or is the owner's own; null when another has it. The fence grows each time the turn changes
 * hands, so that an owner that slept through its end is found out by `proveLease`.
 */
export async function takeLease(db: Store, { name, owner, now, until, isGone }: LeaseWish): Promise<HeldLease | null> {
  const renewed = await db.lease.updateMany({ where: { name, owner, until: { gte: now } }, data: { until } });
  if (renewed.count === 0) {
    await db.$executeRaw`INSERT INTO "Lease" ("name", "owner", "until", "fence") VALUES (${name}, ${""}, ${new Date(0)}, 0) ON CONFLICT ("name") DO NOTHING`;
    const taken = await db.lease.updateMany({ where: { name, until: { lt: now } }, data: { owner, until, fence: { increment: 1 } } });
    if (taken.count === 0 && !(await takeFromGone(db, { name, owner, until, isGone }))) return null;
  }
  const lease = await db.lease.findUnique({ where: { name } });
  return lease?.owner === owner ? { name, owner, fence: lease.fence } : null;
}

async function takeFromGone(
  db: Store,
  { name, owner, until, isGone }: Pick<LeaseWish, "name" | "owner" | "until"> & { isGone: LeaseWish["isGone"] },
) {
  const held = isGone ? await db.lease.findUnique({ where: { name } }) : null;
  if (!held || !isGone?.(held.owner)) return false;
  const { count } = await db.lease.updateMany({
    where: { name, owner: held.owner, fence: held.fence },
    data: { owner, until, fence: { increment: 1 } },
  });
  return count === 1;
}

/** Proves inside a transaction that the turn is still the owner's, and holds it until the transaction ends. Throws `LeaseLost`. */
export async function proveLease(tx: Db, { name, owner, fence }: HeldLease): Promise<void> {
  const { count } = await tx.lease.updateMany({ where: { name, owner, fence }, data: { owner } });
  if (count !== 1) throw new LeaseLost(`The turn "${name}" was taken over.`);
}

/** Gives a turn back before it runs out. */
export async function dropLease(db: Db, { name, owner, fence }: HeldLease): Promise<void> {
  await db.lease.updateMany({ where: { name, owner, fence }, data: { until: new Date(0) } });
}

/** The turns whose names begin with a text, with who has them. */
export function findLeases(db: Db, prefix: string): Promise<Lease[]> {
  return db.lease.findMany({ where: { name: { startsWith: prefix } }, orderBy: { name: "asc" } });
}
