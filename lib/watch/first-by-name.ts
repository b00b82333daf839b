/** A receptacle by its names: of the outlet as the registry writes it, and its own canonical one, empty for the outlet as a whole. */
export interface NamedPlace {
  readonly outlet: string;
  readonly receptacle: string;
}

/**
 * The rule of the first by name. A tag cannot be at two places at one instant: it is taken to be at the one whose outlet's name comes
 * first, of one outlet's at the one whose receptacle's does, so that neither the screening nor the history of places depends on which
 * row came first. Names are compared by their UTF-16 units, the same on every machine. Own choice; the contradiction is counted.
 */
export function isFirstByName(one: NamedPlace, other: NamedPlace): boolean {
  return one.outlet === other.outlet ? one.receptacle < other.receptacle : one.outlet < other.outlet;
}
