import type { Db } from "./client";
import type { Finding } from "./generated/sqlite/client";

export async function addWatcher(tx: Db, findingId: string, userId: string, since: Date): Promise<void> {
  await tx.findingWatcher.upsert({ where: { findingId_userId: { findingId, userId } }, create: { findingId, userId, since }, update: {} });
}

export async function removeWatcher(tx: Db, findingId: string, userId: string): Promise<void> {
  await tx.findingWatcher.deleteMany({ where: { findingId, userId } });
}

export async function watchersOf(db: Db, findingId: string): Promise<{ userId: string }[]> {
  return db.findingWatcher.findMany({ where: { findingId }, select: { userId: true }, orderBy: { since: "asc" } });
}

/** Findings of all organisations that are past their due date and were not told of as overdue for it, the longest overdue first. */
export function untoldOverdue(db: Db, at: Date, most: number): Promise<Finding[]> {
  return db.finding.findMany({
    where: {
      state: { not: "closed" },
      dueAt: { lt: at },
      OR: [{ escalatedDueAt: null }, { escalatedDueAt: { lt: db.finding.fields.dueAt } }],
    },
    orderBy: [{ dueAt: "asc" }, { id: "asc" }],
    take: most,
  });
}

/** People by id with their addresses, those who still belong to the organisation. */
export async function membersById(
  db: Db,
  organisationId: string,
  ids: readonly string[],
): Promise<{ id: string; name: string; email: string }[]> {
  const rows = await db.membership.findMany({
    where: { organisationId, userId: { in: [...ids] }, endedAt: null },
    select: { user: { select: { id: true, name: true, email: true } } },
  });
  return rows.map(({ user }) => user);
}
