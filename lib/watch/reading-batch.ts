import type { MeasuredColumns } from "./row-ring";

/** Rows of a log as numbers, column by column, as they come; names are numbered by the screening that takes them. */
export class ReadingBatch implements MeasuredColumns {
  /** Rows that are filled in, from the first on. */
  count = 0;
  readonly atMs: Float64Array;
  readonly watts: Float64Array;
  readonly amps: Float64Array;
  readonly volts: Float64Array;
  readonly powerFactor: Float64Array;
  readonly tag: Int32Array;
  readonly event: Uint8Array;
  /** Number of the outlet, -1 for one that is in no plan. */
  readonly outlet: Int32Array;
  /** Number of the receptacle's text, -1 for none. */
  readonly receptacle: Int32Array;

  constructor(readonly capacity: number) {
    this.atMs = new Float64Array(capacity);
    this.watts = new Float64Array(capacity);
    this.amps = new Float64Array(capacity);
    this.volts = new Float64Array(capacity);
    this.powerFactor = new Float64Array(capacity);
    this.tag = new Int32Array(capacity);
    this.event = new Uint8Array(capacity);
    this.outlet = new Int32Array(capacity);
    this.receptacle = new Int32Array(capacity);
  }
}
