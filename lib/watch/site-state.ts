import { CircuitLoad } from "./circuit-load";
import { circuitResult } from "./circuit-results";
import { carryNeutralEpisode, carryTrip, carryVoltageEpisode } from "./episode-carriers";
import { type NeutralEpisode, NeutralWatch } from "./neutral-watch";
import type { PlannedOutlet } from "./outlet-plan";
import { OutletState } from "./outlet-state";
import type { ScreeningPolicy } from "./policy";
import type { ScreeningResult } from "./screening-result";
import { carryList, carryNamed, type StateCarrier } from "./state-carrier";
import { supplyResults } from "./supply-results";
import type { Trip } from "./trip";
import { type Service, tripResults } from "./trip-results";
import type { VoltageEpisode } from "./voltage-stretch";

/** Nominal of the site's outlets that the plan leaves empty: the one that most of its outlets have. */
function commonVolts(outlets: readonly PlannedOutlet[]): number | null {
  const counts = new Map<number, number>();
  for (const { volts } of outlets) if (volts !== null) counts.set(volts, (counts.get(volts) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1] || a[0] - b[0])[0]?.[0] ?? null;
}

/** One site: its circuits, the legs of its supply, and its trips. */
export class SiteState {
  readonly outlets: OutletState[] = [];
  /** When the next trip can be settled against the supply, ms. */
  tripDueMs = Number.POSITIVE_INFINITY;
  private trips: Trip[] = [];
  private openTrips: Trip[] = [];
  private voltage: VoltageEpisode[] = [];
  private neutralEpisodes: NeutralEpisode[] = [];
  private readonly neutral: NeutralWatch | null;
  private readonly neutralNominal: number;
  private readonly circuits = new Map<string, CircuitLoad>();

  constructor(
    readonly name: string,
    plans: readonly PlannedOutlet[],
    private readonly policy: ScreeningPolicy,
    private readonly report: (result: ScreeningResult) => void,
  ) {
    const common = commonVolts(plans);
    const isLow = (plan: PlannedOutlet) => (plan.volts ?? common ?? 0) > 0 && (plan.volts ?? common ?? 0) <= policy.northAmericanVolts;
    const legs = new Set(plans.filter(isLow).flatMap((plan) => plan.leg?.trim().toUpperCase() || []));
    this.neutralNominal = commonVolts(plans.filter(isLow)) ?? 120;
    this.neutral = legs.size === 2 ? new NeutralWatch(this.neutralNominal, policy, (episode) => this.neutralEpisodes.push(episode)) : null;
    for (const plan of plans) {
      const outlet = new OutletState(plan, {
        policy,
        nominalVolts: plan.volts ?? common,
        report,
        reportVoltage: (episode) => this.voltage.push(episode),
      });
      if (isLow(plan)) this.joinLeg(outlet, plan.leg);
      this.joinCircuit(outlet, plan, plans.some(isLow));
      this.outlets.push(outlet);
    }
  }

  private joinLeg(outlet: OutletState, leg: string | null): void {
    const name = leg?.trim().toUpperCase() ?? "";
    if (this.neutral === null || name === "") return;
    outlet.neutral = this.neutral;
    outlet.leg = this.neutral.join(name);
  }

  private joinCircuit(outlet: OutletState, plan: PlannedOutlet, northAmerican: boolean): void {
    if (plan.circuit === null || plan.deviceAmps === null || plan.deviceAmps <= 0) return;
    const key = `${plan.circuit}\u0000${plan.leg?.trim().toUpperCase() ?? ""}`;
    const { circuit, deviceAmps } = plan;
    const named = { site: this.name, circuit, deviceAmps, northAmerican, continuousShare: this.policy.continuousShare };
    const load =
      this.circuits.get(key) ??
      new CircuitLoad(deviceAmps, northAmerican, this.policy, (episode, continuous) =>
        this.report(circuitResult(named, episode, continuous)),
      );
    this.circuits.set(key, load);
    outlet.circuit = load;
    load.outlets.push(outlet);
  }

  /** A trip; it is settled against the supply a few seconds later. */
  addTrip(trip: Trip): void {
    this.trips.push(trip);
    this.openTrips.push(trip);
    this.tripDueMs = Math.min(this.tripDueMs, trip.atMs + this.policy.supplyTripSeconds * 1000);
  }

  /** Settles the trips whose time of waiting is over: did every outlet that reports dip within a few seconds of them? */
  settleTrips(atMs: number): void {
    const windowMs = this.policy.supplyTripSeconds * 1000;
    const due = this.openTrips.filter((trip) => atMs > trip.atMs + windowMs);
    for (const trip of due) {
      const reporting = this.outlets.filter((outlet) => outlet.voltsAtMs >= trip.atMs - windowMs);
      trip.followsSupply = reporting.length >= 2 && reporting.every((outlet) => outlet.dipAtMs >= trip.atMs - windowMs);
    }
    this.openTrips = this.openTrips.filter((trip) => !due.includes(trip));
    this.tripDueMs = this.openTrips.reduce((least, trip) => Math.min(least, trip.atMs + windowMs), Number.POSITIVE_INFINITY);
  }

  /** Carries what the log told of this site: its outlets, circuits and legs by name, its trips and the episodes of its supply. */
  carry(state: StateCarrier): void {
    const outlets = new Map(this.outlets.map((outlet) => [outlet.plan.outlet, outlet]));
    carryNamed(state, outlets);
    carryNamed(state, this.circuits);
    const { neutral } = this;
    state.part(neutral === null ? null : (part) => neutral.carry(part));
    const openAt = this.openTrips.map((trip) => this.trips.indexOf(trip));
    this.trips = carryList(state, this.trips, (trip) => carryTrip(state, trip));
    const open = carryList(state, openAt, (at) => state.number(at ?? 0));
    this.openTrips = open.map((at) => this.trips[at]!);
    this.voltage = carryList(state, this.voltage, (episode) => carryVoltageEpisode(state, episode));
    this.neutralEpisodes = carryList(state, this.neutralEpisodes, (episode) => carryNeutralEpisode(state, episode));
    this.tripDueMs = state.number(this.tripDueMs);
  }

  /** Ends everything at the end of the log and reports what concerns the site. `serviceOf` knows the appliances. */
  close(atMs: number, serviceOf: (tag: string) => Service | null): void {
    this.settleTrips(Number.POSITIVE_INFINITY);
    for (const outlet of this.outlets) outlet.close(atMs);
    for (const circuit of this.circuits.values()) circuit.close(atMs);
    this.neutral?.close();
    const byName = new Map(this.outlets.map((outlet) => [outlet.plan.outlet, outlet]));
    const found = [
      ...supplyResults(this.name, { voltage: this.voltage, neutral: this.neutralEpisodes, neutralNominal: this.neutralNominal }),
      ...tripResults(this.trips, {
        site: this.name,
        policy: this.policy,
        circuitOf: (outlet) => byName.get(outlet)?.plan.circuit ?? null,
        serviceOf: ({ belongsTo, tag, outlet }) =>
          belongsTo === "appliance" && tag !== null ? serviceOf(tag) : (byName.get(outlet ?? "") ?? null),
      }),
    ];
    for (const result of found) this.report(result);
  }
}
