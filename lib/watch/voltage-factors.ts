import { voltageFactor } from "./appliance-limit";
import type { LimitTable } from "./limit-table";

const places = 512;

/** Factors that refer a draw to rated voltage, the latest of each voltage and limit remembered: powers take long, and voltages come again. */
export class VoltageFactors {
  private readonly volts = new Float64Array(places).fill(Number.NaN);
  private readonly factors = new Float64Array(places);
  private readonly kinds = new Int32Array(places);

  constructor(private readonly table: LimitTable) {}

  /** The place of the factor for a limit by number at a voltage, for `at`. */
  find(number: number, volts: number, byAmps: number): number {
    const kind = number * 2 + byAmps;
    const place = (Math.imul(kind, 37) + volts * 10) & (places - 1);
    if (this.volts[place] !== volts || this.kinds[place] !== kind) {
      this.volts[place] = volts;
      this.kinds[place] = kind;
      this.factors[place] = voltageFactor(this.table.limits[number]!, volts, byAmps === 1 ? "A" : "W");
    }
    return place;
  }

  at(place: number): number {
    return this.factors[place]!;
  }
}
