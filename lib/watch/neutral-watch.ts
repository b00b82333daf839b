import type { OutletTable } from "./outlet-table";
import type { ScreeningPolicy } from "./policy";
import type { Row } from "./row";
import type { StateCarrier } from "./state-carrier";

export interface NeutralEpisode {
  readonly fromMs: number;
  readonly toMs: number;
  /** Highest leg voltage, volts. */
  readonly peak: number;
  readonly lowest: number;
  readonly outlets: number;
}

/**
 * The signature of a lost neutral at one split-phase site: one leg rises, the other falls, their sum stays near twice the
 * nominal. A reading near nominal costs nothing, one away from it a look at what the site's outlets last showed.
 */
export class NeutralWatch {
  /** The outlets on a leg, by number. */
  outlets = new Int32Array(0);
  private readonly sums = new Float64Array(2);
  private readonly counts = new Int32Array(2);
  private readonly nominal: number = Number.NaN;
  private readonly awayVolts: number = Number.NaN;
  private from = Number.NaN;
  private last = 0;
  private rows = 0;
  private peak = 0;
  private lowest = 0;
  private seen = 0;

  constructor(
    nominal: number,
    private readonly table: OutletTable,
    private readonly policy: ScreeningPolicy,
    private readonly report: (episode: NeutralEpisode) => void,
  ) {
    this.nominal = nominal;
    this.awayVolts = policy.neutralLegShare * nominal;
  }

  /** When the episode began that goes on; Infinity when none does. */
  get openSinceMs(): number {
    return this.isOpen ? this.from : Number.POSITIVE_INFINITY;
  }

  private get isOpen(): boolean {
    return !Number.isNaN(this.from);
  }

  /** A row with the voltage of an outlet on a leg, which the table of outlets holds already. */
  observe(row: Row): void {
    if (Math.abs(row.volts - this.nominal) > this.awayVolts || this.isOpen) this.judge(row.atMs);
  }

  /**
   * Adds up what the outlets of each leg show; those that are silent or apart are left out, and so are interrupted ones beside others of
   * their leg. A leg on which every outlet is near zero counts as it is: without any load on the other leg, an open neutral takes it there.
   */
  private addUp(atMs: number): void {
    const least = (this.nominal * this.policy.interruptionShare) / 2;
    this.sums.fill(0);
    this.counts.fill(0);
    this.addShown(atMs, least, Number.POSITIVE_INFINITY);
    for (const leg of [0, 1]) if (this.counts[leg] === 0) this.addShown(atMs, 0, least, leg);
  }

  /** Adds the outlets, of one leg where it is given, that show `from` volts or more and less than `below`. */
  private addShown(atMs: number, from: number, below: number, only?: number): void {
    const { leg, volts, voltsAtMs, isApart } = this.table;
    const holdMs = this.policy.holdSeconds * 1000;
    for (const outlet of this.outlets) {
      const [of, shown] = [leg[outlet]!, volts[outlet]!];
      if (only !== undefined && of !== only) continue;
      if (atMs - voltsAtMs[outlet]! > holdMs || !(shown >= from && shown < below) || isApart[outlet] === 1) continue;
      this.sums[of] = this.sums[of]! + shown;
      this.counts[of] = this.counts[of]! + 1;
    }
  }

  private judge(atMs: number): void {
    this.addUp(atMs);
    const [one, other] = [this.counts[0]!, this.counts[1]!];
    if (one === 0 || other === 0) {
      this.quiet(atMs);
      return;
    }
    const [a, b] = [this.sums[0]! / one, this.sums[1]! / other];
    const [high, low] = [Math.max(a, b), Math.min(a, b)];
    const share = this.policy.neutralLegShare;
    const opposite = high > this.nominal * (1 + share) && low < this.nominal * (1 - share);
    const steady = Math.abs(a + b - 2 * this.nominal) <= this.policy.neutralSumShare * 2 * this.nominal;
    if (!opposite || !steady) {
      this.quiet(atMs);
      return;
    }
    if (this.isOpen && atMs - this.last > this.policy.holdSeconds * 1000) this.close();
    if (!this.isOpen) this.open(atMs, low);
    this.last = atMs;
    this.rows++;
    this.peak = Math.max(this.peak, high);
    this.lowest = Math.min(this.lowest, low);
    this.seen = Math.max(this.seen, one + other);
  }

  private open(atMs: number, low: number): void {
    this.from = atMs;
    this.rows = 0;
    this.peak = 0;
    this.lowest = low;
    this.seen = 0;
  }

  private quiet(atMs: number): void {
    if (this.isOpen && atMs - this.last >= this.policy.neutralSeconds * 1000) this.close();
  }

  carry(state: StateCarrier): void {
    this.from = state.number(this.from);
    this.last = state.number(this.last);
    this.rows = state.number(this.rows);
    this.peak = state.number(this.peak);
    this.lowest = state.number(this.lowest);
    this.seen = state.number(this.seen);
  }

  close(): void {
    if (!this.isOpen) return;
    if (this.rows > 2 && this.last - this.from >= this.policy.neutralSeconds * 1000) {
      this.report({ fromMs: this.from, toMs: this.last, peak: this.peak, lowest: this.lowest, outlets: this.seen });
    }
    this.from = Number.NaN;
  }
}
