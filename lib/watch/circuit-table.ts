import type { NamedCircuit } from "./circuit-results";
import { longer, roomFor } from "./columns";
import type { ExcessEpisode } from "./excess-episode";
import { legName, type PlannedOutlet } from "./outlet-plan";
import type { OutletTable } from "./outlet-table";
import type { ScreeningPolicy } from "./policy";
import type { Row } from "./row";
import type { StateCarrier } from "./state-carrier";

/**
 * Loads that last: levels by number, each against one limit. A stretch ends when the load stayed at or below the limit for the time of a
 * dip; it counts when it lasted long enough from its first to its last moment above.
 */
class LastingLoads {
  private from = new Float64Array(0);
  private belowSince = new Float64Array(0);
  private peak = new Float64Array(0);

  constructor(
    private readonly lastingMs: number,
    private readonly dipMs: number,
    private readonly report: (load: number, stretch: { readonly fromMs: number; readonly toMs: number; readonly peak: number }) => void,
  ) {}

  grow(count: number): void {
    this.from = longer(this.from, count, Number.NaN);
    this.belowSince = longer(this.belowSince, count, Number.NaN);
    this.peak = longer(this.peak, count);
  }

  isOpen(load: number): boolean {
    return !Number.isNaN(this.from[load]!);
  }

  /** Whether a level goes on above the limit, within an open stretch and without a new peak. */
  goesOn(load: number, level: number, limit: number): boolean {
    return level > limit && level <= this.peak[load]! && !Number.isNaN(this.from[load]!) && Number.isNaN(this.belowSince[load]!);
  }

  /** The level from `atMs` on. */
  observe(load: number, atMs: number, level: number, limit: number): void {
    if (level > limit) {
      if (this.isOver(load, atMs)) this.close(load, atMs);
      if (!this.isOpen(load)) {
        this.from[load] = atMs;
        this.peak[load] = 0;
      }
      this.belowSince[load] = Number.NaN;
      if (level > this.peak[load]!) this.peak[load] = level;
      return;
    }
    if (!this.isOpen(load)) return;
    if (Number.isNaN(this.belowSince[load]!)) this.belowSince[load] = atMs;
    if (this.isOver(load, atMs)) this.close(load, atMs);
  }

  private isOver(load: number, atMs: number): boolean {
    return atMs - this.belowSince[load]! >= this.dipMs;
  }

  /** Ends the stretch; a level still above counts until `atMs`. */
  close(load: number, atMs: number): void {
    if (!this.isOpen(load)) return;
    const fromMs = this.from[load]!;
    const toMs = Number.isNaN(this.belowSince[load]!) ? atMs : this.belowSince[load]!;
    this.from[load] = Number.NaN;
    this.belowSince[load] = Number.NaN;
    if (toMs - fromMs >= this.lastingMs) this.report(load, { fromMs, toMs, peak: this.peak[load]! });
  }

  carry(load: number, state: StateCarrier): void {
    for (const column of [this.from, this.belowSince, this.peak]) column[load] = state.number(column[load]!);
  }
}

/** The circuits of a screening by number: the held currents of a circuit's outlets added, against its device and its continuous share. */
export class CircuitTable {
  count = 0;
  private deviceAmps = new Float64Array(0);
  private isContinuous = new Uint8Array(0);
  /** Nothing needs a look up to this level. */
  private lowest = new Float64Array(0);
  private firstOutlet = new Int32Array(0);
  private lastOutlet = new Int32Array(0);
  private level = new Float64Array(0);
  private lastAt = new Float64Array(0);
  private addedAt = new Float64Array(0);
  /** The change of the current at hand, amperes. */
  change = 0.5;
  private readonly whole: LastingLoads;
  private readonly share: LastingLoads;
  private readonly holdMs: number = Number.NaN;

  constructor(
    private readonly policy: ScreeningPolicy,
    private readonly outlets: OutletTable,
    report: (circuit: number, episode: ExcessEpisode, continuous: boolean) => void,
  ) {
    this.holdMs = policy.holdSeconds * 1000;
    this.whole = new LastingLoads(policy.circuitSeconds * 1000, 0, (circuit, stretch) =>
      report(circuit, { ...stretch, limit: this.deviceAmps[circuit]! }, false),
    );
    this.share = new LastingLoads(policy.continuousSeconds * 1000, policy.continuousDipSeconds * 1000, (circuit, stretch) =>
      report(circuit, { ...stretch, limit: this.continuousAmps(circuit) }, true),
    );
  }

  private continuousAmps(circuit: number): number {
    return this.policy.continuousShare * this.deviceAmps[circuit]!;
  }

  /** Adds a circuit; its number. `continuous` where the 80 % test applies. */
  add(deviceAmps: number, continuous: boolean): number {
    const circuit = this.count++;
    if (circuit >= this.level.length) this.grow(roomFor(circuit + 1, this.level.length));
    this.deviceAmps[circuit] = deviceAmps;
    this.isContinuous[circuit] = continuous ? 1 : 0;
    this.lowest[circuit] = continuous ? Math.min(1, this.policy.continuousShare) * deviceAmps : deviceAmps;
    return circuit;
  }

  private grow(count: number): void {
    this.deviceAmps = longer(this.deviceAmps, count);
    this.isContinuous = longer(this.isContinuous, count);
    this.lowest = longer(this.lowest, count);
    this.firstOutlet = longer(this.firstOutlet, count, -1);
    this.lastOutlet = longer(this.lastOutlet, count, -1);
    this.level = longer(this.level, count);
    this.lastAt = longer(this.lastAt, count, Number.NEGATIVE_INFINITY);
    this.addedAt = longer(this.addedAt, count, Number.NEGATIVE_INFINITY);
    this.whole.grow(count);
    this.share.grow(count);
  }

  /** A circuit as its results name it, by the plan of its first outlet. */
  named(circuit: number): NamedCircuit {
    const { site, circuit: name } = this.planOf(circuit);
    const northAmerican = this.isContinuous[circuit] === 1;
    const deviceAmps = this.deviceAmps[circuit]!;
    return { site, circuit: name ?? "", deviceAmps, northAmerican, continuousShare: this.policy.continuousShare };
  }

  /** What tells a circuit from the others: its site, its name, and its leg. */
  key(circuit: number): string {
    const plan = this.planOf(circuit);
    return [plan.site, plan.circuit, legName(plan)].join("\u0000");
  }

  private planOf(circuit: number): PlannedOutlet {
    return this.outlets.plans[this.firstOutlet[circuit]!]!;
  }

  join(circuit: number, outlet: number): void {
    const last = this.lastOutlet[circuit]!;
    if (last < 0) this.firstOutlet[circuit] = outlet;
    else this.outlets.nextInCircuit[last] = outlet;
    this.lastOutlet[circuit] = outlet;
  }

  /**
   * One of its outlets was read: its current changed by `change`. Currents that hold no longer are left out when
   * everything is added up anew, once a second.
   */
  observe(circuit: number, row: Row): void {
    const { atMs } = row;
    const lastAt = this.lastAt[circuit]!;
    if (atMs - lastAt > this.holdMs && this.level[circuit]! > 0) this.feed(circuit, lastAt + this.holdMs, 0);
    this.lastAt[circuit] = atMs;
    const level = atMs - this.addedAt[circuit]! >= 1000 ? this.addUp(circuit, atMs) : this.level[circuit]! + this.change;
    this.level[circuit] = level;
    if (level <= this.lowest[circuit]! && !this.whole.isOpen(circuit) && !this.share.isOpen(circuit)) return;
    if (!this.isSteady(circuit)) this.feed(circuit, atMs, level);
  }

  /** Whether the level says nothing new to the stretches that are open. */
  private isSteady(circuit: number): boolean {
    const level = this.level[circuit]!;
    const device = this.deviceAmps[circuit]!;
    const isQuiet = level <= device ? !this.whole.isOpen(circuit) : this.whole.goesOn(circuit, level, device);
    return isQuiet && (this.isContinuous[circuit] === 0 || this.share.goesOn(circuit, level, this.continuousAmps(circuit)));
  }

  private addUp(circuit: number, atMs: number): number {
    const { outlets, holdMs } = this;
    let sum = 0;
    for (let outlet = this.firstOutlet[circuit]!; outlet >= 0; outlet = outlets.nextInCircuit[outlet]!)
      if (atMs - outlets.readAtMs[outlet]! <= holdMs) sum += outlets.amps[outlet]!;
    this.addedAt[circuit] = atMs;
    return sum;
  }

  private feed(circuit: number, atMs: number, level: number): void {
    this.level[circuit] = level;
    this.whole.observe(circuit, atMs, level, this.deviceAmps[circuit]!);
    if (this.isContinuous[circuit] === 1) this.share.observe(circuit, atMs, level, this.continuousAmps(circuit));
  }

  /** Ends every stretch; the last readings hold until the end of the log at most. */
  close(circuit: number, atMs: number): void {
    const until = Math.min(atMs, this.lastAt[circuit]! + this.holdMs);
    this.whole.close(circuit, until);
    this.share.close(circuit, until);
  }

  carry(circuit: number, state: StateCarrier): void {
    for (const column of [this.level, this.lastAt, this.addedAt]) column[circuit] = state.number(column[circuit]!);
    this.whole.carry(circuit, state);
    this.share.carry(circuit, state);
  }
}
