import type { PlateFacts } from "@/app/_ui/plate-facts";
import { ratingCells } from "@/lib/electrical/rating-words";
import { ratingOf } from "@/lib/registry/appliance-columns";
import type { ShownFinding } from "@/lib/registry/shown-finding";

/** The plate of a finding's appliance. */
export function plateOfFinding(appliance: NonNullable<ShownFinding["appliance"]>): PlateFacts {
  const rating = ratingOf(appliance);
  return {
    maker: appliance.brand,
    model: appliance.model,
    serial: appliance.serial,
    dateCode: appliance.dateCode,
    category: appliance.category,
    cells: ratingCells(rating),
    protectionClass: rating.protectionClass ?? appliance.protectionClass,
    notes: appliance.mark,
  };
}

/** The unit of what was seen, where a bar can be drawn for it. */
export function barUnit(unit: string): "W" | "A" | "V" | null {
  return unit === "W" || unit === "A" || unit === "V" ? unit : null;
}
