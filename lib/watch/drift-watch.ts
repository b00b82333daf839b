import { DrawHistogram } from "./draw-histogram";
import type { ScreeningPolicy } from "./policy";
import type { StateCarrier } from "./state-carrier";

export interface DriftEpisode {
  readonly fromMs: number;
  readonly toMs: number;
  readonly baseline: number;
  /** Highest daily median of the days. */
  readonly peak: number;
  readonly days: number;
}

/** A day needs this many running readings to have a median. Own choice, no source. */
const fewestReadings = 3;

/**
 * The median running draw of each day against the appliance's own baseline, the median of its first days with readings.
 * About 500 bytes for each appliance.
 */
export class DriftWatch {
  private readonly histogram: DrawHistogram;
  private dayEnd = Number.NEGATIVE_INFINITY;
  private first = 0;
  private last = 0;
  private today = 0;
  private baselineDays = 0;
  private baseline: number | null = null;
  private streak = 0;
  private streakFrom = 0;
  private streakTo = 0;
  private peak = 0;

  /** `running` is the lowest running draw and `highest` the allowed one, in one unit. `baseline` when a person documented one. */
  constructor(
    readonly running: number,
    readonly highest: number,
    private readonly policy: ScreeningPolicy,
    private readonly report: (episode: DriftEpisode) => void,
    documented: number | null = null,
  ) {
    this.histogram = new DrawHistogram(running);
    this.baseline = documented;
  }

  /** A running draw. `endOfDay` gives the end of the local day of an instant; asked once a day. */
  observe(atMs: number, draw: number, endOfDay: (atMs: number) => number): void {
    if (atMs >= this.dayEnd) {
      this.endDay();
      this.dayEnd = endOfDay(atMs);
      this.first = atMs;
      this.today = 0;
    }
    this.last = atMs;
    this.today++;
    this.histogram.add(draw);
  }

  private endDay(): void {
    if (this.today < fewestReadings) return;
    if (this.baseline === null) this.growBaseline();
    else this.judgeDay(this.histogram.median() ?? 0, this.baseline);
  }

  private growBaseline(): void {
    this.baselineDays++;
    if (this.baselineDays < this.policy.baselineDays) return;
    this.baseline = this.histogram.median();
    this.histogram.clear();
  }

  private judgeDay(median: number, baseline: number): void {
    this.histogram.clear();
    const drifted = median >= baseline * (1 + this.policy.driftShare) * (1 - 1e-9) && median <= this.highest;
    if (!drifted) {
      this.endStreak();
      return;
    }
    if (this.streak === 0) {
      this.streakFrom = this.first;
      this.peak = 0;
    }
    this.streak++;
    this.streakTo = this.last;
    this.peak = Math.max(this.peak, median);
  }

  private endStreak(): void {
    if (this.streak >= this.policy.driftDays && this.baseline !== null) {
      this.report({ fromMs: this.streakFrom, toMs: this.streakTo, baseline: this.baseline, peak: this.peak, days: this.streak });
    }
    this.streak = 0;
  }

  carry(state: StateCarrier): void {
    this.dayEnd = state.number(this.dayEnd);
    this.first = state.number(this.first);
    this.last = state.number(this.last);
    this.today = state.number(this.today);
    this.baselineDays = state.number(this.baselineDays);
    this.baseline = state.maybe(this.baseline);
    this.streak = state.number(this.streak);
    this.streakFrom = state.number(this.streakFrom);
    this.streakTo = state.number(this.streakTo);
    this.peak = state.number(this.peak);
    this.histogram.carry(state);
  }

  close(): void {
    this.endDay();
    this.today = 0;
    this.endStreak();
  }
}
