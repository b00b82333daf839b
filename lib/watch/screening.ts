import { unreadRating } from "@/lib/electrical/unread-rating";
import { tagKey } from "@/lib/identity/tag-code";
import type { PlannedOutlet } from "./outlet-plan";
import type { OutletState } from "./outlet-state";
import { type ScreeningPolicy, screeningPolicy } from "./policy";
import type { Reading } from "./reading";
import { ApplianceState, type ReceptacleState } from "./receptacle-state";
import { carryResult } from "./result-carrier";
import { compareResults } from "./result-order";
import { type Place, RowOrder, type Socket } from "./row-order";
import type { ScreenedAppliance } from "./screened-appliance";
import type { ScreeningResult } from "./screening-result";
import type { SetAsideReason } from "./set-aside";
import { SiteState } from "./site-state";
import { carryList, carryNamed, type StateCarrier, StateReader, StateWriter } from "./state-carrier";
import { tripCauseOf } from "./trip";

/** Rows taken, judged and set aside by reason; read = judged + all set aside. */
export interface ScreeningCounts {
  readonly read: number;
  readonly judged: number;
  readonly setAside: Readonly<Record<string, number>>;
  /** Rows of outlets that ran behind the rest of the log: judged by themselves, not with their circuit and legs. */
  readonly apart: number;
}

/** Results drained from a screening that goes on. */
export interface TakenResults {
  /** Over for good; each is given once. */
  readonly settled: ScreeningResult[];
  /**
   * What more would be found if the log ended now: excesses that go on or may still be joined, repeated trips, and the supply. All of
   * them each time; the same one is known again by `resultIdentity`, and one that is missing next time is not shown any more or settled.
   */
  readonly open: ScreeningResult[];
}

export interface Screening {
  /** Takes one row, in any order within 60 s. */
  take(reading: Reading): void;
  /** Counts a row that its reader set aside. */
  takeSetAside(reason: string): void;
  /** What was found since it was last asked, see `TakenResults`. */
  takeResults(): TakenResults;
  /**
   * Everything that the screening knows, to go on from in another process by `makeScreening({..., state})`: also the rows that wait
   * within 60 s, and results that were not taken yet. The screening itself goes on untouched.
   */
  saveState(): Uint8Array;
  /** Judges what is still waiting and gives everything found and not taken yet, in a steady order. Call once, at the end. */
  finish(): { readonly results: ScreeningResult[]; readonly counts: ScreeningCounts };
}

export interface ScreeningInput {
  readonly outlets: readonly PlannedOutlet[];
  readonly appliances: readonly ScreenedAppliance[];
  readonly policy?: Partial<ScreeningPolicy>;
  /**
   * A kept state to go on from. Plan and appliances may have changed since: what is gone is dropped, what is new starts afresh, an
   * appliance recorded elsewhere since is where it is recorded now. Throws `UnreadableState` when the bytes are of another version or none.
   */
  readonly state?: Uint8Array | undefined;
}

function measured(value: number | null): SetAsideReason | null {
  if (value === null || value >= 0) return value === Number.POSITIVE_INFINITY ? "not_finite" : null;
  return value < 0 && value !== Number.NEGATIVE_INFINITY ? "negative" : "not_finite";
}

function faulty(reading: Reading): SetAsideReason | null {
  if (!Number.isFinite(reading.atMs)) return "no_time";
  return measured(reading.watts) ?? measured(reading.amps) ?? measured(reading.volts) ?? measured(reading.powerFactor);
}

function sameRow(a: Reading, b: Reading): boolean {
  return (
    a.atMs === b.atMs &&
    a.watts === b.watts &&
    a.amps === b.amps &&
    a.volts === b.volts &&
    a.event === b.event &&
    a.powerFactor === b.powerFactor &&
    a.tag === b.tag
  );
}

/** The screening itself, see `makeScreening`. */
class Engine implements Screening {
  private results: ScreeningResult[] = [];
  private readonly setAside: Record<string, number> = {};
  private readonly sites: SiteState[] = [];
  private readonly places = new Map<string, Place>();
  private readonly appliances = new Map<string, ApplianceState>();
  /** The appliance recorded at an outlet; null where several are. */
  private readonly recorded = new Map<OutletState, ApplianceState | null>();
  private readonly untagged: ApplianceState[] = [];
  private readonly byTagText = new Map<string, ApplianceState>();
  private readonly order: RowOrder;
  private read = 0;
  private judged = 0;
  private apart = 0;
  private latestMs = Number.NEGATIVE_INFINITY;

  constructor(
    private readonly input: ScreeningInput,
    private readonly policy: ScreeningPolicy,
  ) {
    this.order = new RowOrder(
      policy,
      (reading, socket) => this.judge(reading, socket),
      (reason) => this.count(reason),
    );
    const bySite = new Map<string, PlannedOutlet[]>();
    for (const plan of input.outlets) {
      const plans = bySite.get(plan.site);
      if (plans === undefined) bySite.set(plan.site, [plan]);
      else plans.push(plan);
    }
    for (const [name, plans] of bySite) this.addSite(name, plans);
    for (const appliance of input.appliances) this.addAppliance(appliance);
    if (input.state !== undefined) this.carry(new StateReader(input.state));
  }

  private addSite(name: string, plans: readonly PlannedOutlet[]): void {
    const site = new SiteState(name, plans, this.policy, (result) => this.results.push(result));
    this.sites.push(site);
    for (const outlet of site.outlets)
      if (!this.places.has(outlet.plan.outlet)) this.places.set(outlet.plan.outlet, { outlet, site, sockets: new Map(), lane: null });
  }

  private addAppliance(screened: ScreenedAppliance): void {
    const state = new ApplianceState(screened);
    if (screened.tag !== "") this.appliances.set(tagKey(screened.tag), state);
    else this.untagged.push(state);
    const outlet = this.plugRecorded(state, Number.NEGATIVE_INFINITY);
    if (outlet !== null) this.recorded.set(outlet, this.recorded.has(outlet) ? null : state);
  }

  /** Plugs an appliance in where it is recorded to be; that outlet, null when it is in no plan. */
  private plugRecorded(appliance: ApplianceState, atMs: number): OutletState | null {
    const { outlet, receptacle } = appliance.screened;
    const place = outlet === null ? undefined : this.places.get(outlet);
    place?.outlet.receptacle(receptacle).plug(appliance, atMs);
    return place?.outlet ?? null;
  }

  /**
   * The only appliance recorded at an outlet, where the record or the log names no receptacle: it is taken to be the one that
   * draws, until a tag says otherwise.
   */
  private plugOnlyRecorded(outlet: OutletState, receptacle: ReceptacleState, atMs: number): void {
    const only = this.recorded.get(outlet);
    const at = only?.receptacle ?? null;
    if (!only || at === null || at === receptacle || !at.isUntouched || (at.name !== "" && receptacle.name !== "")) return;
    receptacle.plug(only, atMs);
    receptacle.tagSeenMs = Number.NEGATIVE_INFINITY;
  }

  private count(reason: string): void {
    this.setAside[reason] = (this.setAside[reason] ?? 0) + 1;
  }

  takeSetAside(reason: string): void {
    this.read++;
    this.count(reason);
  }

  take(reading: Reading): void {
    this.read++;
    const place = this.places.get(reading.outlet);
    if (place === undefined) {
      this.count("unknown_outlet");
      return;
    }
    const fault = faulty(reading);
    if (fault !== null) {
      this.count(fault);
      return;
    }
    this.order.take(reading, place);
  }

  /** The appliance of a tag; one that is not in the registry is followed too, but has no rating to be judged by. */
  private applianceOf(tag: string): ApplianceState {
    const known = this.byTagText.get(tag);
    if (known !== undefined) return known;
    const stranger = { tag, site: null, outlet: null, receptacle: null, category: null, rating: unreadRating };
    const found = this.appliances.get(tagKey(tag)) ?? new ApplianceState(stranger);
    this.appliances.set(tagKey(tag), found);
    this.byTagText.set(tag, found);
    return found;
  }

  private judge(reading: Reading, { place, receptacle }: Socket): void {
    const { atMs } = reading;
    if (atMs <= receptacle.lastAtMs) {
      if (atMs < receptacle.lastAtMs) {
        this.count("late");
        return;
      }
      if (receptacle.lastReading !== null && sameRow(reading, receptacle.lastReading)) {
        this.count("repeated");
        return;
      }
    }
    if (receptacle.appliance === null && receptacle.isUntouched) this.plugOnlyRecorded(place.outlet, receptacle, atMs);
    receptacle.lastAtMs = atMs;
    receptacle.lastReading = reading;
    this.judged++;
    if (atMs > this.latestMs) this.latestMs = atMs;
    const { outlet, site } = place;
    if (outlet.apart) this.apart++;
    if (atMs > site.tripDueMs) site.settleTrips(atMs);
    if (outlet.firstMs > atMs) outlet.firstMs = atMs;
    outlet.lastMs = atMs;
    if (reading.tag !== null) this.seeTag(receptacle, reading.tag, atMs);
    if (reading.volts !== null) outlet.watchVolts(atMs, reading.volts);
    if (reading.event !== null && this.takeEvent(place, receptacle, reading)) {
      outlet.addUp(atMs);
      return;
    }
    this.measure(outlet, receptacle, reading);
  }

  private measure(outlet: OutletState, receptacle: ReceptacleState, reading: Reading): void {
    const amps = outlet.ampsOf(reading);
    if (!Number.isNaN(amps)) {
      receptacle.amps = amps;
      receptacle.readAtMs = reading.atMs;
      outlet.addUp(reading.atMs);
    }
    if (reading.watts !== null || reading.amps !== null) receptacle.judge(reading);
  }

  private seeTag(receptacle: ReceptacleState, tag: string, atMs: number): void {
    receptacle.tagSeenMs = atMs;
    if (receptacle.tagSeen === tag) return;
    receptacle.tagSeen = tag;
    receptacle.plug(this.applianceOf(tag), atMs);
  }

  /** What an event does; true when it ended the draw. */
  private takeEvent(place: Place, receptacle: ReceptacleState, reading: Reading): boolean {
    const { event, atMs } = reading;
    if (event !== "trip" && event !== "off" && event !== "unplugged") return false;
    if (event === "trip") {
      place.site.addTrip({
        atMs,
        outlet: reading.outlet,
        receptacle: receptacle.name === "" ? null : receptacle.name,
        tag: this.tagOfTrip(place.outlet, receptacle, atMs),
        cause: tripCauseOf(reading.cause),
        overLimit: place.outlet.isAbove(receptacle),
        followsSupply: false,
      });
    }
    for (const ended of receptacle.name === "" ? place.outlet.receptacles : [receptacle]) ended.drawEnds(atMs);
    if (event === "unplugged") {
      receptacle.unplug(atMs);
      receptacle.tagSeen = null;
      receptacle.tagSeenMs = Number.POSITIVE_INFINITY;
    }
    return true;
  }

  /** A trip of a whole outlet is the trip of the only tag that is plugged in there; of several it is nobody's. */
  private tagOfTrip(outlet: OutletState, receptacle: ReceptacleState, atMs: number): string | null {
    const own = this.tagAt(receptacle, atMs);
    if (own !== null || receptacle.name !== "") return own;
    const tags = new Set(outlet.receptacles.flatMap((other) => this.tagAt(other, atMs) ?? []));
    return tags.size === 1 ? [...tags][0]! : null;
  }

  /** The tag of a receptacle: the one last seen there within a day; before any was seen, the appliance that the registry has there. */
  private tagAt(receptacle: ReceptacleState, atMs: number): string | null {
    if (receptacle.tagSeen !== null)
      return atMs - receptacle.tagSeenMs <= this.policy.tagMemoryHours * 3_600_000 ? receptacle.tagSeen : null;
    return receptacle.tagSeenMs === Number.NEGATIVE_INFINITY ? (receptacle.appliance?.screened.tag ?? null) : null;
  }

  /** Every appliance by its key: the tag's, and for one without a tag its number among those. */
  private keyedAppliances(): Map<string, ApplianceState> {
    return new Map([...this.appliances, ...this.untagged.map((appliance, at) => [`\u0000${at}`, appliance] as const)]);
  }

  private carryAppliances(state: StateCarrier): void {
    const keyed = this.keyedAppliances();
    if (state.isReading) for (const appliance of keyed.values()) appliance.receptacle?.takeOut();
    const kept = carryList(state, [...keyed], (entry) => {
      const key = state.text(entry?.[0] ?? "") ?? "";
      const tag = state.text(entry?.[1].screened.tag ?? "") ?? "";
      const appliance = entry?.[1] ?? keyed.get(key) ?? (tag === "" ? null : this.applianceOf(tag));
      state.part(appliance === null ? null : (part) => this.carryAppliance(part, appliance));
      return appliance;
    });
    if (!state.isReading) return;
    const known = new Set(kept);
    for (const appliance of keyed.values()) if (!known.has(appliance)) this.plugRecorded(appliance, this.latestMs);
  }

  private carryAppliance(state: StateCarrier, appliance: ApplianceState): void {
    const { screened } = appliance;
    appliance.firstMs = state.number(appliance.firstMs);
    appliance.lastMs = state.number(appliance.lastMs);
    const recorded = [state.text(screened.outlet), state.text(screened.receptacle)];
    const at = this.carryPlace(state, appliance.receptacle);
    const last = this.carryPlace(state, appliance.lastReceptacle);
    appliance.lastReceptacle = last;
    if (state.isReading) {
      if (recorded[0] === screened.outlet && recorded[1] === screened.receptacle) at?.putBack(appliance);
      else this.plugRecorded(appliance, this.latestMs);
    }
    last?.carryDrift(appliance, state);
  }

  private carryPlace(state: StateCarrier, receptacle: ReceptacleState | null): ReceptacleState | null {
    const outlet = state.text(receptacle?.outlet.plan.outlet ?? null);
    const name = state.text(receptacle?.name ?? null);
    const place = outlet === null ? undefined : this.places.get(outlet);
    if (place === undefined) return null;
    return state.isReading ? place.outlet.named(name ?? "") : receptacle;
  }

  saveState(): Uint8Array {
    const state = new StateWriter();
    this.carry(state);
    return state.finish();
  }

  takeResults(): TakenResults {
    const settled = this.results.sort(compareResults);
    this.results = [];
    const { results: open } = new Engine({ ...this.input, state: this.saveState() }, this.policy).finish();
    return { settled, open };
  }

  /** Carries everything the log told; the plan and the appliances are known from the input. */
  private carry(state: StateCarrier): void {
    this.read = state.number(this.read);
    this.judged = state.number(this.judged);
    this.apart = state.number(this.apart);
    this.latestMs = state.number(this.latestMs);
    carryList(state, Object.keys(this.setAside), (reason) => {
      const name = state.text(reason) ?? "";
      this.setAside[name] = state.number(this.setAside[name] ?? 0);
      return name;
    });
    this.results = carryList(state, this.results, (result) => carryResult(state, result));
    carryNamed(state, new Map(this.sites.map((site) => [site.name, site])));
    this.carryAppliances(state);
    this.order.carry(state, this.places);
  }

  finish(): { results: ScreeningResult[]; counts: ScreeningCounts } {
    this.order.finish();
    const end = this.latestMs + this.policy.holdSeconds * 1000;
    for (const site of this.sites) site.close(end, (tag) => this.appliances.get(tagKey(tag)) ?? null);
    for (const appliance of [...this.appliances.values(), ...this.untagged]) appliance.drift?.close();
    const counts = { read: this.read, judged: this.judged, setAside: this.setAside, apart: this.apart };
    return { results: this.results.sort(compareResults), counts };
  }
}

/**
 * Makes a screening of one log, which may be that of one site: everything judged across outlets (circuits, dips of the supply, trips
 * that coincide or follow a tag, a lost neutral) stays within a site, so outlets of one site must stay together and different sites may
 * be screened apart, each with its own state. What screening apart gives up: a tag that moves to another site is not followed there, and
 * a clock is compared with those of its own site. Rows are taken one by one and judged in time order, in one pass, with a constant state per
 * receptacle besides the reorder window. All kinds of result are judged; the meaning of each is in the policy and its files.
 */
export function makeScreening(input: ScreeningInput): Screening {
  return new Engine(input, { ...screeningPolicy, ...input.policy });
}
