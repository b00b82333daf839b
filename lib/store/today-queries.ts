import type { Db } from "./client";

/** Appliances that are not retired, at these sites or all. */
export function countAppliances(db: Db, organisationId: string, siteIds: readonly string[] | null): Promise<number> {
  const sites = siteIds === null ? {} : { siteId: { in: [...siteIds] } };
  return db.appliance.count({ where: { organisationId, state: { not: "retired" }, ...sites } });
}

/** When a recall list was last loaded; null before the first. */
export async function lastNoticeLoad(db: Db, organisationId: string): Promise<Date | null> {
  const load = await db.noticeListLoad.findFirst({ where: { organisationId }, orderBy: { loadedAt: "desc" }, select: { loadedAt: true } });
  return load?.loadedAt ?? null;
}
