import type { Actor } from "@/lib/access/actor";
import { Trouble } from "@/lib/access/trouble";
import type { Db } from "@/lib/store/client";
import { findOutlet, findSite, findUnit, placeNamed } from "@/lib/store/place-queries";
import { nameKey, receptacleKey } from "./place-name";
import type { Place } from "./placement-history";

/** A place as a form names it: the site by id, unit and outlet by name. */
export interface NamedPlace {
  readonly siteId: string;
  readonly unit: string | null;
  readonly outlet: string | null;
  readonly receptacle: string | null;
}

function refuse(field: string, sentence: string): Trouble {
  return new Trouble("not_valid", sentence, { [field]: sentence });
}

function requireReceptacle(receptacle: string | null, outlet: { name: string; receptacles: number }): void {
  const count = Number(receptacle);
  if (receptacle === null || !Number.isInteger(count)) return;
  if (count < 1 || count > outlet.receptacles) {
    throw refuse(
      "receptacle",
      `Outlet ${outlet.name} has ${outlet.receptacles} receptacles: write 1 to ${outlet.receptacles}, or its name.`,
    );
  }
}

/** Finds the place that a form names. The outlet alone says its unit; names that are not in the building are refused. */
export async function findNamedPlace(tx: Db, actor: Actor, named: NamedPlace): Promise<Place> {
  const { organisationId } = actor;
  const site = await findSite(tx, organisationId, named.siteId);
  if (!site) throw refuse("siteId", "This site is not there any more: choose another.");
  const receptacle = receptacleKey(named.receptacle);
  const unitKey = named.unit === null ? null : nameKey(named.unit);
  const unitId = unitKey === null ? null : await placeNamed(tx, "unit", { organisationId, siteId: site.id, nameKey: unitKey });
  if (unitKey !== null && unitId === null) throw refuse("unit", `${site.name} has no unit "${named.unit}": add it under Building first.`);
  if (named.outlet === null) {
    if (receptacle !== null) throw refuse("receptacle", "Name the outlet that this receptacle belongs to, or leave it empty.");
    return { siteId: site.id, unitId, outletId: null, receptacle: null };
  }
  const outletId = await placeNamed(tx, "outlet", { organisationId, siteId: site.id, nameKey: nameKey(named.outlet) });
  const outlet = outletId === null ? null : await findOutlet(tx, organisationId, outletId);
  if (!outlet || outlet.siteId !== site.id)
    throw refuse("outlet", `${site.name} has no outlet "${named.outlet}": add it under Building first.`);
  if (unitId !== null && outlet.unitId !== unitId) {
    const unit = outlet.unitId === null ? null : await findUnit(tx, organisationId, outlet.unitId);
    throw refuse("outlet", `Outlet ${outlet.name} is in ${unit ? `unit ${unit.name}` : "no unit"}, not in unit ${named.unit}.`);
  }
  requireReceptacle(receptacle, outlet);
  return { siteId: site.id, unitId: outlet.unitId, outletId: outlet.id, receptacle };
}

/** A stored place in the words of the form. */
export async function placeWords(db: Db, organisationId: string, place: Place): Promise<NamedPlace> {
  const unit = place.unitId === null ? null : await findUnit(db, organisationId, place.unitId);
  const outlet = place.outletId === null ? null : await findOutlet(db, organisationId, place.outletId);
  return { siteId: place.siteId, unit: unit?.name ?? null, outlet: outlet?.name ?? null, receptacle: place.receptacle };
}
