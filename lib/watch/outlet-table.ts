import { longer } from "./columns";
import type { PlannedOutlet } from "./outlet-plan";
import type { ScreeningPolicy } from "./policy";
import type { StateCarrier } from "./state-carrier";
import { type VoltageBand, voltageBand } from "./voltage-band";

/** Where an outlet hangs, by numbers; -1 where it does not. */
export interface OutletWiring {
  readonly site: number;
  readonly circuit: number;
  /** 0 or 1, a leg of a split-phase site. */
  readonly leg: number;
  readonly nominalVolts: number | null;
}

const never = Number.NEGATIVE_INFINITY;

/** The outlets of a screening by number, column by column: what the plan says of each, and what its rows told. */
export class OutletTable {
  readonly plans: PlannedOutlet[] = [];
  /** The bands of the nominals there are, the first for an unknown one; and which is an outlet's. */
  readonly bands: (VoltageBand | null)[] = [null];
  /** What rows ask of a band, side by side: highest and lowest voltage, where a dip begins, the nominal. NaN for an unknown one. */
  bandFigures = new Float64Array(4).fill(Number.NaN);
  band = new Int32Array(0);
  site = new Int32Array(0);
  circuit = new Int32Array(0);
  leg = new Int8Array(0);
  /** Infinity where the plan is silent. */
  outletAmps = new Float64Array(0);
  /** First of its receptacles, -1 for none; the others follow by `ReceptacleTable.next`. */
  firstReceptacle = new Int32Array(0);
  nextInCircuit = new Int32Array(0);
  /** The only appliance recorded here; -1 for none, -2 for several. */
  recorded = new Int32Array(0);

  /** The held current of all receptacles together, and when it was read. */
  amps = new Float64Array(0);
  readAtMs = new Float64Array(0);
  /** Newest row taken, judged or not. */
  newestMs = new Float64Array(0);
  /** The last row that came too late, of the few outlets that have such. */
  private readonly behindMs = new Map<number, number>();
  firstMs = new Float64Array(0);
  lastMs = new Float64Array(0);
  /** The line voltage last seen, and when. */
  volts = new Float64Array(0);
  voltsAtMs = new Float64Array(0);
  dipAtMs = new Float64Array(0);
  /** 1 once its rows ran behind the rest of the log: it is judged by itself, without circuit and legs. */
  isApart = new Uint8Array(0);

  constructor(private readonly policy: ScreeningPolicy) {}

  get count(): number {
    return this.plans.length;
  }

  grow(count: number): void {
    this.site = longer(this.site, count);
    this.circuit = longer(this.circuit, count);
    this.band = longer(this.band, count);
    this.leg = longer(this.leg, count);
    this.outletAmps = longer(this.outletAmps, count);
    this.firstReceptacle = longer(this.firstReceptacle, count, -1);
    this.nextInCircuit = longer(this.nextInCircuit, count, -1);
    this.recorded = longer(this.recorded, count, -1);
    this.amps = longer(this.amps, count);
    this.readAtMs = longer(this.readAtMs, count, never);
    this.newestMs = longer(this.newestMs, count, never);
    this.firstMs = longer(this.firstMs, count, Number.POSITIVE_INFINITY);
    this.lastMs = longer(this.lastMs, count, never);
    this.voltsAtMs = longer(this.voltsAtMs, count, never);
    this.dipAtMs = longer(this.dipAtMs, count, never);
    this.volts = longer(this.volts, count);
    this.isApart = longer(this.isApart, count);
  }

  /** Adds an outlet, for which there must be room; its number. */
  add(plan: PlannedOutlet, wiring: OutletWiring): number {
    const outlet = this.plans.push(plan) - 1;
    this.site[outlet] = wiring.site;
    this.circuit[outlet] = wiring.circuit;
    this.leg[outlet] = wiring.leg;
    this.outletAmps[outlet] = plan.outletAmps ?? Number.POSITIVE_INFINITY;
    this.band[outlet] = wiring.nominalVolts === null ? 0 : this.bandNumber(wiring.nominalVolts);
    return outlet;
  }

  private bandNumber(nominal: number): number {
    const known = this.bands.findIndex((band) => band?.nominal === nominal);
    return known > 0 ? known : this.addBand(voltageBand(nominal, this.policy));
  }

  private addBand(band: VoltageBand): number {
    const number = this.bands.push(band) - 1;
    this.bandFigures = longer(this.bandFigures, this.bands.length * 4);
    this.bandFigures.set([band.high, band.low, band.dip, band.nominal], number * 4);
    return number;
  }

  /** The voltages that are let pass at an outlet; null where its nominal is unknown. */
  bandOf(outlet: number): VoltageBand | null {
    return this.bands[this.band[outlet]!]!;
  }

  /** The first row of one of its receptacles is judged. */
  seeFirst(outlet: number, atMs: number): void {
    if (this.firstMs[outlet]! > atMs) this.firstMs[outlet] = atMs;
  }

  /** Nominal volts of an outlet; null when neither the plan nor its site tells. */
  nominal(outlet: number): number | null {
    return this.bandOf(outlet)?.nominal ?? null;
  }

  /** The same as a figure, NaN when unknown. */
  nominalVolts(outlet: number): number {
    return this.bandFigures[this.band[outlet]! * 4 + 3]!;
  }

  /** The last row of an outlet that came too late, -Infinity before any; `atMs` is the one that comes now. */
  takeBehind(outlet: number, atMs: number): number {
    const before = this.behindMs.get(outlet) ?? never;
    this.behindMs.set(outlet, atMs);
    return before;
  }

  carry(outlet: number, state: StateCarrier): void {
    for (const column of [this.amps, this.readAtMs, this.newestMs, this.firstMs, this.lastMs])
      column[outlet] = state.number(column[outlet]!);
    const behindMs = state.number(this.behindMs.get(outlet) ?? never);
    if (behindMs > never) this.behindMs.set(outlet, behindMs);
    for (const column of [this.volts, this.voltsAtMs, this.dipAtMs]) column[outlet] = state.number(column[outlet]!);
    for (const column of [this.isApart]) column[outlet] = state.number(column[outlet]!);
  }
}
