import type { ExcessEpisode } from "./excess";
import type { ScreeningPolicy } from "./policy";
import type { StateCarrier } from "./state-carrier";

/**
 * A load that lasts: the level of a circuit against one limit. The stretch ends when the load stayed at or below the limit
 * for `dipMs`; it counts when it lasted `lastingMs` from its first to its last moment above.
 */
export class LastingLoad {
  private from = Number.NaN;
  private belowSince = Number.NaN;
  private peak = 0;

  constructor(
    private readonly limit: number,
    private readonly lastingMs: number,
    private readonly dipMs: number,
    private readonly report: (episode: ExcessEpisode) => void,
  ) {}

  get isOpen(): boolean {
    return !Number.isNaN(this.from);
  }

  /** The level from `atMs` on. */
  observe(atMs: number, level: number): void {
    if (level > this.limit) {
      if (this.isOver(atMs)) this.close(atMs);
      if (Number.isNaN(this.from)) {
        this.from = atMs;
        this.peak = 0;
      }
      this.belowSince = Number.NaN;
      if (level > this.peak) this.peak = level;
      return;
    }
    if (Number.isNaN(this.from)) return;
    if (Number.isNaN(this.belowSince)) this.belowSince = atMs;
    if (this.isOver(atMs)) this.close(atMs);
  }

  private isOver(atMs: number): boolean {
    return atMs - this.belowSince >= this.dipMs;
  }

  carry(state: StateCarrier): void {
    this.from = state.number(this.from);
    this.belowSince = state.number(this.belowSince);
    this.peak = state.number(this.peak);
  }

  /** Ends the stretch; a level still above counts until `atMs`. */
  close(atMs: number): void {
    if (Number.isNaN(this.from)) return;
    const toMs = Number.isNaN(this.belowSince) ? atMs : this.belowSince;
    if (toMs - this.from >= this.lastingMs) this.report({ fromMs: this.from, toMs, peak: this.peak, limit: this.limit });
    this.from = Number.NaN;
    this.belowSince = Number.NaN;
  }
}

/** Something on a circuit whose current is held from one reading to the next. */
export interface HeldCurrent {
  readonly amps: number;
  readonly readAtMs: number;
}

/** One circuit: the held currents of its outlets added, against the device's rating and its continuous share. */
export class CircuitLoad {
  readonly outlets: HeldCurrent[] = [];
  private level = 0;
  private lastAt = Number.NEGATIVE_INFINITY;
  private addedAt = Number.NEGATIVE_INFINITY;
  private isOpen = false;
  /** Nothing needs a look up to this level. */
  private readonly lowest: number;
  private readonly holdMs: number;
  private readonly loads: LastingLoad[];

  constructor(
    readonly deviceAmps: number,
    continuous: boolean,
    policy: ScreeningPolicy,
    report: (episode: ExcessEpisode, continuous: boolean) => void,
  ) {
    this.holdMs = policy.holdSeconds * 1000;
    this.loads = [new LastingLoad(deviceAmps, policy.circuitSeconds * 1000, 0, (episode) => report(episode, false))];
    this.lowest = continuous ? Math.min(1, policy.continuousShare) * deviceAmps : deviceAmps;
    if (!continuous) return;
    const share = policy.continuousShare * deviceAmps;
    this.loads.push(
      new LastingLoad(share, policy.continuousSeconds * 1000, policy.continuousDipSeconds * 1000, (episode) => report(episode, true)),
    );
  }

  /**
   * One of its outlets was read: its current changed by `change` amperes. Currents that hold no longer are left out when
   * everything is added up anew, once a second.
   */
  observe(atMs: number, change: number): void {
    if (atMs - this.lastAt > this.holdMs && this.level > 0) this.feed(this.lastAt + this.holdMs, 0);
    this.lastAt = atMs;
    const level = atMs - this.addedAt >= 1000 ? this.addUp(atMs) : this.level + change;
    this.level = level;
    if (level > this.lowest || this.isOpen) this.feed(atMs, level);
  }

  private addUp(atMs: number): number {
    let sum = 0;
    for (const outlet of this.outlets) if (atMs - outlet.readAtMs <= this.holdMs) sum += outlet.amps;
    this.addedAt = atMs;
    return sum;
  }

  private feed(atMs: number, level: number): void {
    this.level = level;
    this.isOpen = false;
    for (const load of this.loads) {
      load.observe(atMs, level);
      this.isOpen ||= load.isOpen;
    }
  }

  carry(state: StateCarrier): void {
    this.level = state.number(this.level);
    this.lastAt = state.number(this.lastAt);
    this.addedAt = state.number(this.addedAt);
    this.isOpen = state.flag(this.isOpen);
    for (const load of this.loads) load.carry(state);
  }

  /** Ends every stretch; the last readings hold until the end of the log at most. */
  close(atMs: number): void {
    for (const load of this.loads) load.close(Math.min(atMs, this.lastAt + this.holdMs));
  }
}
