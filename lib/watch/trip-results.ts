import { makeResult, short } from "./make-result";
import { poissonBounds } from "./poisson-bound";
import type { ScreeningPolicy } from "./policy";
import { type RepeatedTrips, repeatedTrips } from "./repeated-trips";
import type { ScreeningResult } from "./screening-result";
import { type CountedTrips, countTrips, type Trip } from "./trip";

/** When a tag or outlet was first and last seen in the log, ms. */
export interface Service {
  readonly firstMs: number;
  readonly lastMs: number;
}

/** How a site's trips are judged: the policy, where an outlet hangs, and how long things were in service. */
export interface TripSurroundings {
  readonly site: string;
  readonly policy: ScreeningPolicy;
  readonly circuitOf: (outlet: string) => string | null;
  readonly serviceOf: (found: RepeatedTrips) => Service | null;
}

const dayMs = 86_400_000;

function belongs(found: RepeatedTrips): string {
  if (found.belongsTo === "appliance") return `The trips follow ${found.tag} from outlet to outlet, so they belong to the appliance.`;
  if (found.belongsTo === "either") {
    return `${found.tag} was the only appliance tripping at ${found.outlet} and tripped nowhere else: plug it in elsewhere and something else here; what trips next tells the appliance from the outlet.`;
  }
  const tags = [...new Set(found.trips.flatMap((trip) => trip.tag ?? []))].sort();
  return tags.length > 1
    ? `Different appliances tripped here (${tags.join(", ")}), so the trips belong to the outlet.`
    : "No single appliance is known to have tripped here each time, so the trips are the outlet's.";
}

/** From the first to the last of the trips, with the window before and after in which others would have counted with them. */
function period({ trips }: RepeatedTrips, { tripDays }: ScreeningPolicy): { readonly fromMs: number; readonly toMs: number } {
  return { fromMs: trips[0]!.atMs - tripDays * dayMs, toMs: trips[trips.length - 1]!.atMs + tripDays * dayMs };
}

/**
 * The exact Poisson bounds of the trips in the time in service, per 30 days. That time ends with the window after the last trip: when
 * nothing more has tripped by then, the trips are over, and what is said of them stands.
 */
function bounds(found: RepeatedTrips, service: Service | null, policy: ScreeningPolicy): string {
  const confidence = policy.poissonConfidence;
  const first = Math.min(service?.firstMs ?? Number.POSITIVE_INFINITY, found.trips[0]!.atMs);
  const seen = Math.max(service?.lastMs ?? 0, found.trips[found.trips.length - 1]!.atMs);
  const last = Math.min(seen, period(found, policy).toMs);
  const days = Math.max((last - first) / dayMs, 1);
  const { lower, upper } = poissonBounds(found.trips.length, confidence);
  const rate = (mean: number) => short((mean / days) * 30);
  return `${found.trips.length} trips in ${short(Math.round(days * 10) / 10)} days in service: ${rate(lower)} to ${rate(upper)} per 30 days with ${confidence * 100} % confidence (exact Poisson bounds).`;
}

function leftOut(counted: CountedTrips, found: RepeatedTrips, policy: ScreeningPolicy): string[] {
  const { fromMs, toMs } = period(found, policy);
  const isOfIt = (trip: Trip) => (found.outlet !== null ? trip.outlet === found.outlet : trip.tag === found.tag);
  const near = (trips: readonly Trip[]) => trips.filter((trip) => isOfIt(trip) && trip.atMs >= fromMs && trip.atMs <= toMs).length;
  const parts = [
    [near(counted.commanded), "commanded or scheduled"],
    [near(counted.supply), "following the supply"],
    [near(counted.coincident), "coinciding with another outlet's"],
  ] as const;
  const named = parts.filter(([count]) => count > 0).map(([count, words]) => `${count} ${words}`);
  return named.length === 0 ? [] : [`Not counted: ${named.join(", ")}.`];
}

function result(found: RepeatedTrips, counted: CountedTrips, around: TripSurroundings): ScreeningResult {
  const { policy } = around;
  const [first, last] = [found.trips[0]!, found.trips[found.trips.length - 1]!];
  const circuit = found.outlet === null ? null : around.circuitOf(found.outlet);
  const place = { site: around.site, circuit, outlet: found.outlet, receptacle: found.receptacle, tag: found.tag };
  const measure = { fromMs: first.atMs, toMs: last.atMs, value: found.trips.length, limit: policy.tripCount, unit: "trips" as const };
  return makeResult("repeated_trips", place, measure, [
    belongs(found),
    bounds(found, around.serviceOf(found), policy),
    ...leftOut(counted, found, policy),
    "Do not keep resetting it, and never fit a larger breaker or fuse; have a licensed electrician look.",
  ]);
}

/** The repeated trips of one site, each given to the appliance or the outlet they belong to. */
export function tripResults(trips: readonly Trip[], around: TripSurroundings): ScreeningResult[] {
  const counted = countTrips(trips, around.policy.coincidenceSeconds * 1000);
  return repeatedTrips(counted.own, around.policy).map((found) => result(found, counted, around));
}
