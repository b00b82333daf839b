/** One floor of an elevation, its units in the order they stand. */
export interface Floor<T> {
  /** The floor's number as its units write it, such as `7`; null for units whose names tell none. */
  readonly name: string | null;
  readonly units: readonly T[];
}

/** `0704` and `704` are the fourth of floor 7, `12-03` the third of floor 12; other names tell no floor. */
function floorOf(name: string): string | null {
  const found = /^(?:unit |apt\.? |flat )?0*(\d{1,2}?)[-.]?(\d{2})[a-z]?$/i.exec(name.trim());
  return found?.[1] && found[1] !== "" ? found[1] : null;
}

/** At least this share of the units must tell their floor for the building to be drawn as floors. Own choice, no source. */
const tellingShare = 0.8;

/** Stacks units into floors, the highest first. Where their names do not tell floors, all stand on one stretch without a number. */
export function stackFloors<T extends { readonly name: string }>(units: readonly T[]): Floor<T>[] {
  const floors = new Map<string, T[]>();
  const rest: T[] = [];
  for (const unit of units) {
    const floor = floorOf(unit.name);
    if (floor === null) rest.push(unit);
    else floors.set(floor, [...(floors.get(floor) ?? []), unit]);
  }
  const byName = (list: readonly T[]) => [...list].sort((a, b) => a.name.localeCompare(b.name, "en", { numeric: true }));
  if (units.length === 0) return [];
  if (units.length - rest.length < units.length * tellingShare) return [{ name: null, units: byName(units) }];
  const stacked = [...floors].sort(([a], [b]) => Number(b) - Number(a)).map(([name, list]) => ({ name, units: byName(list) }));
  return rest.length === 0 ? stacked : [...stacked, { name: null, units: byName(rest) }];
}
