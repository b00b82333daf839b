import type { Ask } from "./candidate";

const locationWords: Readonly<Record<Ask["field"], RegExp>> = {
  brand: /brand|logo|name/i,
  model: /model|item|style|sku|catalog/i,
  serial: /serial/i,
  dateCode: /date|batch|lot|code/i,
  made: /date|manufactur|made/i,
  product: /product/i,
  upc: /upc|barcode|bar code/i,
};

/** The notice's own words on where the fact is printed: the place it gives for this fact, else the only place it gives. */
export function whereOf(field: Ask["field"], locations: readonly string[]): string | null {
  const named = locations.find((location) => locationWords[field].test(location));
  return named ?? (locations.length === 1 ? (locations[0] ?? null) : null);
}
