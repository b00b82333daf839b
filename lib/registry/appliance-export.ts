import type { ListedAppliance } from "@/lib/store/appliance-list-queries";

/** One appliance as a row of a labels file; empty is unknown. */
export function exportRow({ appliance, site, unit, outlet }: ListedAppliance): (string | number | null)[] {
  const { tag, receptacle, category, brand, model, serial, made, ratedVolts, ratedHertz, ratedWatts, ratedAmps } = appliance;
  const { labelText, protectionClass, maxLampWatts, mark, upc, owner, notes, dateCode } = appliance;
  const place = [tag, site?.name, unit, outlet?.name, receptacle];
  const plate = [category, brand, model, serial, made, ratedVolts, ratedHertz, ratedWatts, ratedAmps, labelText];
  const rest = [protectionClass, maxLampWatts, mark, upc, owner, notes, dateCode];
  return [...place, ...plate, ...rest].map((value) => value ?? null);
}
