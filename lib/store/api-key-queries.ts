import type { Db } from "./client";
import type { ApiKey } from "./generated/sqlite/client";

export type { ApiKey };

export async function insertApiKey(tx: Db, key: Omit<ApiKey, "lastUsedAt" | "revokedAt">): Promise<void> {
  await tx.apiKey.create({ data: key });
}

/** The key of an id, in any state. */
export function findApiKey(db: Db, id: string): Promise<ApiKey | null> {
  return db.apiKey.findUnique({ where: { id } });
}

/** The keys of an organisation, or of some of its sites: those in use first, each lot newest first. */
export async function findApiKeys(db: Db, where: { readonly organisationId: string; readonly siteIds: readonly string[] | null }) {
  const { organisationId, siteIds } = where;
  const keys = await db.apiKey.findMany({
    where: { organisationId, ...(siteIds === null ? {} : { siteId: { in: [...siteIds] } }) },
    orderBy: [{ createdAt: "desc" }, { id: "asc" }],
  });
  return [...keys.filter(({ revokedAt }) => revokedAt === null), ...keys.filter(({ revokedAt }) => revokedAt !== null)];
}

/** Revokes a key that is in use; false when it was revoked before. */
export async function revokeStoredKey(tx: Db, id: string, at: Date): Promise<boolean> {
  return (await tx.apiKey.updateMany({ where: { id, revokedAt: null }, data: { revokedAt: at } })).count === 1;
}

/** Notes that keys were used, each at most once a minute, so that a busy key does not write its row all the time. */
export async function touchApiKeys(tx: Db, ids: readonly string[], at: Date): Promise<void> {
  const before = new Date(at.getTime() - 60_000);
  const isOld = { OR: [{ lastUsedAt: null }, { lastUsedAt: { lt: before } }] };
  if (ids.length > 0) await tx.apiKey.updateMany({ where: { id: { in: [...ids] }, ...isOld }, data: { lastUsedAt: at } });
}
