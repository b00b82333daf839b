/** What a log's free-text cause says of a trip. */
export type TripCause = "fault" | "commanded" | "supply" | "unknown";

/** One protective disconnection as the log shows it, with what was seen around it. */
export interface Trip {
  readonly atMs: number;
  readonly outlet: string;
  readonly receptacle: string | null;
  readonly tag: string | null;
  readonly cause: TripCause;
  /** The draw just before was above its own limit. */
  readonly overLimit: boolean;
  /** Every outlet of the site that reported within the supply time was in a dip. Settled a few seconds later. */
  followsSupply: boolean;
}

const causeWords: readonly (readonly [RegExp, TripCause])[] = [
  [/manual|by hand|remote|command|user|test button/, "commanded"],
  [/schedul|timer|program/, "commanded"],
  [/supply|outage|blackout|brownout|utility|mains|power ?(?:fail|loss)/, "supply"],
  [/overload|over ?current|ground ?fault|earth ?fault|gfci|rcd|arc|short|fault/, "fault"],
];

/** The cause of a trip in the log's words: `overload`, `ground_fault`, `arc_fault`, `manual`, `schedule`, `supply` and their like. */
export function tripCauseOf(text: string | null): TripCause {
  const words = (text ?? "").toLowerCase().replace(/[_-]+/g, " ");
  return causeWords.find(([pattern]) => pattern.test(words))?.[1] ?? "unknown";
}

export interface CountedTrips {
  /** Trips with a cause of their own, in time order. */
  readonly own: readonly Trip[];
  readonly commanded: readonly Trip[];
  readonly supply: readonly Trip[];
  /** Trips that coincide with others across the site and are not their cause. */
  readonly coincident: readonly Trip[];
}

/** Trips of one site that follow each other within `withinMs`, in groups. */
function groups(trips: readonly Trip[], withinMs: number): Trip[][] {
  const found: Trip[][] = [];
  for (const trip of trips) {
    const group = found[found.length - 1];
    const last = group?.[group.length - 1];
    if (group && last && trip.atMs - last.atMs <= withinMs) group.push(trip);
    else found.push([trip]);
  }
  return found;
}

/** The one trip of a coinciding group that caused it: the only one with a fault's words, else the only one above its limit. */
function causeOf(group: readonly Trip[]): Trip | null {
  const outlets = new Set(group.map((trip) => trip.outlet));
  if (outlets.size === 1) return group.find((trip) => trip.overLimit) ?? group.find((trip) => trip.cause === "fault") ?? group[0]!;
  for (const isEvident of [
    (trip: Trip) => trip.cause === "fault" && trip.overLimit,
    (trip: Trip) => trip.cause === "fault",
    (trip: Trip) => trip.overLimit,
  ]) {
    const evident = new Set(group.filter(isEvident).map((trip) => trip.outlet));
    if (evident.size === 1) return group.find(isEvident)!;
  }
  return null;
}

/** Sorts the trips of one site into those with a cause of their own and those set aside, by cause, supply and coincidence. */
export function countTrips(trips: readonly Trip[], coincidenceMs: number): CountedTrips {
  const sorted = [...trips].sort((a, b) => a.atMs - b.atMs || (a.outlet < b.outlet ? -1 : a.outlet > b.outlet ? 1 : 0));
  const commanded = sorted.filter((trip) => trip.cause === "commanded");
  const rest = sorted.filter((trip) => trip.cause !== "commanded");
  const isSupply = (trip: Trip) => trip.cause === "supply" || trip.followsSupply;
  const grouped = groups(
    rest.filter((trip) => !isSupply(trip)),
    coincidenceMs,
  );
  const own = grouped.flatMap((group) => causeOf(group) ?? []);
  const coincident = grouped.flatMap((group) =>
    group.filter((trip) => trip !== causeOf(group) && group.some((other) => other.outlet !== trip.outlet)),
  );
  return { own, commanded, supply: rest.filter(isSupply), coincident };
}
