import type { Row } from "./row";

/** Rows of a log as numbers, column by column, as they come; receptacles and tags are numbered by the screening that takes them. */
export class ReadingBatch {
  /** Rows that are filled in, from the first on. */
  count = 0;
  readonly atMs: Float64Array;
  readonly watts: Float64Array;
  readonly amps: Float64Array;
  readonly volts: Float64Array;
  readonly powerFactor: Float64Array;
  readonly tag: Int32Array;
  readonly event: Uint8Array;
  readonly receptacle: Int32Array;

  constructor(readonly capacity: number) {
    this.atMs = new Float64Array(capacity);
    this.watts = new Float64Array(capacity);
    this.amps = new Float64Array(capacity);
    this.volts = new Float64Array(capacity);
    this.powerFactor = new Float64Array(capacity);
    this.tag = new Int32Array(capacity);
    this.event = new Uint8Array(capacity);
    this.receptacle = new Int32Array(capacity);
  }

  /** Fills a row in with the row `at` of the batch. */
  read(at: number, row: Row): void {
    row.atMs = this.atMs[at]!;
    row.watts = this.watts[at]!;
    row.amps = this.amps[at]!;
    row.volts = this.volts[at]!;
    row.powerFactor = this.powerFactor[at]!;
    row.tag = this.tag[at]!;
    row.event = this.event[at]!;
    row.receptacle = this.receptacle[at]!;
  }
}
