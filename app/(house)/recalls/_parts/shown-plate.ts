import type { PlateFacts } from "@/app/_ui/plate-facts";
import { ratingCells } from "@/lib/electrical/rating-words";
import { ratingOf } from "@/lib/registry/appliance-columns";
import type { SeenCandidate, SeenPlace } from "@/lib/registry/review";

/** The plate of an appliance in a list or review. */
export function shownPlate(appliance: SeenCandidate["appliance"]): PlateFacts {
  const { brand, model, serial, dateCode, category, protectionClass } = appliance;
  return { maker: brand, model, serial, dateCode, category, protectionClass, cells: ratingCells(ratingOf(appliance)) };
}

/** Where it stands, in one line. */
export function placeWords({ site, unit, outlet, receptacle }: SeenPlace): string {
  const at = outlet === null ? null : `outlet ${outlet}${receptacle === null ? "" : `, receptacle ${receptacle}`}`;
  return [unit === null ? "shared area" : `unit ${unit}`, at, site].filter((part) => part !== null && part !== "").join(", ");
}
