/**
 * Puts rows that come a little out of order into time order: a row is let go once one that is `windowMs` newer was seen.
 * A ring that grows to what the window holds.
 */
export class ReorderWindow<Row> {
  private times = new Float64Array(1024);
  private rows: (Row | undefined)[] = new Array(1024);
  private head = 0;
  private size = 0;
  newest = Number.NEGATIVE_INFINITY;

  constructor(
    private readonly windowMs: number,
    private readonly release: (atMs: number, row: Row) => void,
  ) {}

  /** Takes a row not older than the window. Rows of the same time keep the order in which they came. */
  push(atMs: number, row: Row): void {
    if (this.size === this.times.length) this.grow();
    const mask = this.times.length - 1;
    let place = this.head + this.size;
    if (atMs < this.newest) {
      while (place > this.head && this.times[(place - 1) & mask]! > atMs) {
        this.times[place & mask] = this.times[(place - 1) & mask]!;
        this.rows[place & mask] = this.rows[(place - 1) & mask];
        place--;
      }
    } else this.newest = atMs;
    this.times[place & mask] = atMs;
    this.rows[place & mask] = row;
    this.size++;
    const due = this.newest - this.windowMs;
    while (this.size > 0 && this.times[this.head & mask]! <= due) this.pop(mask);
  }

  private pop(mask: number): void {
    const at = this.head & mask;
    const row = this.rows[at]!;
    this.rows[at] = undefined;
    this.head = (this.head + 1) & mask;
    this.size--;
    this.release(this.times[at]!, row);
  }

  private grow(): void {
    const [times, rows] = [new Float64Array(this.times.length * 2), new Array<Row | undefined>(this.times.length * 2)];
    const mask = this.times.length - 1;
    for (let index = 0; index < this.size; index++) {
      times[index] = this.times[(this.head + index) & mask]!;
      rows[index] = this.rows[(this.head + index) & mask];
    }
    this.times = times;
    this.rows = rows;
    this.head = 0;
  }

  /** Lets every row go. */
  flush(): void {
    while (this.size > 0) this.pop(this.times.length - 1);
  }
}
