import { EngineState } from "./engine-state";
import { EngineTables } from "./engine-tables";
import type { PlannedOutlet } from "./outlet-plan";
import { type ScreeningPolicy, screeningPolicy } from "./policy";
import type { Reading } from "./reading";
import type { ReadingBatch } from "./reading-batch";
import { carryResult } from "./result-carrier";
import { compareResults } from "./result-order";
import { Row } from "./row";
import { eventNumber } from "./row-event";
import { RowJudge } from "./row-judge";
import { RowOrder } from "./row-order";
import type { ScreenedAppliance } from "./screened-appliance";
import type { ScreeningResult } from "./screening-result";
import type { SetAsideReason } from "./set-aside";
import { carryList, type StateCarrier, StateReader, StateWriter } from "./state-carrier";
import type { Trip } from "./trip";

/** Rows taken, judged and set aside by reason; read = judged + all set aside. */
export interface ScreeningCounts {
  readonly read: number;
  readonly judged: number;
  readonly setAside: Readonly<Record<string, number>>;
  /** Rows of outlets that ran behind the rest of the log: judged by themselves, not with their circuit and legs. */
  readonly apart: number;
  /** Sightings of a tag at the very instant at which it was seen elsewhere; only where there are any. Someone should look at those tags. */
  readonly twoPlaces?: number;
}

/** Results drained from a screening that goes on. */
export interface TakenResults {
  /** Over for good; each is given once. */
  readonly settled: ScreeningResult[];
  /**
   * What more would be found if the log ended now: excesses and conditions of the supply that go on or may still be joined, and repeated
   * trips. All of
   * them each time; the same one is known again by `resultIdentity`, and one that is missing next time is not shown any more or settled.
   */
  readonly open: ScreeningResult[];
}

export interface Screening {
  /** Takes one row, in any order within 60 s. */
  take(reading: Reading): void;
  /** Takes the rows of a batch, numbered by this screening; the same as taking them one by one. */
  takeBatch(batch: ReadingBatch): void;
  /** Number of the receptacle of an outlet for batches, null for the outlet alone; -1 for an outlet that is not in the plan. */
  receptacleNumber(outlet: string, receptacle: string | null): number;
  /** Number of a tag's text for batches; -1 for none. */
  tagNumber(text: string | null): number;
  /** Counts a row that its reader set aside. */
  takeSetAside(reason: string): void;
  /** Every trip that would be known if the log ended now, counted or not. */
  trips(): Trip[];
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

/** Why a measured value cannot be judged; null when it can, NaN being one that was not measured. */
function fault(value: number): SetAsideReason | null {
  if (value >= 0) return value === Number.POSITIVE_INFINITY ? "not_finite" : null;
  if (Number.isNaN(value)) return null;
  return value === Number.NEGATIVE_INFINITY ? "not_finite" : "negative";
}

function faultOf(row: Row): SetAsideReason | null {
  if (row.receptacle < 0) return "unknown_outlet";
  if (!Number.isFinite(row.atMs)) return "no_time";
  return fault(row.watts) ?? fault(row.amps) ?? fault(row.volts) ?? fault(row.powerFactor);
}

/** The screening itself, see `makeScreening`. */
class Engine implements Screening {
  private results: ScreeningResult[] = [];
  private readonly setAside: Record<string, number> = {};
  private readonly tables: EngineTables;
  private readonly judge: RowJudge;
  private readonly order: RowOrder;
  /** The row at hand. */
  private readonly row = new Row();
  private read = 0;

  constructor(
    private readonly input: ScreeningInput,
    private readonly policy: ScreeningPolicy,
  ) {
    this.tables = new EngineTables(policy, input.outlets, input.appliances, (result) => this.results.push(result));
    const count = (reason: SetAsideReason) => this.count(reason);
    const judge = new RowJudge(this.tables, count);
    this.judge = judge;
    const { outlets, receptacles } = this.tables;
    this.order = new RowOrder({ policy, outlets, receptacles, judge, count });
    if (input.state !== undefined) this.carry(new StateReader(input.state));
  }

  receptacleNumber(outlet: string, receptacle: string | null): number {
    const number = this.tables.outletNumber(outlet);
    return number < 0 ? -1 : this.tables.receptacles.of(number, receptacle);
  }

  tagNumber(text: string | null): number {
    return text === null ? -1 : this.tables.appliances.tags.numberOf(text);
  }

  private count(reason: string): void {
    this.setAside[reason] = (this.setAside[reason] ?? 0) + 1;
  }

  takeSetAside(reason: string): void {
    this.read++;
    this.count(reason);
  }

  take(reading: Reading): void {
    const { watts, amps, volts, powerFactor } = reading;
    const { row, tables } = this;
    const outlet = tables.outletNumber(reading.outlet);
    row.receptacle = outlet < 0 ? -1 : tables.receptacles.of(outlet, reading.receptacle);
    row.tag = outlet < 0 || reading.tag === null ? -1 : tables.appliances.tags.numberOf(reading.tag);
    row.atMs = reading.atMs;
    row.watts = watts ?? Number.NaN;
    row.amps = amps ?? Number.NaN;
    row.volts = volts ?? Number.NaN;
    row.powerFactor = powerFactor ?? Number.NaN;
    row.event = reading.event === null ? 0 : eventNumber(reading.event, reading.cause);
    const isNumber = !(Number.isNaN(watts) || Number.isNaN(amps) || Number.isNaN(volts) || Number.isNaN(powerFactor));
    this.takeRow(isNumber || outlet < 0 ? null : "not_finite");
  }

  takeBatch(batch: ReadingBatch): void {
    for (let at = 0; at < batch.count; at++) {
      batch.read(at, this.row);
      this.takeRow(null);
    }
  }

  /** Takes the row at hand, unless something is wrong with it. */
  private takeRow(known: SetAsideReason | null): void {
    this.read++;
    const reason = known ?? faultOf(this.row);
    if (reason !== null) this.count(reason);
    else this.order.take(this.row);
  }

  takeResults(): TakenResults {
    const { sites, line } = this.tables;
    for (const site of sites) this.results.push(...site.settleSupply(Math.min(this.judge.latestMs, line.openSinceMs(site.outlets))));
    const settled = this.results.sort(compareResults);
    this.results = [];
    const { results: open } = new Engine({ ...this.input, state: this.saveState() }, this.policy).finish();
    return { settled, open };
  }

  trips(): Trip[] {
    const end = new Engine({ ...this.input, state: this.saveState() }, this.policy);
    end.order.finish();
    return end.tables.sites.flatMap((site) => site.settledTrips());
  }

  saveState(): Uint8Array {
    const state = new StateWriter();
    this.carry(state);
    return state.finish();
  }

  /** Carries everything the log told; the plan and the appliances are known from the input. */
  private carry(state: StateCarrier): void {
    this.read = state.number(this.read);
    this.tables.plugs.twoPlaces = state.number(this.tables.plugs.twoPlaces);
    this.judge.carry(state);
    carryList(state, Object.keys(this.setAside), (reason) => {
      const name = state.text(reason) ?? "";
      this.setAside[name] = state.number(this.setAside[name] ?? 0);
    });
    this.results = carryList(state, this.results, (result) => carryResult(state, result));
    const tables = new EngineState(this.tables);
    tables.carry(state, this.judge.latestMs);
    this.order.carry(state, tables.rowNames(state));
  }

  finish(): { results: ScreeningResult[]; counts: ScreeningCounts } {
    this.order.finish();
    this.tables.close(this.judge.latestMs + this.policy.holdSeconds * 1000, (result) => this.results.push(result));
    const { judged, apart } = this.judge;
    const { twoPlaces } = this.tables.plugs;
    const counts = { read: this.read, judged, setAside: this.setAside, apart, ...(twoPlaces > 0 ? { twoPlaces } : {}) };
    return { results: this.results.sort(compareResults), counts };
  }
}

/**
 * Makes a screening of one log, which may be that of one site: everything judged across outlets (circuits, dips of the supply, trips
 * that coincide or follow a tag, a lost neutral) stays within a site, so outlets of one site must stay together and different sites may
 * be screened apart, each with its own state. What screening apart gives up: a tag that moves to another site is not followed there, and
 * a clock is compared with those of its own site. Rows are judged in time order, in one pass, with a constant state per receptacle
 * besides the reorder window. All kinds of result are judged; the meaning of each is in the policy and its files.
 */
export function makeScreening(input: ScreeningInput): Screening {
  return new Engine(input, { ...screeningPolicy, ...input.policy });
}
