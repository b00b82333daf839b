import type { NeutralWatch } from "./neutral-watch";
import type { OutletTable } from "./outlet-table";
import type { ScreeningPolicy } from "./policy";
import type { Row } from "./row";
import type { StateCarrier } from "./state-carrier";
import { StretchTable, type VoltageEpisode } from "./stretch-table";

export interface LineTables {
  readonly policy: ScreeningPolicy;
  readonly outlets: OutletTable;
  readonly report: (site: number, episode: VoltageEpisode) => void;
}

/** Judges the line voltage that each outlet sees. */
export class LineWatch {
  /** The watch over the legs of each site by its number; null where it has none. */
  readonly neutrals: (NeutralWatch | null)[] = [];
  private readonly high: StretchTable;
  private readonly low: StretchTable;

  constructor(private readonly tables: LineTables) {
    this.high = this.stretches("high_voltage", 1);
    this.low = this.stretches("low_voltage", -1);
  }

  private stretches(kind: VoltageEpisode["kind"], sign: 1 | -1): StretchTable {
    const { policy, outlets, report } = this.tables;
    return new StretchTable(sign, policy.holdSeconds * 1000, {
      lastingMs: (outlet) => outlets.bandOf(outlet)?.lastingMs ?? Number.POSITIVE_INFINITY,
      report: (outlet, fromMs, toMs, peak) => {
        const band = outlets.bandOf(outlet);
        if (band === null) return;
        const limit = sign > 0 ? band.high : band.low;
        const { nominal, rule } = band;
        report(outlets.site[outlet]!, { kind, outlet: outlets.plans[outlet]!.outlet, fromMs, toMs, peak, limit, nominal, rule });
      },
    });
  }

  grow(count: number): void {
    this.high.grow(count);
    this.low.grow(count);
  }

  /** Judges the voltage of a row. */
  observe(row: Row): void {
    const { outlets } = this.tables;
    const { volts, outlet } = row;
    if (Number.isNaN(volts)) return;
    outlets.volts[outlet] = volts;
    outlets.voltsAtMs[outlet] = row.atMs;
    const { bandFigures } = outlets;
    const band = outlets.band[outlet]! * 4;
    const { high, low } = this;
    if (volts > bandFigures[band]! || volts < bandFigures[band + 1]! || high.isOpen(outlet) || low.isOpen(outlet)) this.judge(outlet, row);
    if (volts < bandFigures[band + 2]!) outlets.dipAtMs[outlet] = row.atMs;
    if (outlets.leg[outlet]! >= 0 && row.isApart === 0) this.neutrals[outlets.site[outlet]!]?.observe(row);
  }

  private judge(outlet: number, { atMs, volts }: Row): void {
    const { high, low } = this;
    const band = this.tables.outlets.bandOf(outlet);
    if (band === null) return;
    if (volts > band.high) high.beyond(outlet, atMs, volts);
    else high.inside(outlet, atMs);
    if (volts < band.low && volts >= band.interrupted) low.beyond(outlet, atMs, volts);
    else low.inside(outlet, atMs);
  }

  /** When the earliest stretch began that is open at any of the outlets; Infinity when none is. */
  openSinceMs(outlets: Int32Array): number {
    return outlets.reduce(
      (least, outlet) => Math.min(least, this.high.openSinceMs(outlet), this.low.openSinceMs(outlet)),
      Number.POSITIVE_INFINITY,
    );
  }

  close(outlet: number, atMs: number): void {
    this.high.close(outlet, atMs);
    this.low.close(outlet, atMs);
  }

  carry(outlet: number, state: StateCarrier): void {
    this.high.carry(outlet, state);
    this.low.carry(outlet, state);
  }
}
