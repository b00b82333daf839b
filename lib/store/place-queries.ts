import type { Db } from "./client";
import type { Circuit, Outlet, Prisma, Site, Unit } from "./generated/sqlite/client";

/** Sites in reach, by name. */
export function findSites(db: Db, scope: Prisma.SiteWhereInput): Promise<Site[]> {
  return db.site.findMany({ where: { ...scope, retiredAt: null }, orderBy: { nameKey: "asc" } });
}

/** A site with all that is in it, by name. */
export async function getSitePlan(db: Db, siteId: string) {
  const [units, circuits, outlets] = await Promise.all([
    db.unit.findMany({ where: { siteId }, orderBy: { nameKey: "asc" } }),
    db.circuit.findMany({ where: { siteId }, orderBy: { nameKey: "asc" } }),
    db.outlet.findMany({ where: { siteId }, orderBy: { nameKey: "asc" } }),
  ]);
  return { units, circuits, outlets };
}
export type SitePlan = Awaited<ReturnType<typeof getSitePlan>>;

export type PlaceKind = "site" | "unit" | "circuit" | "outlet";

export const findSite = (db: Db, organisationId: string, id: string): Promise<Site | null> =>
  db.site.findFirst({ where: { id, organisationId } });
export const findUnit = (db: Db, organisationId: string, id: string): Promise<Unit | null> =>
  db.unit.findFirst({ where: { id, organisationId } });
export const findCircuit = (db: Db, organisationId: string, id: string): Promise<Circuit | null> =>
  db.circuit.findFirst({ where: { id, organisationId } });
export const findOutlet = (db: Db, organisationId: string, id: string): Promise<Outlet | null> =>
  db.outlet.findFirst({ where: { id, organisationId } });

/** The id of the place that already has this name, or null: sites and outlets within the organisation, the others within their site. */
export async function placeNamed(
  db: Db,
  kind: PlaceKind,
  name: { readonly organisationId: string; readonly siteId: string | null; readonly nameKey: string },
): Promise<string | null> {
  const { organisationId, nameKey } = name;
  const siteId = name.siteId ?? "";
  const select = { id: true } as const;
  if (kind === "site") return (await db.site.findFirst({ where: { organisationId, nameKey }, select }))?.id ?? null;
  if (kind === "outlet") return (await db.outlet.findFirst({ where: { organisationId, nameKey }, select }))?.id ?? null;
  if (kind === "unit") return (await db.unit.findFirst({ where: { organisationId, siteId, nameKey }, select }))?.id ?? null;
  return (await db.circuit.findFirst({ where: { organisationId, siteId, nameKey }, select }))?.id ?? null;
}

/** Writes a place, a new one where the id is not there yet. */
export async function saveSite(tx: Db, id: string, data: Omit<Site, "id" | "createdAt" | "retiredAt">): Promise<void> {
  await tx.site.upsert({ where: { id }, create: { id, ...data }, update: data });
}
export async function saveUnit(tx: Db, id: string, data: Omit<Unit, "id" | "createdAt">): Promise<void> {
  await tx.unit.upsert({ where: { id }, create: { id, ...data }, update: data });
}
export async function saveCircuit(tx: Db, id: string, data: Omit<Circuit, "id" | "createdAt">): Promise<void> {
  await tx.circuit.upsert({ where: { id }, create: { id, ...data }, update: data });
}
export async function saveOutlet(tx: Db, id: string, data: Omit<Outlet, "id" | "createdAt">): Promise<void> {
  await tx.outlet.upsert({ where: { id }, create: { id, ...data }, update: data });
}

/** Appliances and stays follow an outlet that is said to be in another unit: it is the same outlet. */
export async function moveOutletContents(
  tx: Db,
  outletId: string,
  to: { readonly siteId: string; readonly unitId: string | null },
): Promise<void> {
  await tx.appliance.updateMany({ where: { outletId }, data: to });
  await tx.placement.updateMany({ where: { outletId, toAt: null }, data: to });
}

const mostUnitNames = 2000;

/** Names of the units of these sites, to be offered while typing. */
export function unitNames(db: Db, siteIds: readonly string[]): Promise<{ siteId: string; name: string }[]> {
  return db.unit.findMany({
    where: { siteId: { in: [...siteIds] } },
    select: { siteId: true, name: true },
    orderBy: { nameKey: "asc" },
    take: mostUnitNames,
  });
}
