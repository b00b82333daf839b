import { longer } from "./columns";
import type { StateCarrier } from "./state-carrier";

/** The measured columns of rows; NaN is not measured. */
export interface MeasuredColumns {
  readonly atMs: Float64Array;
  readonly watts: Float64Array;
  readonly amps: Float64Array;
  readonly volts: Float64Array;
  readonly powerFactor: Float64Array;
  /** Number of the tag's text, -1 for none. */
  readonly tag: Int32Array;
  /** Event and cause, see `row-event.ts`; 0 for a reading. */
  readonly event: Uint8Array;
}

/**
 * Rows in time order that wait until one `windowMs` newer is seen; column by column in a ring that grows to what the window holds. A row
 * of the same time waits behind the earlier one.
 */
export class RowRing implements MeasuredColumns {
  atMs: Float64Array;
  watts: Float64Array;
  amps: Float64Array;
  volts: Float64Array;
  powerFactor: Float64Array;
  tag: Int32Array;
  event: Uint8Array;
  /** The receptacle that the row is of. */
  receptacle: Int32Array;
  newest = Number.NEGATIVE_INFINITY;
  private head = 0;
  private size = 0;

  constructor(
    private readonly windowMs: number,
    capacity = 16,
  ) {
    this.atMs = new Float64Array(capacity);
    this.watts = new Float64Array(capacity);
    this.amps = new Float64Array(capacity);
    this.volts = new Float64Array(capacity);
    this.powerFactor = new Float64Array(capacity);
    this.tag = new Int32Array(capacity);
    this.event = new Uint8Array(capacity);
    this.receptacle = new Int32Array(capacity);
  }

  get isEmpty(): boolean {
    return this.size === 0;
  }

  /** The receptacles of the rows that wait, oldest first. */
  receptacles(): number[] {
    return Array.from({ length: this.size }, (_, row) => this.receptacle[(this.head + row) & (this.atMs.length - 1)]!);
  }

  /** Takes row `at` of `rows`, which is not older than the window. */
  push(rows: MeasuredColumns, at: number, receptacle: number): void {
    if (this.size === this.atMs.length) this.grow();
    const mask = this.atMs.length - 1;
    const atMs = rows.atMs[at]!;
    let place = (this.head + this.size) & mask;
    if (atMs >= this.newest) this.newest = atMs;
    else place = this.makePlace(atMs);
    this.size++;
    this.atMs[place] = atMs;
    this.watts[place] = rows.watts[at]!;
    this.amps[place] = rows.amps[at]!;
    this.volts[place] = rows.volts[at]!;
    this.powerFactor[place] = rows.powerFactor[at]!;
    this.tag[place] = rows.tag[at]!;
    this.event[place] = rows.event[at]!;
    this.receptacle[place] = receptacle;
  }

  /** Moves the rows that are newer one place on; the place that becomes free. */
  private makePlace(atMs: number): number {
    const mask = this.atMs.length - 1;
    let behind = this.head + this.size;
    while (behind > this.head && this.atMs[(behind - 1) & mask]! > atMs) {
      this.copy((behind - 1) & mask, behind & mask);
      behind--;
    }
    return behind & mask;
  }

  private copy(from: number, to: number): void {
    for (const column of this.columns()) column[to] = column[from]!;
  }

  private columns() {
    return [this.atMs, this.watts, this.amps, this.volts, this.powerFactor, this.tag, this.event, this.receptacle] as const;
  }

  /** Takes the oldest row out when it has waited long enough; its place in the columns, -1 when none has. */
  due(): number {
    const { head } = this;
    if (this.size === 0 || this.atMs[head]! > this.newest - this.windowMs) return -1;
    return this.pop();
  }

  /** Takes the oldest row out; its place, -1 when there is none. What stands there holds until the next row is taken. */
  pop(): number {
    if (this.size === 0) return -1;
    const { head } = this;
    this.head = (head + 1) & (this.atMs.length - 1);
    this.size--;
    return head;
  }

  private grow(): void {
    const before = this.atMs.length;
    const inOrder = <C extends Float64Array | Int32Array | Uint8Array>(column: C): C => {
      const made = longer(column, before * 2);
      made.set(column.subarray(this.head), 0);
      made.set(column.subarray(0, this.head), before - this.head);
      return made;
    };
    this.atMs = inOrder(this.atMs);
    this.watts = inOrder(this.watts);
    this.amps = inOrder(this.amps);
    this.volts = inOrder(this.volts);
    this.powerFactor = inOrder(this.powerFactor);
    this.tag = inOrder(this.tag);
    this.event = inOrder(this.event);
    this.receptacle = inOrder(this.receptacle);
    this.head = 0;
  }

  /** Carries the rows that wait; `carryReceptacle` and `carryTag` name what the numbers stand for, -1 for what is gone. */
  carry(state: StateCarrier, carryReceptacle: (receptacle: number) => number, carryTag: (tag: number) => number): void {
    const count = state.number(this.size);
    const newest = state.number(this.newest);
    for (let row = 0; row < count; row++) {
      if (state.isReading && this.size === this.atMs.length) this.grow();
      const at = (this.head + (state.isReading ? this.size : row)) & (this.atMs.length - 1);
      for (const column of [this.atMs, this.watts, this.amps, this.volts, this.powerFactor, this.event])
        column[at] = state.number(column[at]!);
      this.tag[at] = carryTag(this.tag[at]!);
      this.receptacle[at] = carryReceptacle(this.receptacle[at]!);
      if (state.isReading && this.receptacle[at]! >= 0) this.size++;
    }
    this.newest = newest;
  }
}
