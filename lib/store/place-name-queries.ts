import type { Db } from "./client";

interface Placed {
  readonly siteId: string;
  readonly unitId: string | null;
  readonly outletId: string | null;
}

/** Names of sites, units and outlets by id. */
export type PlaceNames = ReadonlyMap<string, string>;

/** The names of the places that some appliances stand at, in three queries however many there are. */
export async function findPlaceNames(db: Db, organisationId: string, placed: readonly Placed[]): Promise<PlaceNames> {
  const distinct = (ids: readonly (string | null)[]) => [...new Set(ids)].filter((id): id is string => id !== null);
  const named = (ids: string[]) => ({ where: { organisationId, id: { in: ids } }, select: { id: true, name: true } });
  const [sites, units, outlets] = await Promise.all([
    db.site.findMany(named(distinct(placed.map(({ siteId }) => siteId)))),
    db.unit.findMany(named(distinct(placed.map(({ unitId }) => unitId)))),
    db.outlet.findMany(named(distinct(placed.map(({ outletId }) => outletId)))),
  ]);
  return new Map([...sites, ...units, ...outlets].map(({ id, name }) => [id, name]));
}

/** Names of people by id. */
export async function findPersonNames(db: Db, ids: readonly (string | null)[]): Promise<ReadonlyMap<string, string>> {
  const known = [...new Set(ids)].filter((id): id is string => id !== null);
  const rows = await db.user.findMany({ where: { id: { in: known } }, select: { id: true, name: true } });
  return new Map(rows.map(({ id, name }) => [id, name]));
}
