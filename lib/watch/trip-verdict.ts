import { countTrips, type Trip } from "./trip";

/** What became of a trip: counted as one of a fault, or set aside. */
export type TripVerdict = "counted" | "commanded" | "supply" | "coincident";

export interface JudgedTrip {
  readonly trip: Trip;
  readonly verdict: TripVerdict;
  /** One sentence with the reason. */
  readonly why: string;
}

function neighboursOf(trip: Trip, trips: readonly Trip[], coincidenceMs: number): string[] {
  const near = trips.filter((other) => other.outlet !== trip.outlet && Math.abs(other.atMs - trip.atMs) <= coincidenceMs);
  return [...new Set(near.map(({ outlet }) => outlet))].sort();
}

function coincidenceWords(trip: Trip, { own, coincident }: ReturnType<typeof countTrips>, coincidenceMs: number): string {
  const seconds = coincidenceMs / 1000;
  const causes = neighboursOf(trip, own, coincidenceMs);
  if (causes.length > 0) return `Within ${seconds} s of the trip at ${causes.join(", ")}, which is the cause: a neighbour's fault.`;
  const others = neighboursOf(trip, coincident, coincidenceMs);
  const where = others.length === 0 ? "elsewhere" : others.length > 3 ? `at ${others.length} outlets` : `at ${others.join(", ")}`;
  return `Others tripped with it ${where}, and none shows the cause: no fault of its own.`;
}

/**
 * The trips of one site with what became of each, in time order: by the same rules by which repeated trips are counted. One sentence says
 * why a trip was set aside.
 */
export function judgeTrips(trips: readonly Trip[], coincidenceMs: number): JudgedTrip[] {
  const counted = countTrips(trips, coincidenceMs);
  const as = (verdict: TripVerdict, list: readonly Trip[], why: (trip: Trip) => string) =>
    list.map((trip): JudgedTrip => ({ trip, verdict, why: why(trip) }));
  const judged = [
    ...as("counted", counted.own, (trip) => (trip.overLimit ? "Its draw was above its own limit just before." : "A trip of its own.")),
    ...as("commanded", counted.commanded, () => "Commanded or scheduled switching: no fault."),
    ...as("supply", counted.supply, (trip) =>
      trip.cause === "supply" ? "The log says that the supply failed." : "Every outlet that reports saw the supply dip with it.",
    ),
    ...as("coincident", counted.coincident, (trip) => coincidenceWords(trip, counted, coincidenceMs)),
  ];
  const known = new Set(judged.map(({ trip }) => trip));
  const twice = trips.filter((trip) => !known.has(trip));
  const rest = as("coincident", twice, () => "The same outlet tripped more than once within seconds: counted once.");
  return [...judged, ...rest].sort((a, b) => a.trip.atMs - b.trip.atMs || (a.trip.outlet < b.trip.outlet ? -1 : 1));
}
