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
 * nominal. Holds a sum per leg; a reading near nominal costs constant work, one away from it a look at the site's outlets.
 */
export class NeutralWatch {
  /** The outlets on a leg, by number. */
  readonly outlets: number[] = [];
  private readonly sums = [0, 0];
  private readonly counts = [0, 0];
  private from = Number.NaN;
  private last = 0;
  private rows = 0;
  private peak = 0;
  private lowest = 0;
  private seen = 0;

  constructor(
    private readonly nominal: number,
    private readonly table: OutletTable,
    private readonly policy: ScreeningPolicy,
    private readonly report: (episode: NeutralEpisode) => void,
  ) {}

  /** The voltage of an outlet on a leg. */
  observe(outlet: number, row: Row): void {
    const { table } = this;
    const { volts } = row;
    this.forget(outlet);
    table.legVolts[outlet] = volts;
    table.legAtMs[outlet] = row.atMs;
    table.isCounted[outlet] = 1;
    const leg = table.leg[outlet]!;
    this.sums[leg] = this.sums[leg]! + volts;
    this.counts[leg] = this.counts[leg]! + 1;
    const away = Math.abs(volts - this.nominal) > this.policy.neutralLegShare * this.nominal;
    if (away || !Number.isNaN(this.from)) this.judge(row.atMs);
  }

  private forget(outlet: number): void {
    const { table } = this;
    if (table.isCounted[outlet] === 0) return;
    const leg = table.leg[outlet]!;
    this.sums[leg] = this.counts[leg] === 1 ? 0 : this.sums[leg]! - table.legVolts[outlet]!;
    this.counts[leg] = this.counts[leg]! - 1;
    table.isCounted[outlet] = 0;
  }

  /** Outlets that fell silent stop counting, all of them at once, so that the verdict depends on times and not on the plan's order. */
  private forgetSilent(atMs: number): void {
    const { isCounted, legAtMs } = this.table;
    const holdMs = this.policy.holdSeconds * 1000;
    for (const outlet of this.outlets) if (isCounted[outlet] === 1 && atMs - legAtMs[outlet]! > holdMs) this.forget(outlet);
  }

  private judge(atMs: number): void {
    this.forgetSilent(atMs);
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
    if (!Number.isNaN(this.from) && atMs - this.last > this.policy.holdSeconds * 1000) this.close();
    if (Number.isNaN(this.from)) this.open(atMs, low);
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
    if (!Number.isNaN(this.from) && atMs - this.last >= this.policy.neutralSeconds * 1000) this.close();
  }

  /** Carries the legs; when other outlets are on them now, their sums are made anew from what the outlets last showed. */
  carry(state: StateCarrier): void {
    const { table } = this;
    const members = this.outlets.map((outlet) => `${table.plans[outlet]!.outlet}\u0000${table.leg[outlet]}`).join("\u0001");
    const isSame = state.text(members) === members;
    this.from = state.number(this.from);
    this.last = state.number(this.last);
    this.rows = state.number(this.rows);
    this.peak = state.number(this.peak);
    this.lowest = state.number(this.lowest);
    this.seen = state.number(this.seen);
    for (const sums of [this.sums, this.counts]) for (const leg of [0, 1]) sums[leg] = state.number(sums[leg]!);
    if (!isSame) this.addUp();
  }

  private addUp(): void {
    const { table } = this;
    for (const leg of [0, 1]) {
      const counted = this.outlets.filter((outlet) => table.leg[outlet] === leg && table.isCounted[outlet] === 1);
      this.counts[leg] = counted.length;
      this.sums[leg] = counted.reduce((sum, outlet) => sum + table.legVolts[outlet]!, 0);
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
