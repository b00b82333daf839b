import { longer, roomFor } from "./columns";
import type { BaselineStretch } from "./documented-baseline";
import { DrawHistograms } from "./draw-histograms";
import type { ScreeningPolicy } from "./policy";
import type { Row } from "./row";
import type { StateCarrier } from "./state-carrier";

export interface DriftEpisode {
  readonly fromMs: number;
  readonly toMs: number;
  readonly baseline: number;
  /** Highest daily median of the days. */
  readonly peak: number;
  readonly days: number;
  readonly unit: "W" | "A";
}

/** A day needs this many running readings to have a median. Own choice, no source. */
const fewestReadings = 3;

export interface DriftAsks {
  /** The documented baseline of an appliance, null where its first days count. Asked once a day of each, never by row. */
  readonly documentedOf: (appliance: number) => BaselineStretch | null;
  readonly report: (appliance: number, episode: DriftEpisode) => void;
}

/**
 * The median running draw of each day against the appliance's own baseline: the median of its first days with readings, or of the days
 * that a person documented. About 200 bytes for each appliance that has run, nothing for one that has not.
 *
 * Of documented days those before them are not judged, and the baseline is fixed on the first running day after them; an appliance that
 * ran on none of them is not judged at all.
 */
export class DriftTable {
  /** The place of an appliance, -1 while it has not run. */
  private place = new Int32Array(0);
  private used = 0;
  private readonly histograms = new DrawHistograms();
  private running = new Float32Array(0);
  private highest = new Float32Array(0);
  private dayEnd = new Float64Array(0);
  /** The first and the last running draw of the day, as ms before its end: four bytes do. */
  private firstBefore = new Int32Array(0);
  private lastBefore = new Int32Array(0);
  private baseline = new Float32Array(0);
  private streakFrom = new Float64Array(0);
  private streakTo = new Float64Array(0);
  private peak = new Float32Array(0);
  /** Running draws of the day, counted up to those that a median needs. */
  private today = new Uint8Array(0);
  private baselineDays = new Uint16Array(0);
  private streak = new Uint16Array(0);
  private byAmps = new Uint8Array(0);

  /** The draw at hand. */
  value = Number.NaN;

  constructor(
    private readonly policy: ScreeningPolicy,
    private readonly asks: DriftAsks,
  ) {}

  grow(appliances: number): void {
    this.place = longer(this.place, appliances, -1);
  }

  /** The place of an appliance, -1 while it has not run. */
  placeOf(appliance: number): number {
    return this.place[appliance]!;
  }

  /** Begins to follow an appliance: `running` is its lowest running draw and `highest` the allowed one, in one unit. */
  begin(
    appliance: number,
    { running, highest, byAmps }: { readonly running: number; readonly highest: number; readonly byAmps: number },
  ): number {
    const at = this.used++;
    if (at >= this.running.length) this.growPlaces(roomFor(at + 1, this.running.length));
    this.place[appliance] = at;
    this.running[at] = running;
    this.highest[at] = highest;
    this.byAmps[at] = byAmps;
    this.dayEnd[at] = Number.NEGATIVE_INFINITY;
    this.baseline[at] = Number.NaN;
    return at;
  }

  private growPlaces(capacity: number): void {
    this.running = longer(this.running, capacity);
    this.highest = longer(this.highest, capacity);
    this.dayEnd = longer(this.dayEnd, capacity);
    this.firstBefore = longer(this.firstBefore, capacity);
    this.lastBefore = longer(this.lastBefore, capacity);
    this.baseline = longer(this.baseline, capacity);
    this.streakFrom = longer(this.streakFrom, capacity);
    this.streakTo = longer(this.streakTo, capacity);
    this.peak = longer(this.peak, capacity);
    this.today = longer(this.today, capacity);
    this.baselineDays = longer(this.baselineDays, capacity);
    this.streak = longer(this.streak, capacity);
    this.byAmps = longer(this.byAmps, capacity);
    this.histograms.grow(capacity);
  }

  /** Whether `value`, in watts (0) or amperes (1), counts as running at a place. */
  isRunning(at: number, byAmps: number): boolean {
    return this.value >= this.running[at]! && this.byAmps[at] === byAmps;
  }

  /** Whether the day of a place is over at an instant, so that `beginDay` must be called before the next draw. */
  isDayOver(at: number, row: Row): boolean {
    return row.atMs >= this.dayEnd[at]!;
  }

  /** Judges the day that is over and begins the one that ends at `dayEndMs`. */
  beginDay(appliance: number, atMs: number, dayEndMs: number): void {
    const at = this.place[appliance]!;
    this.endDay(appliance, at);
    const documented = this.asks.documentedOf(appliance);
    if (documented !== null && dayEndMs > documented.toMs && Number.isNaN(this.baseline[at]!)) this.fixBaseline(at);
    this.dayEnd[at] = dayEndMs;
    this.firstBefore[at] = dayEndMs - atMs;
    this.today[at] = 0;
  }

  /** Counts `value`, a running draw within the day. */
  add(at: number, row: Row): void {
    this.lastBefore[at] = this.dayEnd[at]! - row.atMs;
    if (this.today[at]! < fewestReadings) this.today[at] = this.today[at]! + 1;
    if (this.histograms.isCounted(at)) this.histograms.count(at, this.value / this.running[at]!);
  }

  private endDay(appliance: number, at: number): void {
    const documented = this.asks.documentedOf(appliance);
    if (documented !== null && this.dayEnd[at]! <= documented.toMs) {
      this.endDayBeforeJudging(at, documented);
      return;
    }
    if (this.today[at]! < fewestReadings) return;
    if (documented !== null && Number.isNaN(this.baseline[at]!)) return;
    if (Number.isNaN(this.baseline[at]!)) this.growBaseline(at);
    else this.judgeDay(appliance, at, this.median(at));
  }

  private median(at: number): number {
    return this.histograms.median(at) * this.running[at]!;
  }

  private growBaseline(at: number): void {
    this.baselineDays[at] = this.baselineDays[at]! + 1;
    if (this.baselineDays[at] >= this.policy.baselineDays) this.fixBaseline(at);
  }

  /** A day before the documented ones leaves nothing, one of them counts where it has its readings. */
  private endDayBeforeJudging(at: number, { fromMs }: BaselineStretch): void {
    if (this.dayEnd[at]! <= fromMs) this.histograms.clear(at);
    else if (this.today[at]! >= fewestReadings) this.baselineDays[at] = this.baselineDays[at]! + 1;
  }

  /** The baseline is the median of what was counted so far; there is none where no day had its readings. */
  private fixBaseline(at: number): void {
    if (this.baselineDays[at]! > 0) this.baseline[at] = this.median(at);
    this.histograms.clear(at);
  }

  private judgeDay(appliance: number, at: number, median: number): void {
    this.histograms.clear(at);
    const least = this.baseline[at]! * (1 + this.policy.driftShare) * (1 - 1e-9);
    if (median < least || median > this.highest[at]!) {
      this.endStreak(appliance, at);
      return;
    }
    if (this.streak[at] === 0) {
      this.streakFrom[at] = this.dayEnd[at]! - this.firstBefore[at]!;
      this.peak[at] = 0;
    }
    this.streak[at] = this.streak[at]! + 1;
    this.streakTo[at] = this.dayEnd[at]! - this.lastBefore[at]!;
    this.peak[at] = Math.max(this.peak[at]!, median);
  }

  private endStreak(appliance: number, at: number): void {
    const days = this.streak[at]!;
    if (days >= this.policy.driftDays) {
      const unit = this.byAmps[at] === 1 ? "A" : "W";
      const [fromMs, toMs] = [this.streakFrom[at]!, this.streakTo[at]!];
      this.asks.report(appliance, { fromMs, toMs, baseline: this.baseline[at]!, peak: this.peak[at]!, days, unit });
    }
    this.streak[at] = 0;
  }

  close(appliance: number): void {
    const at = this.place[appliance]!;
    if (at < 0) return;
    this.endDay(appliance, at);
    this.today[at] = 0;
    this.endStreak(appliance, at);
  }

  carry(appliance: number, state: StateCarrier): void {
    if (!state.flag(this.place[appliance]! >= 0)) return;
    const at = state.isReading ? this.begin(appliance, { running: 0, highest: 0, byAmps: 0 }) : this.place[appliance]!;
    for (const column of [this.running, this.highest, this.dayEnd, this.firstBefore, this.lastBefore, this.baseline])
      column[at] = state.number(column[at]!);
    for (const column of [this.streakFrom, this.streakTo, this.peak, this.today]) column[at] = state.number(column[at]!);
    for (const column of [this.baselineDays, this.streak, this.byAmps]) column[at] = state.number(column[at]!);
    this.histograms.carry(at, state);
    this.carryDocumented(appliance, at, state);
  }

  /** A baseline that was measured, or begun, on other days than now count is forgotten. */
  private carryDocumented(appliance: number, at: number, state: StateCarrier): void {
    const { fromMs, toMs } = this.asks.documentedOf(appliance) ?? { fromMs: 0, toMs: 0 };
    const kept = [state.number(fromMs), state.number(toMs)];
    if (kept[0] === fromMs && kept[1] === toMs) return;
    this.baseline[at] = Number.NaN;
    for (const column of [this.baselineDays, this.streak, this.today]) column[at] = 0;
    this.histograms.clear(at);
  }
}
