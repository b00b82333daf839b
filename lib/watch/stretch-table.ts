import { FreePlaces, longer, roomFor } from "./columns";
import type { StateCarrier } from "./state-carrier";

/** A stretch of line voltage beyond one bound at one outlet; times in ms. */
export interface VoltageEpisode {
  readonly kind: "high_voltage" | "low_voltage";
  readonly outlet: string;
  readonly fromMs: number;
  readonly toMs: number;
  readonly peak: number;
  readonly limit: number;
  readonly nominal: number;
  readonly rule: string;
}

/** How long the voltage may come back inside without ending the stretch, ms: one odd row is nothing. */
const insideMs = 10_000;

/** What a stretch that lasted is reported by. */
export interface StretchReport {
  lastingMs(owner: number): number;
  report(owner: number, fromMs: number, toMs: number, peak: number): void;
}

/**
 * Adds up the time that the voltage of an outlet, by number, is beyond one bound, across odd rows inside it. Four bytes for each outlet,
 * and a place of fifty more only while a stretch is open.
 */
export class StretchTable {
  private place = new Int32Array(0);
  private readonly places = new FreePlaces();
  private from = new Float64Array(0);
  private last = new Float64Array(0);
  private beyondMs = new Float64Array(0);
  private insideSince = new Float64Array(0);
  private peak = new Float64Array(0);
  private rows = new Int32Array(0);

  constructor(
    private readonly sign: 1 | -1,
    private readonly holdMs: number,
    private readonly reports: StretchReport,
  ) {}

  grow(count: number): void {
    this.place = longer(this.place, count, -1);
  }

  isOpen(owner: number): boolean {
    return this.place[owner]! >= 0;
  }

  /** When the stretch of an outlet began that is open; Infinity when none is. */
  openSinceMs(owner: number): number {
    const at = this.place[owner]!;
    return at < 0 ? Number.POSITIVE_INFINITY : this.from[at]!;
  }

  beyond(owner: number, atMs: number, volts: number): void {
    const before = this.place[owner]!;
    if (before >= 0 && atMs - this.last[before]! > this.holdMs) this.close(owner, this.last[before]! + this.holdMs);
    let at = this.place[owner]!;
    if (at < 0) {
      at = this.open(owner);
      this.from[at] = atMs;
      this.beyondMs[at] = 0;
      this.rows[at] = 0;
      this.peak[at] = volts;
    } else if (Number.isNaN(this.insideSince[at]!)) this.beyondMs[at] = this.beyondMs[at]! + atMs - this.last[at]!;
    this.insideSince[at] = Number.NaN;
    this.last[at] = atMs;
    this.rows[at] = this.rows[at]! + 1;
    if (this.sign * (volts - this.peak[at]!) > 0) this.peak[at] = volts;
  }

  inside(owner: number, atMs: number): void {
    const at = this.place[owner]!;
    if (at < 0) return;
    const last = this.last[at]!;
    if (atMs - last > this.holdMs + insideMs) {
      this.close(owner, last + this.holdMs);
      return;
    }
    if (Number.isNaN(this.insideSince[at]!)) {
      this.beyondMs[at] = this.beyondMs[at]! + Math.min(atMs - last, this.holdMs);
      this.insideSince[at] = atMs;
      this.last[at] = atMs;
    } else if (atMs - this.insideSince[at]! >= insideMs) this.close(owner, this.insideSince[at]!);
    else this.last[at] = atMs;
  }

  /** Ends the stretch at `atMs`; reports it when it was beyond long enough and in more than one row. */
  close(owner: number, atMs: number): void {
    const at = this.place[owner]!;
    if (at < 0) return;
    const isBeyond = Number.isNaN(this.insideSince[at]!);
    const toMs = isBeyond ? Math.min(atMs, this.last[at]! + this.holdMs) : this.insideSince[at]!;
    const beyondMs = this.beyondMs[at]! + (isBeyond ? toMs - this.last[at]! : 0);
    this.place[owner] = -1;
    this.places.give(at);
    if (this.rows[at]! > 1 && beyondMs >= this.reports.lastingMs(owner)) this.reports.report(owner, this.from[at]!, toMs, this.peak[at]!);
  }

  private open(owner: number): number {
    const at = this.places.take();
    if (at >= this.from.length) {
      const capacity = roomFor(at + 1, this.from.length);
      this.from = longer(this.from, capacity);
      this.last = longer(this.last, capacity);
      this.beyondMs = longer(this.beyondMs, capacity);
      this.insideSince = longer(this.insideSince, capacity);
      this.peak = longer(this.peak, capacity);
      this.rows = longer(this.rows, capacity);
    }
    this.place[owner] = at;
    this.insideSince[at] = Number.NaN;
    return at;
  }

  carry(owner: number, state: StateCarrier): void {
    if (!state.flag(this.isOpen(owner))) return;
    const at = state.isReading ? this.open(owner) : this.place[owner]!;
    for (const column of [this.from, this.last, this.beyondMs, this.insideSince, this.peak, this.rows])
      column[at] = state.number(column[at]!);
  }
}
