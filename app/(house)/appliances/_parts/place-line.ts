import { receptacleWords } from "@/lib/registry/place-name";
import type { PlaceNames } from "@/lib/store/appliance-view-queries";

interface PlaceIds {
  readonly siteId: string;
  readonly unitId: string | null;
  readonly outletId: string | null;
  readonly receptacle: string | null;
}

/** A place in words. `outlet`: the outlet and its receptacle, null when it has none; `within`: unit or shared area, too. */
export function placeLine({ names }: { readonly names: PlaceNames }, place: PlaceIds, how: "outlet" | "within"): string | null {
  const outlet = place.outletId === null ? undefined : names.outlets.get(place.outletId);
  const plug = outlet ? [outlet.name, receptacleWords(place.receptacle, outlet.receptacles)].filter(Boolean).join(" ") : null;
  if (how === "outlet") return plug;
  const unit = place.unitId === null ? null : (names.units.get(place.unitId) ?? null);
  const within = unit === null ? `${names.sites.get(place.siteId) ?? "site"}, shared area` : unit;
  return plug === null ? within : `${within}, ${plug}`;
}
