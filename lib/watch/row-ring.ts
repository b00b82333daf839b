import { Row } from "./row";
import type { StateCarrier } from "./state-carrier";

/** Eight numbers a row, so that one line of the cache holds it: the columns of `Row`. */
const width = 8;

/**
 * Rows in time order that wait until one `windowMs` newer is seen, in a ring that grows to what the window holds. A row of the same time
 * waits behind the earlier one.
 */
export class RowRing {
  newest = Number.NEGATIVE_INFINITY;
  /** Rows up to this time have waited long enough; older ones come too late. */
  dueMs = Number.NEGATIVE_INFINITY;
  private values: Float64Array;
  private capacity = 0;
  private head = 0;
  private size = 0;

  constructor(
    private readonly windowMs: number,
    capacity = 16,
  ) {
    this.capacity = capacity;
    this.values = new Float64Array(capacity * width);
  }

  get isEmpty(): boolean {
    return this.size === 0;
  }

  /** Where the row stands that waits behind `row` others. */
  private place(row: number): number {
    return ((this.head + row) & (this.capacity - 1)) * width;
  }

  /** The receptacles of the rows that wait, oldest first. */
  receptacles(): number[] {
    return Array.from({ length: this.size }, (_, row) => this.values[this.place(row) + 7]!);
  }

  /** Takes a row, which is not older than the window. */
  push(row: Row): void {
    if (this.size === this.capacity) this.grow();
    let at = this.place(this.size);
    if (row.atMs >= this.newest) this.moveOn(row.atMs);
    else at = this.makePlace(row.atMs);
    this.size++;
    this.write(at, row);
  }

  private moveOn(newest: number): void {
    this.newest = newest;
    this.dueMs = newest - this.windowMs;
  }

  private write(at: number, row: Row): void {
    const { values } = this;
    values[at] = row.atMs;
    values[at + 1] = row.watts;
    values[at + 2] = row.amps;
    values[at + 3] = row.volts;
    values[at + 4] = row.powerFactor;
    values[at + 5] = row.tag;
    values[at + 6] = row.event;
    values[at + 7] = row.receptacle;
  }

  private read(at: number, row: Row): void {
    const { values } = this;
    row.atMs = values[at]!;
    row.watts = values[at + 1]!;
    row.amps = values[at + 2]!;
    row.volts = values[at + 3]!;
    row.powerFactor = values[at + 4]!;
    row.tag = values[at + 5]! | 0;
    row.event = values[at + 6]! | 0;
    row.receptacle = values[at + 7]! | 0;
  }

  /** Moves the rows that are newer one place on; the place that becomes free. */
  private makePlace(atMs: number): number {
    let behind = this.size;
    for (; behind > 0 && this.values[this.place(behind - 1)]! > atMs; behind--) {
      const from = this.place(behind - 1);
      this.values.copyWithin(this.place(behind), from, from + width);
    }
    return this.place(behind);
  }

  /** Takes the oldest row out into `row` when it has waited long enough; false when none has. */
  popDue(row: Row): boolean {
    const at = this.head * width;
    if (this.size === 0 || this.values[at]! > this.dueMs) return false;
    this.read(at, row);
    this.dropFirst();
    return true;
  }

  /** Takes the oldest row out into `row`; false when there is none. */
  pop(row: Row): boolean {
    if (this.size === 0) return false;
    this.read(this.head * width, row);
    this.dropFirst();
    return true;
  }

  private dropFirst(): void {
    this.head = (this.head + 1) & (this.capacity - 1);
    this.size--;
  }

  private grow(): void {
    const made = new Float64Array(this.values.length * 2);
    const from = this.head * width;
    made.set(this.values.subarray(from), 0);
    made.set(this.values.subarray(0, from), this.values.length - from);
    this.values = made;
    this.capacity *= 2;
    this.head = 0;
  }

  /** Carries the rows that wait; `carryReceptacle` and `carryTag` name what the numbers stand for, -1 for what is gone. */
  carry(state: StateCarrier, carryReceptacle: (receptacle: number) => number, carryTag: (tag: number) => number): void {
    const count = state.number(this.size);
    const newest = state.number(this.newest);
    const row = new Row();
    for (let index = 0; index < count; index++) {
      if (!state.isReading) this.read(this.place(index), row);
      for (const column of ["atMs", "watts", "amps", "volts", "powerFactor", "event"] as const) row[column] = state.number(row[column]);
      row.tag = carryTag(row.tag);
      row.receptacle = carryReceptacle(row.receptacle);
      if (state.isReading && row.receptacle >= 0) this.push(row);
    }
    this.moveOn(newest);
  }
}
