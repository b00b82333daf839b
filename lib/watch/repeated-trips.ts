import { grouped } from "./grouped";
import type { ScreeningPolicy } from "./policy";
import type { Trip } from "./trip";

/** To whom repeated trips belong: the appliance that they follow, the outlet, or one of the two that never parted. */
export interface RepeatedTrips {
  readonly belongsTo: "appliance" | "outlet" | "either";
  readonly tag: string | null;
  readonly outlet: string | null;
  readonly receptacle: string | null;
  readonly trips: readonly Trip[];
}

/** The longest stretch of trips that are each part of `count` within `windowMs`; null when there is none. */
function repeatedRun(trips: readonly Trip[], count: number, windowMs: number): Trip[] | null {
  const inWindow = new Set<number>();
  for (let last = count - 1; last < trips.length; last++) {
    const first = last - count + 1;
    if (trips[last]!.atMs - trips[first]!.atMs > windowMs) continue;
    for (let index = first; index <= last; index++) inWindow.add(index);
  }
  return inWindow.size === 0 ? null : trips.filter((_, index) => inWindow.has(index));
}

function oneOf<T>(values: readonly T[]): T | null {
  return new Set(values).size === 1 ? values[0]! : null;
}

function ofOutlet(outlet: string, run: readonly Trip[], count: number): RepeatedTrips {
  const tags = [...new Set(run.flatMap((trip) => trip.tag ?? []))];
  const tagged = run.filter((trip) => trip.tag !== null).length;
  const alone = tags.length === 1 && (tagged === run.length || tagged >= count);
  const receptacle = oneOf(run.map((trip) => trip.receptacle));
  return { belongsTo: alone ? "either" : "outlet", tag: alone ? tags[0]! : null, outlet, receptacle, trips: run };
}

/**
 * Trips that can have to do with each other: of one tag or at one outlet, and each within the window of the one before. What lies further
 * back is over and is not changed by what comes.
 */
function chains(trips: readonly Trip[], windowMs: number): Trip[][] {
  const chainOf = new Map<Trip, Trip[]>();
  const latest = new Map<string, Trip>();
  for (const trip of trips) {
    const names = [`outlet ${trip.outlet}`, ...(trip.tag === null ? [] : [`tag ${trip.tag}`])];
    const before = names.flatMap((name) => latest.get(name) ?? []).filter(({ atMs }) => trip.atMs - atMs <= windowMs);
    const joined = [...new Set(before.map((one) => chainOf.get(one)!))];
    const chain = [...joined.flat(), trip];
    for (const one of chain) chainOf.set(one, chain);
    for (const name of names) latest.set(name, trip);
  }
  return [...new Set(trips.map((trip) => chainOf.get(trip)!))].map((chain) => chain.toSorted((a, b) => a.atMs - b.atMs));
}

/**
 * Own trips of one site in time order, counted per appliance and per outlet: trips of one tag at several outlets belong to the appliance;
 * what is left at an outlet belongs to it, or, when only one tag tripped there, to either. Trips with a longer quiet time between them than
 * the window are told apart. In a steady order.
 */
export function repeatedTrips(own: readonly Trip[], policy: ScreeningPolicy): RepeatedTrips[] {
  return chains(own, policy.tripDays * 86_400_000).flatMap((chain) => ofChain(chain, policy));
}

function ofChain(own: readonly Trip[], policy: ScreeningPolicy): RepeatedTrips[] {
  const windowMs = policy.tripDays * 86_400_000;
  const appliances = [...grouped(own, (trip) => trip.tag)].flatMap(([tag, trips]): RepeatedTrips[] => {
    const run = repeatedRun(trips, policy.tripCount, windowMs);
    if (run === null || oneOf(run.map((trip) => trip.outlet)) !== null) return [];
    return [{ belongsTo: "appliance", tag, outlet: null, receptacle: null, trips: run }];
  });
  const explained = new Set(appliances.flatMap((found) => found.trips));
  const left = own.filter((trip) => !explained.has(trip));
  const outlets = [...grouped(left, (trip) => trip.outlet)].flatMap(([outlet, trips]): RepeatedTrips[] => {
    const run = repeatedRun(trips, policy.tripCount, windowMs);
    return run === null ? [] : [ofOutlet(outlet, run, policy.tripCount)];
  });
  return [...appliances, ...outlets];
}
