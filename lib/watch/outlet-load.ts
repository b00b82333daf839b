import type { CircuitTable } from "./circuit-table";
import { ExcessTable } from "./excess-table";
import type { OutletTable } from "./outlet-table";
import { overloadResult } from "./overload-result";
import type { ScreeningPolicy } from "./policy";
import type { ReceptacleTable } from "./receptacle-table";
import type { Row } from "./row";
import type { ScreeningResult } from "./screening-result";

export interface LoadTables {
  readonly policy: ScreeningPolicy;
  readonly outlets: OutletTable;
  readonly receptacles: ReceptacleTable;
  readonly circuits: CircuitTable;
  readonly report: (result: ScreeningResult) => void;
}

/** Adds the currents of each outlet's receptacles up and judges them against the outlet's rating; hands them on to its circuit. */
export class OutletLoad {
  readonly excess: ExcessTable;
  /** The current at hand, amperes. */
  private held = Number.NaN;
  private readonly holdMs: number = Number.NaN;

  constructor(private readonly tables: LoadTables) {
    const { policy, outlets, report } = tables;
    this.holdMs = policy.holdSeconds * 1000;
    this.excess = new ExcessTable(policy, {
      limitOf: (outlet) => outlets.outletAmps[outlet]!,
      report: (outlet, episode) => {
        const northAmerican = outlets.bandOf(outlet)?.northAmerican ?? false;
        report(overloadResult(outlets.plans[outlet]!, this.namedReceptacles(outlet), northAmerican, episode));
      },
    });
  }

  private namedReceptacles(outlet: number): number {
    const { outlets, receptacles } = this.tables;
    let named = 0;
    for (let at = outlets.firstReceptacle[outlet]!; at >= 0; at = receptacles.next[at]!) if (!receptacles.isWhole(at)) named++;
    return named;
  }

  /** A row was read: its current is held from now on. */
  measure(row: Row): void {
    this.held = row.amps;
    if (Number.isNaN(row.amps)) this.takeWatts(row);
    if (Number.isNaN(this.held)) return;
    const { receptacles } = this.tables;
    receptacles.amps[row.receptacle] = this.held;
    receptacles.readAtMs[row.receptacle] = row.atMs;
    this.addUp(row);
  }

  /** Takes the amps of a row without any: watts / (volts x power factor), with factor 1 where unknown. NaN when nothing tells. */
  private takeWatts(row: Row): void {
    const volts = Number.isNaN(row.volts) ? this.tables.outlets.nominalVolts(row.outlet) : row.volts;
    if (volts > 0) this.held = row.watts / (volts * (row.powerFactor > 0 ? row.powerFactor : 1));
  }

  /** Nothing is drawn here any more. */
  drawEnds(receptacle: number, atMs: number): void {
    this.tables.receptacles.amps[receptacle] = 0;
    this.tables.receptacles.readAtMs[receptacle] = atMs;
  }

  /** Adds up what the receptacles hold at a row's time and judges it; a row of the whole outlet counts where it is more. */
  addUp(row: Row): void {
    const { outlets, circuits } = this.tables;
    const { atMs, outlet } = row;
    const before = atMs - outlets.readAtMs[outlet]! <= this.holdMs ? outlets.amps[outlet]! : 0;
    this.addReceptacles(outlet, row);
    outlets.amps[outlet] = this.held;
    outlets.readAtMs[outlet] = atMs;
    this.excess.value = this.held;
    this.excess.bound = outlets.outletAmps[outlet]!;
    this.excess.judge(outlet, row);
    const circuit = outlets.circuit[outlet]!;
    if (circuit < 0 || row.isApart === 1) return;
    circuits.change = this.held - before;
    circuits.observe(circuit, row);
  }

  /** Takes the amps that the receptacles hold together; those of the whole outlet where they are more. */
  private addReceptacles(outlet: number, row: Row): void {
    const { outlets, receptacles } = this.tables;
    const { next, amps, readAtMs } = receptacles;
    const heldSince = row.atMs - this.holdMs;
    let sum = 0;
    let whole = 0;
    for (let at = outlets.firstReceptacle[outlet]!; at >= 0; at = next[at]!) {
      if (readAtMs[at]! < heldSince) continue;
      if (receptacles.isWhole(at)) whole = amps[at]!;
      else sum += amps[at]!;
    }
    this.held = Math.max(sum, whole);
  }
}
