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
  private readonly holdMs: number;

  constructor(private readonly tables: LoadTables) {
    const { policy, outlets, report } = tables;
    this.holdMs = policy.holdSeconds * 1000;
    this.excess = new ExcessTable(policy, (outlet, episode) =>
      report(overloadResult(outlets.plans[outlet]!, this.namedReceptacles(outlet), outlets.bands[outlet]?.northAmerican ?? false, episode)),
    );
  }

  private namedReceptacles(outlet: number): number {
    const { outlets, receptacles } = this.tables;
    let named = 0;
    for (let at = outlets.firstReceptacle[outlet]!; at >= 0; at = receptacles.next[at]!) if (!receptacles.isWhole(at)) named++;
    return named;
  }

  /** A row was read: its current is held from now on. */
  measure(receptacle: number, row: Row): void {
    const { receptacles } = this.tables;
    const amps = this.ampsOf(receptacle, row);
    if (Number.isNaN(amps)) return;
    receptacles.amps[receptacle] = amps;
    receptacles.readAtMs[receptacle] = row.atMs;
    this.addUp(receptacles.outlet[receptacle]!, row.atMs);
  }

  /** Amps of a row: as measured, else watts / (volts x power factor), with factor 1 where unknown. NaN when nothing tells. */
  private ampsOf(receptacle: number, row: Row): number {
    const { amps } = row;
    if (!Number.isNaN(amps)) return amps;
    const { outlets, receptacles } = this.tables;
    const measured = row.volts;
    const volts = !Number.isNaN(measured) ? measured : outlets.nominalVolts[receptacles.outlet[receptacle]!]!;
    const factor = row.powerFactor;
    return volts > 0 ? row.watts / (volts * (factor > 0 ? factor : 1)) : Number.NaN;
  }

  /** Nothing is drawn here any more. */
  drawEnds(receptacle: number, atMs: number): void {
    this.tables.receptacles.amps[receptacle] = 0;
    this.tables.receptacles.readAtMs[receptacle] = atMs;
  }

  /** Adds up what the receptacles hold at `atMs` and judges it; a row of the whole outlet counts where it is more. */
  addUp(outlet: number, atMs: number): void {
    const { outlets, receptacles, circuits } = this.tables;
    let sum = 0;
    let whole = 0;
    for (let at = outlets.firstReceptacle[outlet]!; at >= 0; at = receptacles.next[at]!) {
      if (atMs - receptacles.readAtMs[at]! > this.holdMs) continue;
      if (receptacles.isWhole(at)) whole = receptacles.amps[at]!;
      else sum += receptacles.amps[at]!;
    }
    const before = atMs - outlets.readAtMs[outlet]! <= this.holdMs ? outlets.amps[outlet]! : 0;
    const amps = Math.max(sum, whole);
    outlets.amps[outlet] = amps;
    outlets.readAtMs[outlet] = atMs;
    const rated = outlets.outletAmps[outlet]!;
    if (amps > rated || !this.excess.isIdle(outlet)) this.excess.observe(outlet, atMs, amps, rated);
    else this.excess.quiet(outlet, atMs, amps / rated);
    const circuit = outlets.circuit[outlet]!;
    if (circuit >= 0 && outlets.isApart[outlet] === 0) circuits.observe(circuit, atMs, amps - before);
  }
}
