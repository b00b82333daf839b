import type { PlateFacts } from "@/app/_ui/plate-facts";
import { ratingCells } from "@/lib/electrical/rating-words";
import { type LabelFacts, ratingOf } from "@/lib/registry/appliance-columns";

/** The plate of stored or typed facts: the columns first, the plate's text fills what is empty. */
export function plateOf(facts: LabelFacts): PlateFacts {
  const rating = ratingOf(facts);
  return {
    maker: facts.brand,
    model: facts.model,
    serial: facts.serial,
    dateCode: facts.dateCode,
    category: facts.category,
    cells: ratingCells(rating),
    protectionClass: rating.protectionClass ?? facts.protectionClass,
    notes: facts.mark,
  };
}

/** What is drawn against the limit line: watts where the plate or the readings have them, else amps. */
export function seenAgainstAllowed(row: {
  readonly seenWatts: number | null;
  readonly seenAmps: number | null;
  readonly allowedWatts: number | null;
  readonly allowedAmps: number | null;
}): { seen: number | null; allowed: number | null; unit: "W" | "A" } {
  const inAmps = row.allowedWatts === null && row.allowedAmps !== null;
  return inAmps
    ? { seen: row.seenAmps, allowed: row.allowedAmps, unit: "A" }
    : { seen: row.seenWatts, allowed: row.allowedWatts, unit: "W" };
}
