import { FreePlaces, longer, roomFor } from "./columns";
import type { ScreeningPolicy } from "./policy";
import type { Row } from "./row";
import type { StateCarrier } from "./state-carrier";

/** One sustained stretch above a limit; times in ms. */
export interface ExcessEpisode {
  readonly fromMs: number;
  readonly toMs: number;
  readonly peak: number;
  readonly limit: number;
}

/**
 * What of the gap behind the last reading above counts: enough that 6 s seen only in two readings a second apart are found, and that 3 s
 * seen in readings two seconds apart are not unless the next comes 4 s later. Own choice, no source.
 */
const gapShare = 0.6;

const isSustained = 1;
const isStart = 2;

/**
 * Watches quantities, each of an owner by number, against their limits. A stretch above is sustained when it lasts longer than the
 * persistence time without falling: a start-up falls towards running draw within seconds, so each clear fall begins the time anew, until
 * the start time is over. Twenty bytes for each owner, and a place of some eighty more only while something is above or may be joined.
 */
export class ExcessTable {
  /** The last value at or below the limit as a share of it, and when; tells a start from an excess while running. */
  private before = new Float64Array(0);
  private beforeAt = new Float64Array(0);
  private place = new Int32Array(0);

  private readonly places = new FreePlaces();
  private from = new Float64Array(0);
  private lastAbove = new Float64Array(0);
  private peak = new Float64Array(0);
  private limit = new Float64Array(0);
  private anchorAt = new Float64Array(0);
  private anchorExcess = new Float64Array(0);
  private keptFrom = new Float64Array(0);
  private keptTo = new Float64Array(0);
  private keptPeak = new Float64Array(0);
  private rows = new Int32Array(0);
  private flags = new Uint8Array(0);
  /** The value to be judged next, and its limit. */
  value = Number.NaN;
  bound = Number.NaN;
  private readonly holdMs: number;
  private readonly joinMs: number;

  constructor(
    private readonly policy: ScreeningPolicy,
    private readonly report: (owner: number, episode: ExcessEpisode) => void,
  ) {
    this.holdMs = policy.holdSeconds * 1000;
    this.joinMs = policy.joinSeconds * 1000;
  }

  /** Makes room for owners up to before `count`. */
  grow(count: number): void {
    this.before = longer(this.before, count);
    this.beforeAt = longer(this.beforeAt, count, Number.NEGATIVE_INFINITY);
    this.place = longer(this.place, count, -1);
  }

  /** Nothing open and nothing to report. */
  isIdle(owner: number): boolean {
    return this.place[owner]! < 0;
  }

  /** Whether the quantity was above its limit at its last reading. */
  isAbove(owner: number): boolean {
    const at = this.place[owner]!;
    return at >= 0 && !Number.isNaN(this.from[at]!);
  }

  /** When an open stretch was last seen above. */
  lastAboveMs(owner: number): number {
    return this.lastAbove[this.place[owner]!]!;
  }

  /** A value at or below the limit, as a share of it. */
  quiet(owner: number, atMs: number, share: number): void {
    this.before[owner] = share;
    this.beforeAt[owner] = atMs;
  }

  /** Judges `value` against `bound`, as they were set, at a row's time. Numbers that are handed over in fields need no object. */
  judge(owner: number, row: Row): void {
    if (this.value <= this.bound && this.place[owner]! < 0) {
      this.before[owner] = this.value / this.bound;
      this.beforeAt[owner] = row.atMs;
    } else this.observe(owner, row.atMs, this.value, this.bound);
  }

  private observe(owner: number, atMs: number, value: number, limit: number): void {
    if (this.isAbove(owner) && atMs - this.lastAboveMs(owner) > this.holdMs) this.end(owner, this.lastAboveMs(owner) + this.holdMs);
    if (value <= limit) {
      this.quiet(owner, atMs, value / limit);
      if (this.isAbove(owner)) this.end(owner, atMs);
      else this.release(owner, atMs);
      return;
    }
    if (this.isAbove(owner)) this.goOn(this.place[owner]!, atMs, value, limit);
    else this.begin(owner, atMs, value, limit);
    this.lastAbove[this.place[owner]!] = atMs;
  }

  private begin(owner: number, atMs: number, value: number, limit: number): void {
    this.release(owner, atMs);
    const at = this.place[owner]! >= 0 ? this.place[owner]! : this.open(owner);
    this.from[at] = atMs;
    this.rows[at] = 1;
    this.peak[at] = value;
    this.limit[at] = limit;
    this.anchorAt[at] = atMs;
    this.anchorExcess[at] = value - limit;
    const running = this.before[owner]! >= this.policy.runningBeforeShare && atMs - this.beforeAt[owner]! <= this.holdMs;
    this.flags[at] = running ? 0 : isStart;
  }

  private open(owner: number): number {
    const at = this.places.take();
    if (at >= this.from.length) this.growPlaces(roomFor(at + 1, this.from.length));
    this.place[owner] = at;
    this.keptFrom[at] = Number.NaN;
    return at;
  }

  private growPlaces(capacity: number): void {
    this.from = longer(this.from, capacity);
    this.lastAbove = longer(this.lastAbove, capacity);
    this.peak = longer(this.peak, capacity);
    this.limit = longer(this.limit, capacity);
    this.anchorAt = longer(this.anchorAt, capacity);
    this.anchorExcess = longer(this.anchorExcess, capacity);
    this.keptFrom = longer(this.keptFrom, capacity);
    this.keptTo = longer(this.keptTo, capacity);
    this.keptPeak = longer(this.keptPeak, capacity);
    this.rows = longer(this.rows, capacity);
    this.flags = longer(this.flags, capacity);
  }

  private goOn(at: number, atMs: number, value: number, limit: number): void {
    this.rows[at] = this.rows[at]! + 1;
    if (value > this.peak[at]!) this.peak[at] = value;
    const excess = value - limit;
    const age = atMs - this.from[at]!;
    const fall = this.anchorExcess[at]! - excess;
    const fallsClearly = fall >= this.policy.startFallShare * this.anchorExcess[at]! && fall >= 0.05 * limit;
    const risesAtFirst = -fall > 0.25 * limit && age <= 2000;
    if (age <= this.policy.startSeconds * 1000 && (fallsClearly || risesAtFirst)) {
      this.anchorAt[at] = atMs;
      this.anchorExcess[at] = excess;
      // What the start-up took so far is inrush; the excess itself peaks after it.
      this.peak[at] = value;
    }
    if (atMs - this.anchorAt[at]! >= this.policy.persistenceSeconds * 1000) this.flags[at] = this.flags[at]! | isSustained;
  }

  /** Ends the stretch at `atMs`: a reading below the limit, or an event that ends the draw. */
  end(owner: number, atMs: number): void {
    if (!this.isAbove(owner)) return;
    const at = this.place[owner]!;
    const lasted = this.rows[at]! > 1 && this.likelyLength(at, atMs) >= this.policy.persistenceSeconds * 1000;
    if (lasted || (this.flags[at]! & isSustained) !== 0) this.keep(owner, at);
    this.from[at] = Number.NaN;
    this.leaveIfIdle(owner);
  }

  /**
   * The draw fell somewhere between its last reading above and the reading that ends the stretch; a share of that gap is counted.
   * After a start less of it, for a start-up mostly falls in the gap.
   */
  private likelyLength(at: number, endMs: number): number {
    const { excessTailSeconds, startTailSeconds } = this.policy;
    const tail = (this.flags[at]! & isStart) !== 0 ? startTailSeconds : excessTailSeconds;
    return this.lastAbove[at]! - this.anchorAt[at]! + Math.min(endMs - this.lastAbove[at]!, tail * 1000) * gapShare;
  }

  private keep(owner: number, at: number): void {
    const isNear = this.from[at]! - this.keptTo[at]! <= this.joinMs && !Number.isNaN(this.keptFrom[at]!);
    if (!isNear) this.flush(owner);
    const peak = this.peak[at]!;
    this.keptPeak[at] = isNear ? Math.max(peak, this.keptPeak[at]!) : peak;
    if (!isNear) this.keptFrom[at] = this.from[at]!;
    this.keptTo[at] = this.lastAbove[at]!;
  }

  /** Reports the kept stretch once nothing can join it any more. */
  private release(owner: number, atMs: number): void {
    const at = this.place[owner]!;
    if (at >= 0 && atMs - this.keptTo[at]! > this.joinMs) this.flush(owner);
  }

  private flush(owner: number): void {
    const at = this.place[owner]!;
    if (at < 0 || Number.isNaN(this.keptFrom[at]!)) return;
    const [fromMs, toMs, peak, limit] = [this.keptFrom[at]!, this.keptTo[at]!, this.keptPeak[at]!, this.limit[at]!];
    this.keptFrom[at] = Number.NaN;
    this.report(owner, { fromMs, toMs, peak, limit });
    this.leaveIfIdle(owner);
  }

  private leaveIfIdle(owner: number): void {
    const at = this.place[owner]!;
    if (at < 0 || !Number.isNaN(this.from[at]!) || !Number.isNaN(this.keptFrom[at]!)) return;
    this.places.give(at);
    this.place[owner] = -1;
  }

  /** Ends and reports everything of an owner; `atMs` is the time up to which the last reading may hold. */
  close(owner: number, atMs: number): void {
    this.end(owner, atMs);
    this.flush(owner);
  }

  carry(owner: number, state: StateCarrier): void {
    this.before[owner] = state.number(this.before[owner]!);
    this.beforeAt[owner] = state.number(this.beforeAt[owner]!);
    if (!state.flag(!this.isIdle(owner))) return;
    const at = state.isReading ? this.open(owner) : this.place[owner]!;
    for (const column of [this.from, this.lastAbove, this.peak, this.limit, this.anchorAt, this.anchorExcess])
      column[at] = state.number(column[at]!);
    for (const column of [this.keptFrom, this.keptTo, this.keptPeak, this.rows, this.flags]) column[at] = state.number(column[at]!);
  }
}
