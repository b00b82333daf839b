import type { ScreeningPolicy } from "./policy";
import type { StateCarrier } from "./state-carrier";

/** One sustained stretch above a limit; times in ms. */
export interface ExcessEpisode {
  readonly fromMs: number;
  readonly toMs: number;
  readonly peak: number;
  readonly limit: number;
}

function carryEpisode(state: StateCarrier, episode: ExcessEpisode | null): ExcessEpisode {
  return {
    fromMs: state.number(episode?.fromMs ?? 0),
    toMs: state.number(episode?.toMs ?? 0),
    peak: state.number(episode?.peak ?? 0),
    limit: state.number(episode?.limit ?? 0),
  };
}

/**
 * Watches one quantity against its limit. A stretch above it is sustained when it lasts longer than the persistence time
 * without falling: a start-up falls towards running draw within seconds, so each clear fall begins the time anew, until the
 * start time is over. Constant memory.
 */
export class Excess {
  private from = Number.NaN;
  private lastAbove = 0;
  private rows = 0;
  private peak = 0;
  private limit = 0;
  private anchorAt = 0;
  private anchorExcess = 0;
  private sustained = false;
  private isStart = false;
  /** The last value at or below the limit, and when; tells a start from an excess while running. */
  private before = 0;
  private beforeAt = Number.NEGATIVE_INFINITY;
  private episode: ExcessEpisode | null = null;

  constructor(
    private readonly policy: ScreeningPolicy,
    private readonly report: (episode: ExcessEpisode) => void,
  ) {}

  /** Whether the quantity was above its limit at its last reading. */
  get isAbove(): boolean {
    return !Number.isNaN(this.from);
  }

  /** Nothing open and nothing to report. */
  get isIdle(): boolean {
    return Number.isNaN(this.from) && this.episode === null;
  }

  observe(atMs: number, value: number, limit: number): void {
    if (this.isAbove && atMs - this.lastAbove > this.policy.holdSeconds * 1000) this.end(this.lastAbove + this.policy.holdSeconds * 1000);
    if (value <= limit) {
      this.quiet(atMs, value);
      if (this.isAbove) this.end(atMs);
      else if (this.episode !== null) this.release(atMs);
      return;
    }
    if (this.isAbove) this.goOn(atMs, value, limit);
    else this.begin(atMs, value, limit);
    this.lastAbove = atMs;
  }

  /** A value at or below the limit while nothing is open; the short way past `observe`. */
  quiet(atMs: number, value: number): void {
    this.before = value;
    this.beforeAt = atMs;
  }

  private begin(atMs: number, value: number, limit: number): void {
    this.release(atMs);
    this.from = atMs;
    this.rows = 1;
    this.peak = value;
    this.limit = limit;
    this.anchorAt = atMs;
    this.anchorExcess = value - limit;
    this.sustained = false;
    const running = this.before >= this.policy.runningBeforeShare * limit && atMs - this.beforeAt <= this.policy.holdSeconds * 1000;
    this.isStart = !running;
  }

  private goOn(atMs: number, value: number, limit: number): void {
    this.rows++;
    if (value > this.peak) this.peak = value;
    const excess = value - limit;
    const age = atMs - this.from;
    const fall = this.anchorExcess - excess;
    const fallsClearly = fall >= this.policy.startFallShare * this.anchorExcess && fall >= 0.05 * limit;
    const risesAtFirst = -fall > 0.25 * limit && age <= 2000;
    if (age <= this.policy.startSeconds * 1000 && (fallsClearly || risesAtFirst)) {
      this.anchorAt = atMs;
      this.anchorExcess = excess;
      // What the start-up took so far is inrush; the excess itself peaks after it.
      this.peak = value;
    }
    if (atMs - this.anchorAt >= this.policy.persistenceSeconds * 1000) this.sustained = true;
  }

  /** Ends the stretch at `atMs`: a reading below the limit, or an event that ends the draw. */
  end(atMs: number): void {
    if (!this.isAbove) return;
    if (this.sustained || (this.rows > 1 && this.likelyLength(atMs) >= this.policy.persistenceSeconds * 1000)) this.keep();
    this.from = Number.NaN;
  }

  /**
   * The draw fell somewhere between its last reading above and the reading that ends the stretch; half of that gap is counted.
   * After a start less of it, for a start-up mostly falls in the gap.
   */
  private likelyLength(endMs: number): number {
    const { excessTailSeconds, startTailSeconds } = this.policy;
    const gap = Math.min(endMs - this.lastAbove, (this.isStart ? startTailSeconds : excessTailSeconds) * 1000);
    return this.lastAbove - this.anchorAt + gap / 2;
  }

  private keep(): void {
    const near = this.episode !== null && this.from - this.episode.toMs <= this.policy.joinSeconds * 1000;
    const earlier = near ? this.episode : null;
    if (!near) this.flush();
    const peak = Math.max(this.peak, earlier?.peak ?? 0);
    this.episode = { fromMs: earlier?.fromMs ?? this.from, toMs: this.lastAbove, peak, limit: this.limit };
  }

  /** Reports the kept stretch once nothing can join it any more. */
  private release(atMs: number): void {
    if (this.episode !== null && atMs - this.episode.toMs > this.policy.joinSeconds * 1000) this.flush();
  }

  private flush(): void {
    if (this.episode === null) return;
    this.report(this.episode);
    this.episode = null;
  }

  carry(state: StateCarrier): void {
    this.from = state.number(this.from);
    this.before = state.number(this.before);
    this.beforeAt = state.number(this.beforeAt);
    this.lastAbove = state.number(this.lastAbove);
    this.rows = state.number(this.rows);
    this.peak = state.number(this.peak);
    this.limit = state.number(this.limit);
    this.anchorAt = state.number(this.anchorAt);
    this.anchorExcess = state.number(this.anchorExcess);
    this.sustained = state.flag(this.sustained);
    this.isStart = state.flag(this.isStart);
    this.episode = state.flag(this.episode !== null) ? carryEpisode(state, this.episode) : null;
  }

  /** Ends and reports everything; `atMs` is the time up to which the last reading may hold. */
  close(atMs: number): void {
    this.end(atMs);
    this.flush();
  }
}
