import { FreePlaces, longer, roomFor } from "./columns";
import type { ExcessReport } from "./excess-episode";
import { KeptStretches } from "./kept-stretches";
import type { ScreeningPolicy } from "./policy";
import type { Row } from "./row";
import type { StateCarrier } from "./state-carrier";

/**
 * What of the gap behind the last reading above counts: enough that 6 s seen only in two readings a second apart are found, and that 3 s
 * seen in readings two seconds apart are not unless the next comes 4 s later. Own choice, no source.
 */
const gapShare = 0.6;

/** What is known of an open stretch besides its figures. */
const isSustained = 1;
const isStart = 2;
const hasSeveralRows = 4;

const never = Number.NEGATIVE_INFINITY;

/**
 * Watches quantities, each of an owner by number, against their limits. A stretch above is sustained when it lasts longer than the
 * persistence time without falling: a start-up falls towards running draw within seconds, so each clear fall begins the time anew, until
 * the start time is over. Twelve bytes for each owner; a place of some forty more only while something is above or may be joined, and of
 * twenty-four while a stretch that lasted waits for another.
 */
export class ExcessTable {
  /** When it last ran at or below its limit, -Infinity when its last value there was no running; tells a start from an excess while running. */
  private ranAt = new Float64Array(0);
  private place = new Int32Array(0);

  private readonly places = new FreePlaces();
  private from = new Float64Array(0);
  private lastAbove = new Float64Array(0);
  private peak = new Float64Array(0);
  /** Since when the draw has not fallen, as ms after `from`: at most the start time, so that four bytes do. */
  private anchorAfter = new Int32Array(0);
  private anchorExcess = new Float64Array(0);
  private flags = new Uint8Array(0);
  /** The stretch that waits to be joined, -1 for none. */
  private keptAt = new Int32Array(0);
  private readonly kept = new KeptStretches();
  /** The value to be judged next, and its limit. */
  value = Number.NaN;
  bound = Number.NaN;
  // Numbers from the start, so that the fields are kept as such and not as anything.
  private readonly holdMs: number = Number.NaN;
  private readonly joinMs: number = Number.NaN;
  private readonly runningShare: number = Number.NaN;
  private readonly startMs: number = Number.NaN;
  private readonly persistenceMs: number = Number.NaN;

  constructor(
    private readonly policy: ScreeningPolicy,
    private readonly reports: ExcessReport,
  ) {
    this.holdMs = policy.holdSeconds * 1000;
    this.joinMs = policy.joinSeconds * 1000;
    this.runningShare = policy.runningBeforeShare;
    this.startMs = policy.startSeconds * 1000;
    this.persistenceMs = policy.persistenceSeconds * 1000;
  }

  /** Makes room for owners up to before `count`. */
  grow(count: number): void {
    this.ranAt = longer(this.ranAt, count, never);
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

  /** Nothing is drawn any more. */
  rests(owner: number): void {
    this.ranAt[owner] = never;
  }

  /** Judges `value` against `bound`, as they were set, at a row's time. Numbers that are handed over in fields need no object. */
  judge(owner: number, row: Row): void {
    const { value, bound } = this;
    if (value <= bound) {
      this.ranAt[owner] = value > 0 && value >= this.runningShare * bound ? row.atMs : never;
      if (this.place[owner]! >= 0) this.fallBelow(owner, row.atMs);
    } else this.observe(owner, row.atMs);
  }

  /** A value at or below the limit of an owner that has a place. */
  private fallBelow(owner: number, atMs: number): void {
    this.endSilent(owner, atMs);
    if (this.isAbove(owner)) this.end(owner, atMs);
    else this.release(owner, atMs);
  }

  /** Ends a stretch whose last reading above holds no longer. */
  private endSilent(owner: number, atMs: number): void {
    if (this.isAbove(owner) && atMs - this.lastAboveMs(owner) > this.holdMs) this.end(owner, this.lastAboveMs(owner) + this.holdMs);
  }

  /** A value that is not at or below the limit. */
  private observe(owner: number, atMs: number): void {
    this.endSilent(owner, atMs);
    if (this.isAbove(owner)) this.goOn(this.place[owner]!, atMs);
    else this.begin(owner, atMs);
    this.lastAbove[this.place[owner]!] = atMs;
  }

  private begin(owner: number, atMs: number): void {
    this.release(owner, atMs);
    const at = this.place[owner]! >= 0 ? this.place[owner]! : this.open(owner);
    this.from[at] = atMs;
    this.peak[at] = this.value;
    this.anchorAfter[at] = 0;
    this.anchorExcess[at] = this.value - this.bound;
    this.flags[at] = atMs - this.ranAt[owner]! <= this.holdMs ? 0 : isStart;
  }

  private open(owner: number): number {
    const at = this.places.take();
    if (at >= this.from.length) this.growPlaces(roomFor(at + 1, this.from.length));
    this.place[owner] = at;
    this.keptAt[at] = -1;
    return at;
  }

  private growPlaces(capacity: number): void {
    this.from = longer(this.from, capacity);
    this.lastAbove = longer(this.lastAbove, capacity);
    this.peak = longer(this.peak, capacity);
    this.anchorAfter = longer(this.anchorAfter, capacity);
    this.anchorExcess = longer(this.anchorExcess, capacity);
    this.flags = longer(this.flags, capacity);
    this.keptAt = longer(this.keptAt, capacity);
  }

  private goOn(at: number, atMs: number): void {
    const { value, bound } = this;
    if (value > this.peak[at]!) this.peak[at] = value;
    const age = atMs - this.from[at]!;
    if (age <= this.startMs && this.isStarting(at, age)) {
      this.anchorAfter[at] = age;
      this.anchorExcess[at] = value - bound;
      // What the start-up took so far is inrush; the excess itself peaks after it.
      this.peak[at] = value;
    }
    const lasts = age - this.anchorAfter[at]! >= this.persistenceMs;
    this.flags[at] = this.flags[at]! | hasSeveralRows | (lasts ? isSustained : 0);
  }

  /** Whether the value at hand fell clearly since the anchor, or still rises as a start does at first. */
  private isStarting(at: number, age: number): boolean {
    const { bound } = this;
    const fall = this.anchorExcess[at]! - (this.value - bound);
    const fallsClearly = fall >= this.policy.startFallShare * this.anchorExcess[at]! && fall >= 0.05 * bound;
    return fallsClearly || (-fall > 0.25 * bound && age <= 2000);
  }

  /** Ends the stretch at `atMs`: a reading below the limit, or an event that ends the draw. */
  end(owner: number, atMs: number): void {
    if (!this.isAbove(owner)) return;
    const at = this.place[owner]!;
    const flags = this.flags[at]!;
    const lasted = (flags & hasSeveralRows) !== 0 && this.likelyLength(at, atMs) >= this.persistenceMs;
    if (lasted || (flags & isSustained) !== 0) this.keep(owner, at);
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
    const lastAbove = this.lastAbove[at]!;
    return lastAbove - this.from[at]! - this.anchorAfter[at]! + Math.min(endMs - lastAbove, tail * 1000) * gapShare;
  }

  private keep(owner: number, at: number): void {
    const { kept } = this;
    const before = this.keptAt[at]!;
    if (before >= 0 && this.from[at]! - kept.to[before]! <= this.joinMs) kept.join(before, this.lastAbove[at]!, this.peak[at]!);
    else {
      this.flush(owner);
      this.keptAt[at] = kept.add(this.from[at]!, this.lastAbove[at]!, this.peak[at]!);
    }
  }

  /** Reports the kept stretch once nothing can join it any more. */
  private release(owner: number, atMs: number): void {
    const at = this.place[owner]!;
    const kept = at < 0 ? -1 : this.keptAt[at]!;
    if (kept >= 0 && atMs - this.kept.to[kept]! > this.joinMs) this.flush(owner);
  }

  private flush(owner: number): void {
    const at = this.place[owner]!;
    const kept = at < 0 ? -1 : this.keptAt[at]!;
    if (kept < 0) return;
    const [fromMs, toMs, peak] = [this.kept.from[kept]!, this.kept.to[kept]!, this.kept.peak[kept]!];
    this.kept.remove(kept);
    this.keptAt[at] = -1;
    this.reports.report(owner, { fromMs, toMs, peak, limit: this.reports.limitOf(owner) });
    this.leaveIfIdle(owner);
  }

  private leaveIfIdle(owner: number): void {
    const at = this.place[owner]!;
    if (at < 0 || !Number.isNaN(this.from[at]!) || this.keptAt[at]! >= 0) return;
    this.places.give(at);
    this.place[owner] = -1;
  }

  /** Ends and reports everything of an owner; `atMs` is the time up to which the last reading may hold. */
  close(owner: number, atMs: number): void {
    this.end(owner, atMs);
    this.flush(owner);
  }

  carry(owner: number, state: StateCarrier): void {
    this.ranAt[owner] = state.number(this.ranAt[owner]!);
    if (!state.flag(!this.isIdle(owner))) return;
    const at = state.isReading ? this.open(owner) : this.place[owner]!;
    for (const column of [this.from, this.lastAbove, this.peak, this.anchorExcess]) column[at] = state.number(column[at]!);
    for (const column of [this.anchorAfter, this.flags]) column[at] = state.number(column[at]!);
    this.keptAt[at] = this.kept.carry(this.keptAt[at]!, state);
  }
}
