import { carryTrip } from "./episode-carriers";
import { NeutralWatch } from "./neutral-watch";
import type { OutletTable } from "./outlet-table";
import type { ScreeningPolicy } from "./policy";
import type { ScreeningResult } from "./screening-result";
import { carryList, type StateCarrier } from "./state-carrier";
import type { VoltageEpisode } from "./stretch-table";
import { SupplyEpisodes } from "./supply-episodes";
import type { Trip } from "./trip";
import { type Service, tripResults } from "./trip-results";

export interface SiteTables {
  readonly policy: ScreeningPolicy;
  readonly outlets: OutletTable;
  /** Nominal of the site's split-phase supply; null where it has no two legs. */
  readonly neutralNominal: number | null;
  readonly serviceOf: (tag: string) => Service | null;
}

/** One site: the supply that all its outlets see, and its trips. */
export class SiteState {
  /** Its outlets by number. */
  outlets = new Int32Array(0);
  /** When the next trip can be settled against the supply, ms. */
  tripDueMs = Number.POSITIVE_INFINITY;
  readonly neutral: NeutralWatch | null;
  private trips: Trip[] = [];
  private openTrips: Trip[] = [];
  private readonly supply: SupplyEpisodes;

  constructor(
    readonly name: string,
    private readonly tables: SiteTables,
  ) {
    const { neutralNominal, outlets, policy } = tables;
    const supply = new SupplyEpisodes(name, neutralNominal ?? 120);
    this.supply = supply;
    this.neutral =
      neutralNominal === null ? null : new NeutralWatch(neutralNominal, outlets, policy, (episode) => supply.addNeutral(episode));
  }

  addVoltage(episode: VoltageEpisode): void {
    this.supply.addVoltage(episode);
  }

  /**
   * The results of its supply that nothing can join any more, when nothing new begins before `horizonMs`; none while an outlet is apart,
   * whose time is another.
   */
  settleSupply(horizonMs: number): ScreeningResult[] {
    const { isApart } = this.tables.outlets;
    if (this.outlets.some((outlet) => isApart[outlet] === 1)) return [];
    return this.supply.settle(Math.min(horizonMs, this.neutral?.openSinceMs ?? Number.POSITIVE_INFINITY));
  }

  /** A trip; it is settled against the supply a few seconds later. */
  addTrip(trip: Trip): void {
    this.trips.push(trip);
    this.openTrips.push(trip);
    this.tripDueMs = Math.min(this.tripDueMs, trip.atMs + this.tables.policy.supplyTripSeconds * 1000);
  }

  /** All its trips, at the end of the log. */
  settledTrips(): readonly Trip[] {
    this.settleTrips(Number.POSITIVE_INFINITY);
    return this.trips;
  }

  /** Settles the trips whose time of waiting is over: did every outlet that reports dip within a few seconds of them? */
  settleTrips(atMs: number): void {
    const { voltsAtMs, dipAtMs } = this.tables.outlets;
    const windowMs = this.tables.policy.supplyTripSeconds * 1000;
    const due = new Set(this.openTrips.filter((trip) => atMs > trip.atMs + windowMs));
    for (const trip of due) {
      const reporting = this.outlets.filter((outlet) => voltsAtMs[outlet]! >= trip.atMs - windowMs);
      trip.followsSupply = reporting.length >= 2 && reporting.every((outlet) => dipAtMs[outlet]! >= trip.atMs - windowMs);
    }
    this.openTrips = this.openTrips.filter((trip) => !due.has(trip));
    this.tripDueMs = this.openTrips.reduce((least, trip) => Math.min(least, trip.atMs + windowMs), Number.POSITIVE_INFINITY);
  }

  /** What concerns the site as a whole, at the end of the log. */
  close(): ScreeningResult[] {
    const { policy, outlets, serviceOf } = this.tables;
    this.settleTrips(Number.POSITIVE_INFINITY);
    this.neutral?.close();
    const byName = new Map(Array.from(this.outlets, (outlet) => [outlets.plans[outlet]!.outlet, outlet] as const));
    const seen = (outlet: number | undefined): Service | null =>
      outlet === undefined ? null : { firstMs: outlets.firstMs[outlet]!, lastMs: outlets.lastMs[outlet]! };
    return [
      ...this.supply.close(),
      ...tripResults(this.trips, {
        site: this.name,
        policy,
        circuitOf: (outlet) => outlets.plans[byName.get(outlet) ?? -1]?.circuit ?? null,
        serviceOf: ({ belongsTo, tag, outlet }) =>
          belongsTo === "appliance" && tag !== null ? serviceOf(tag) : seen(byName.get(outlet ?? "")),
      }),
    ];
  }

  /** Carries its trips, the episodes of its supply, and its legs. */
  carry(state: StateCarrier): void {
    const { neutral } = this;
    state.part(neutral === null ? null : (part) => neutral.carry(part));
    const openAt = this.openTrips.map((trip) => this.trips.indexOf(trip));
    this.trips = carryList(state, this.trips, (trip) => carryTrip(state, trip));
    const open = carryList(state, openAt, (at) => state.number(at ?? 0));
    this.openTrips = open.map((at) => this.trips[at]!);
    this.supply.carry(state);
    this.tripDueMs = state.number(this.tripDueMs);
  }
}
