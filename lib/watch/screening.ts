import { tagKey } from "@/lib/identity/tag-code";
import type { PlannedOutlet } from "./outlet-plan";
import type { OutletState } from "./outlet-state";
import { type ScreeningPolicy, screeningPolicy } from "./policy";
import type { Reading } from "./reading";
import { ApplianceState, type ReceptacleState } from "./receptacle-state";
import { ReorderWindow } from "./reorder-window";
import { compareResults } from "./result-order";
import type { ScreenedAppliance } from "./screened-appliance";
import type { ScreeningResult } from "./screening-result";
import type { SetAsideReason } from "./set-aside";
import { SiteState } from "./site-state";
import { tripCauseOf } from "./trip";

/** Rows taken, judged and set aside by reason; read = judged + all set aside. */
export interface ScreeningCounts {
  readonly read: number;
  readonly judged: number;
  readonly setAside: Readonly<Record<string, number>>;
  /** Rows of outlets that ran behind the rest of the log: judged by themselves, not with their circuit and legs. */
  readonly apart: number;
}

export interface Screening {
  /** Takes one row, in any order within 60 s. */
  take(reading: Reading): void;
  /** Counts a row that its reader set aside. */
  takeSetAside(reason: string): void;
  /** Judges what is still waiting and gives everything found, in a steady order. Call once. */
  finish(): { readonly results: ScreeningResult[]; readonly counts: ScreeningCounts };
}

export interface ScreeningInput {
  readonly outlets: readonly PlannedOutlet[];
  readonly appliances: readonly ScreenedAppliance[];
  readonly policy?: Partial<ScreeningPolicy>;
}

/** A receptacle with where it is; the owner of its rows. */
interface Socket {
  readonly place: Place;
  readonly receptacle: ReceptacleState;
}

/** The window in which rows wait, each with the receptacle it is of. */
type Lane = ReorderWindow<Reading, Socket>;

/** An outlet, its site, and the window its rows wait in. */
interface Place {
  readonly outlet: OutletState;
  readonly site: SiteState;
  /** By the receptacle's text as it stands in the rows. */
  readonly sockets: Map<string | null, Socket>;
  lane: Lane;
}

function socketOf(place: Place, receptacle: string | null): Socket {
  const known = place.sockets.get(receptacle);
  if (known !== undefined) return known;
  const socket = { place, receptacle: place.outlet.receptacle(receptacle) };
  if (place.sockets.size < 64) place.sockets.set(receptacle, socket);
  return socket;
}

/** How many rows far ahead of the rest are needed to believe that time went on. */
const believedRows = 3;

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
  private readonly results: ScreeningResult[] = [];
  private readonly setAside: Record<string, number> = {};
  private readonly sites: SiteState[] = [];
  private readonly places = new Map<string, Place>();
  private readonly appliances = new Map<string, ApplianceState>();
  private readonly byTagText = new Map<string, ApplianceState | null>();
  private readonly main: Lane;
  private readonly lanes: Lane[];
  private ahead: { readonly reading: Reading; readonly place: Place }[] = [];
  private read = 0;
  private judged = 0;
  private apart = 0;
  private latestMs = Number.NEGATIVE_INFINITY;
  private readonly reorderMs: number;
  private readonly stepMs: number;

  constructor(
    input: ScreeningInput,
    private readonly policy: ScreeningPolicy,
  ) {
    this.reorderMs = policy.reorderSeconds * 1000;
    this.stepMs = policy.clockStepSeconds * 1000;
    this.main = this.makeLane();
    this.lanes = [this.main];
    const bySite = new Map<string, PlannedOutlet[]>();
    for (const plan of input.outlets) bySite.set(plan.site, [...(bySite.get(plan.site) ?? []), plan]);
    for (const [name, plans] of bySite) this.addSite(name, plans);
    for (const appliance of input.appliances) this.addAppliance(appliance);
  }

  private makeLane(): Lane {
    return new ReorderWindow(this.reorderMs, (reading, socket) => this.judge(reading, socket));
  }

  private addSite(name: string, plans: readonly PlannedOutlet[]): void {
    const site = new SiteState(name, plans, this.policy, (result) => this.results.push(result));
    this.sites.push(site);
    for (const outlet of site.outlets)
      if (!this.places.has(outlet.plan.outlet)) this.places.set(outlet.plan.outlet, { outlet, site, sockets: new Map(), lane: this.main });
  }

  private addAppliance(screened: ScreenedAppliance): void {
    const state = new ApplianceState(screened);
    this.appliances.set(tagKey(screened.tag), state);
    const outlet = screened.outlet === null ? undefined : this.places.get(screened.outlet)?.outlet;
    if (outlet !== undefined) outlet.receptacle(screened.receptacle).plug(state, Number.NEGATIVE_INFINITY);
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
    const { outlet } = place;
    const { atMs } = reading;
    if (outlet.apart && atMs >= this.main.newest - this.reorderMs) this.rejoin(place);
    const { lane } = place;
    if (atMs - lane.newest > this.stepMs && lane.newest > Number.NEGATIVE_INFINITY && lane === this.main) {
      this.wait(reading, place);
      return;
    }
    if (this.ahead.length > 0 && lane === this.main) this.forgetAhead();
    if (atMs < lane.newest - this.reorderMs) {
      this.takeBehind(reading, place);
      return;
    }
    if (atMs > outlet.newestMs) outlet.newestMs = atMs;
    lane.push(atMs, reading, socketOf(place, reading.receptacle));
  }

  /** A row far ahead of the log is believed once others follow it there before any row of the old time comes. */
  private wait(reading: Reading, place: Place): void {
    this.ahead.push({ reading, place });
    if (this.ahead.length >= believedRows) this.believeAhead();
  }

  private believeAhead(): void {
    const believed = this.ahead;
    this.ahead = [];
    for (const { reading, place } of believed.sort((a, b) => a.reading.atMs - b.reading.atMs)) {
      const { outlet } = place;
      outlet.newestMs = Math.max(outlet.newestMs, reading.atMs);
      this.main.push(reading.atMs, reading, socketOf(place, reading.receptacle));
    }
  }

  private forgetAhead(): void {
    for (const _ of this.ahead) this.count("clock_stepped");
    this.ahead = [];
  }

  /**
   * A row older than the window allows. When it is in order by its own outlet, the outlet runs behind the rest and gets a
   * window of its own; else it is late, and a row that goes on from a late one shows a clock that stepped back.
   */
  private takeBehind(reading: Reading, place: Place): void {
    const { outlet } = place;
    const { atMs } = reading;
    if (place.lane === this.main && atMs > outlet.newestMs) {
      place.lane = this.makeLane();
      this.lanes.push(place.lane);
      outlet.apart = true;
      outlet.newestMs = atMs;
      place.lane.push(atMs, reading, socketOf(place, reading.receptacle));
      return;
    }
    this.count(atMs >= outlet.behindMs && atMs - outlet.behindMs < this.stepMs ? "clock_stepped" : "late");
    outlet.behindMs = atMs;
  }

  /** An outlet that caught up with the log is judged with its circuit and legs again. */
  private rejoin(place: Place): void {
    place.lane.flush();
    this.lanes.splice(this.lanes.indexOf(place.lane), 1);
    place.lane = this.main;
    place.outlet.apart = false;
  }

  private applianceOf(tag: string): ApplianceState | null {
    const known = this.byTagText.get(tag);
    if (known !== undefined) return known;
    const found = this.appliances.get(tagKey(tag)) ?? null;
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

  finish(): { results: ScreeningResult[]; counts: ScreeningCounts } {
    this.believeAhead();
    for (const lane of this.lanes) lane.flush();
    const end = this.latestMs + this.policy.holdSeconds * 1000;
    for (const site of this.sites) site.close(end, (tag) => this.appliances.get(tagKey(tag)) ?? null);
    for (const appliance of this.appliances.values()) appliance.drift?.close();
    const counts = { read: this.read, judged: this.judged, setAside: this.setAside, apart: this.apart };
    return { results: this.results.sort(compareResults), counts };
  }
}

/**
 * Makes a screening of one log: rows are taken one by one and judged in time order, in one pass, with a constant state per
 * receptacle besides the reorder window. All kinds of result are judged; the meaning of each is in the policy and its files.
 */
export function makeScreening(input: ScreeningInput): Screening {
  return new Engine(input, { ...screeningPolicy, ...input.policy });
}
