import type { StateCarrier } from "./state-carrier";

/**
 * Puts rows that come a little out of order into time order: a row is let go once one that is `windowMs` newer was seen.
 * A ring that grows to what the window holds; each row goes with its owner, in arrays side by side.
 */
export class ReorderWindow<Row, Owner> {
  private times = new Float64Array(1024);
  private rows = new Array<Row | undefined>(1024).fill(undefined);
  private owners = new Array<Owner | undefined>(1024).fill(undefined);
  private head = 0;
  private size = 0;
  newest = Number.NEGATIVE_INFINITY;

  constructor(
    private readonly windowMs: number,
    private readonly release: (row: Row, owner: Owner) => void,
  ) {}

  /** Takes a row not older than the window. Rows of the same time keep the order in which they came. */
  push(atMs: number, row: Row, owner: Owner): void {
    if (this.size === this.times.length) this.grow();
    const mask = this.times.length - 1;
    let place = this.head + this.size;
    if (atMs < this.newest) {
      while (place > this.head && this.times[(place - 1) & mask]! > atMs) {
        this.times[place & mask] = this.times[(place - 1) & mask]!;
        this.rows[place & mask] = this.rows[(place - 1) & mask];
        this.owners[place & mask] = this.owners[(place - 1) & mask];
        place--;
      }
    } else this.newest = atMs;
    this.times[place & mask] = atMs;
    this.rows[place & mask] = row;
    this.owners[place & mask] = owner;
    this.size++;
    const due = this.newest - this.windowMs;
    while (this.size > 0 && this.times[this.head & mask]! <= due) this.pop(mask);
  }

  private pop(mask: number): void {
    const at = this.head & mask;
    const row = this.rows[at]!;
    const owner = this.owners[at]!;
    this.rows[at] = undefined;
    this.head = (this.head + 1) & mask;
    this.size--;
    this.release(row, owner);
  }

  private grow(): void {
    const before = this.times.length;
    const inOrder = <Value>(values: ArrayLike<Value>) =>
      Array.from({ length: before }, (_, index) => values[(this.head + index) & (before - 1)]!);
    const times = new Float64Array(before * 2);
    times.set(inOrder(this.times));
    const empty = new Array<undefined>(before).fill(undefined);
    this.times = times;
    this.rows = [...inOrder(this.rows), ...empty];
    this.owners = [...inOrder(this.owners), ...empty];
    this.head = 0;
  }

  /** Carries the rows that wait, in their order; `carryRow` gives the row and its owner back, null for one that is nobody's any more. */
  carry(state: StateCarrier, carryRow: (row: Row | null, owner: Owner | null) => { row: Row; owner: Owner } | null): void {
    const count = state.number(this.size);
    const newest = state.number(this.newest);
    for (let at = 0; at < count; at++) {
      const place = (this.head + at) & (this.times.length - 1);
      const [row, owner] = state.isReading ? [null, null] : [this.rows[place]!, this.owners[place]!];
      const atMs = state.number(row === null ? 0 : this.times[place]!);
      const back = carryRow(row, owner);
      if (state.isReading && back !== null) this.put(atMs, back.row, back.owner);
    }
    this.newest = newest;
  }

  /** Puts a row behind those that wait; none is let go. */
  private put(atMs: number, row: Row, owner: Owner): void {
    if (this.size === this.times.length) this.grow();
    const place = (this.head + this.size++) & (this.times.length - 1);
    this.times[place] = atMs;
    this.rows[place] = row;
    this.owners[place] = owner;
  }

  /** Lets every row go. */
  flush(): void {
    while (this.size > 0) this.pop(this.times.length - 1);
  }
}
