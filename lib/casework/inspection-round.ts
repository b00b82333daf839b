/** Where an appliance stands, in names. */
export interface RoundPlace {
  readonly site: string;
  /** Null is a shared area. */
  readonly unit: string | null;
  readonly outlet: string | null;
  readonly receptacle: string | null;
  readonly tag: string;
}

/** Numbers within names count as numbers, so that unit 2 comes before unit 10. */
const natural = new Intl.Collator("en", { numeric: true, sensitivity: "base" });

/** What is not known comes after what is: whoever walks looks for it last. */
function compareNames(a: string | null, b: string | null): number {
  if (a === null || b === null) return Number(a === null) - Number(b === null);
  return natural.compare(a, b);
}

/** `0704` and `704` stand on floor 7, `12-03` on floor 12; other names tell no floor and come after. */
function floorNumber(unit: string | null): number {
  const found = /^(?:unit |apt\.? |flat )?0*(\d{1,2}?)[-.]?(\d{2})[a-z]?$/i.exec(unit?.trim() ?? "");
  return found?.[1] ? Number(found[1]) : Number.POSITIVE_INFINITY;
}

function compareFloors(a: string | null, b: string | null): number {
  const [one, other] = [floorNumber(a), floorNumber(b)];
  return one === other ? 0 : one < other ? -1 : 1;
}

/**
 * The order in which a round is walked: site by site, floor by floor from the lowest, unit by unit in the natural order of their names
 * (shared areas last), outlet by outlet. Own choice, no source.
 */
export function compareStops(a: RoundPlace, b: RoundPlace): number {
  return (
    natural.compare(a.site, b.site) ||
    compareFloors(a.unit, b.unit) ||
    compareNames(a.unit, b.unit) ||
    compareNames(a.outlet, b.outlet) ||
    compareNames(a.receptacle, b.receptacle) ||
    natural.compare(a.tag, b.tag)
  );
}
