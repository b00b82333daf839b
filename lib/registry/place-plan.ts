import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import type { Db } from "@/lib/store/client";
import { getSitePlan } from "@/lib/store/place-queries";
import type { Circuit, Outlet, Site, Unit } from "@/lib/store/rows";
import { getSite } from "./place-building";

/** What the forms of the building work on. */
export interface PlacePlan {
  readonly site: Site;
  /** The unit that is open; null shows the house's own circuits and outlets. */
  readonly unit: Unit | null;
  readonly units: readonly Unit[];
  /** Of the open unit, or of none. */
  readonly circuits: readonly Circuit[];
  readonly outlets: readonly Outlet[];
  /** All of the site, for outlets that hang on another unit's circuit. */
  readonly allCircuits: readonly Circuit[];
}

/** The site's plan narrowed to one unit, for someone who may change it. */
export async function viewPlaces(
  db: Db,
  actor: Actor,
  ask: { readonly siteId: string; readonly unitId: string | null },
): Promise<PlacePlan> {
  const site = await getSite(db, actor, ask.siteId);
  requirePermission(actor, "edit places", site.id);
  const { units, circuits, outlets } = await getSitePlan(db, site.id);
  const unit = ask.unitId === null ? null : (units.find(({ id }) => id === ask.unitId) ?? null);
  if (ask.unitId !== null && unit === null) throw new Trouble("not_found", "This unit is not at this site: choose it again.");
  const here = (row: { unitId: string | null }) => row.unitId === (unit?.id ?? null);
  return { site, unit, units, circuits: circuits.filter(here), outlets: outlets.filter(here), allCircuits: circuits };
}
