import type { ScreeningPolicy } from "./policy";
import type { StateCarrier } from "./state-carrier";

/** What one outlet last showed of its leg's voltage. */
export interface LegVoltage {
  readonly leg: string;
  volts: number;
  readAtMs: number;
  /** Whether `volts` is counted in its leg's sum. */
  counted: boolean;
}

export interface NeutralEpisode {
  readonly fromMs: number;
  readonly toMs: number;
  /** Highest leg voltage, volts. */
  readonly peak: number;
  readonly lowest: number;
  readonly outlets: number;
}

interface Leg {
  sum: number;
  count: number;
}

/**
 * The signature of a lost neutral at one split-phase site: one leg rises, the other falls, their sum stays near twice the
 * nominal. Holds a sum per leg; a reading near nominal costs constant work, one away from it a look at the site's outlets.
 */
export class NeutralWatch {
  private readonly legs = new Map<string, Leg>();
  private readonly outlets: LegVoltage[] = [];
  private from = Number.NaN;
  private last = 0;
  private rows = 0;
  private peak = 0;
  private lowest = 0;
  private seen = 0;

  constructor(
    private readonly nominal: number,
    private readonly policy: ScreeningPolicy,
    private readonly report: (episode: NeutralEpisode) => void,
  ) {}

  /** A new outlet on a leg; its voltages are told by `observe`. */
  join(leg: string): LegVoltage {
    const outlet = { leg, volts: 0, readAtMs: Number.NEGATIVE_INFINITY, counted: false };
    this.outlets.push(outlet);
    if (!this.legs.has(leg)) this.legs.set(leg, { sum: 0, count: 0 });
    return outlet;
  }

  observe(outlet: LegVoltage, atMs: number, volts: number): void {
    this.forget(outlet);
    outlet.volts = volts;
    outlet.readAtMs = atMs;
    outlet.counted = true;
    const leg = this.legs.get(outlet.leg)!;
    leg.sum += volts;
    leg.count++;
    const away = Math.abs(volts - this.nominal) > this.policy.neutralLegShare * this.nominal;
    if (away || !Number.isNaN(this.from)) this.judge(atMs);
  }

  private forget(outlet: LegVoltage): void {
    if (!outlet.counted) return;
    const leg = this.legs.get(outlet.leg)!;
    leg.sum -= outlet.volts;
    leg.count--;
    if (leg.count === 0) leg.sum = 0;
    outlet.counted = false;
  }

  /** Outlets that fell silent stop counting, all of them at once, so that the verdict depends on times and not on the plan's order. */
  private forgetSilent(atMs: number): void {
    const holdMs = this.policy.holdSeconds * 1000;
    for (const outlet of this.outlets) if (outlet.counted && atMs - outlet.readAtMs > holdMs) this.forget(outlet);
  }

  private judge(atMs: number): void {
    this.forgetSilent(atMs);
    const [one, other, third] = [...this.legs.values()].filter((leg) => leg.count > 0);
    if (!one || !other || third) {
      this.quiet(atMs);
      return;
    }
    const [a, b] = [one.sum / one.count, other.sum / other.count];
    const [high, low] = [Math.max(a, b), Math.min(a, b)];
    const share = this.policy.neutralLegShare;
    const opposite = high > this.nominal * (1 + share) && low < this.nominal * (1 - share);
    const steady = Math.abs(a + b - 2 * this.nominal) <= this.policy.neutralSumShare * 2 * this.nominal;
    if (!opposite || !steady) {
      this.quiet(atMs);
      return;
    }
    if (!Number.isNaN(this.from) && atMs - this.last > this.policy.holdSeconds * 1000) this.close();
    if (Number.isNaN(this.from)) this.open(atMs, low);
    this.last = atMs;
    this.rows++;
    this.peak = Math.max(this.peak, high);
    this.lowest = Math.min(this.lowest, low);
    this.seen = Math.max(this.seen, one.count + other.count);
  }

  private open(atMs: number, low: number): void {
    this.from = atMs;
    this.rows = 0;
    this.peak = 0;
    this.lowest = low;
    this.seen = 0;
  }

  private quiet(atMs: number): void {
    if (!Number.isNaN(this.from) && atMs - this.last >= this.policy.neutralSeconds * 1000) this.close();
  }

  carry(state: StateCarrier): void {
    this.from = state.number(this.from);
    this.last = state.number(this.last);
    this.rows = state.number(this.rows);
    this.peak = state.number(this.peak);
    this.lowest = state.number(this.lowest);
    this.seen = state.number(this.seen);
    for (const leg of this.legs.values()) {
      leg.sum = state.number(leg.sum);
      leg.count = state.number(leg.count);
    }
  }

  close(): void {
    if (Number.isNaN(this.from)) return;
    if (this.rows > 2 && this.last - this.from >= this.policy.neutralSeconds * 1000) {
      this.report({ fromMs: this.from, toMs: this.last, peak: this.peak, lowest: this.lowest, outlets: this.seen });
    }
    this.from = Number.NaN;
  }
}
