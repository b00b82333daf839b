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

/** Adds up the time that one outlet's voltage is beyond one bound, across odd rows inside it. Constant memory. */
export class VoltageStretch {
  private from = Number.NaN;
  private last = 0;
  private beyondMs = 0;
  private rows = 0;
  private insideSince = Number.NaN;
  private peak = 0;

  constructor(
    private readonly sign: 1 | -1,
    private readonly holdMs: number,
    private readonly lastingMs: number,
    private readonly report: (fromMs: number, toMs: number, peak: number) => void,
  ) {}

  get isOpen(): boolean {
    return !Number.isNaN(this.from);
  }

  beyond(atMs: number, volts: number): void {
    if (this.isOpen && atMs - this.last > this.holdMs) this.close(this.last + this.holdMs);
    if (!this.isOpen) {
      this.from = atMs;
      this.beyondMs = 0;
      this.rows = 0;
      this.peak = volts;
    } else if (Number.isNaN(this.insideSince)) this.beyondMs += atMs - this.last;
    this.insideSince = Number.NaN;
    this.last = atMs;
    this.rows++;
    if (this.sign * (volts - this.peak) > 0) this.peak = volts;
  }

  inside(atMs: number): void {
    if (!this.isOpen) return;
    if (atMs - this.last > this.holdMs + insideMs) {
      this.close(this.last + this.holdMs);
      return;
    }
    if (Number.isNaN(this.insideSince)) {
      this.beyondMs += Math.min(atMs - this.last, this.holdMs);
      this.insideSince = atMs;
      this.last = atMs;
    } else if (atMs - this.insideSince >= insideMs) this.close(this.insideSince);
    else this.last = atMs;
  }

  carry(state: StateCarrier): void {
    this.from = state.number(this.from);
    this.last = state.number(this.last);
    this.beyondMs = state.number(this.beyondMs);
    this.rows = state.number(this.rows);
    this.insideSince = state.number(this.insideSince);
    this.peak = state.number(this.peak);
  }

  /** Ends the stretch at `atMs`; reports it when it was beyond long enough and in more than one row. */
  close(atMs: number): void {
    if (!this.isOpen) return;
    const toMs = !Number.isNaN(this.insideSince) ? this.insideSince : Math.min(atMs, this.last + this.holdMs);
    if (Number.isNaN(this.insideSince)) this.beyondMs += toMs - this.last;
    if (this.rows > 1 && this.beyondMs >= this.lastingMs) this.report(this.from, toMs, this.peak);
    this.from = Number.NaN;
    this.insideSince = Number.NaN;
  }
}
