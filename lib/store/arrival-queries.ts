import type { Db } from "./client";

/** The site of an id that is in use, with what arriving readings need of it. */
export function findSite(db: Db, organisationId: string, id: string) {
  return db.site.findFirst({
    where: { id, organisationId, retiredAt: null },
    select: { id: true, organisationId: true, name: true, nameKey: true, timeZone: true },
  });
}

/** The sites in use, of one organisation or of all, with the ids that topics name. */
export function findSites(db: Db, organisationId: string | null) {
  return db.site.findMany({
    where: { retiredAt: null, ...(organisationId === null ? {} : { organisationId }) },
    select: { id: true, organisationId: true, name: true },
    orderBy: [{ nameKey: "asc" }, { id: "asc" }],
  });
}

/** The ids of all sites of an organisation, also of those that are no longer in use. */
export async function findSitesOf(db: Db, organisationId: string): Promise<string[]> {
  return (await db.site.findMany({ where: { organisationId }, select: { id: true }, orderBy: { id: "asc" } })).map(({ id }) => id);
}
