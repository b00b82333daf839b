import type { Db } from "./client";
import { type KeptPart, type KeptReading, openKeptPart } from "./kept-log-queries";

/** Readings of one load, as a replay hands them out. */
export interface ReplayedRows {
  readonly load: string;
  readonly rows: readonly KeptReading[];
}

/**
 * The readings of these parts in time order, as if their loads had been one file: each load keeps the order of its file, and of
 * several loads the one whose time is earliest goes on, whatever the parts are. One part of each load is open at a time.
 */
export async function* replayParts(db: Db, all: readonly KeptPart[]): AsyncGenerator<ReplayedRows> {
  const loads = new Map<string, KeptPart[]>();
  for (const part of all) {
    const parts = loads.get(part.importRunId) ?? [];
    parts.push(part);
    loads.set(part.importRunId, parts);
  }
  let heads = [...loads].map(
    ([load, parts]) =>
      new LoadHead(
        db,
        load,
        parts.sort((a, b) => a.number - b.number),
      ),
  );
  for (;;) {
    heads = heads.filter((head) => !head.isDone).sort((a, b) => (a.isBefore(b) ? -1 : 1));
    const [first, second] = heads;
    if (!first) return;
    if (first.isOpen) yield { load: first.load, rows: first.takeWhileBefore(second) };
    else await first.open();
  }
}

/** Where the reading of one load stands. */
class LoadHead {
  private rows: KeptReading[] = [];
  private at = 0;
  private part = 0;
  /** The latest time taken so far: a late row does not turn the clock back. */
  private newest = Number.NEGATIVE_INFINITY;

  constructor(
    private readonly db: Db,
    readonly load: string,
    private readonly parts: readonly KeptPart[],
  ) {}

  get isDone(): boolean {
    return this.at >= this.rows.length && this.part >= this.parts.length;
  }

  /** The time of the next row, or for a part that is not open the earliest it can be. */
  get time(): number {
    const next = this.rows[this.at]?.atMs ?? this.parts[this.part]?.fromAt.getTime() ?? Number.POSITIVE_INFINITY;
    return Math.max(next, this.newest);
  }

  get isOpen(): boolean {
    return this.at < this.rows.length;
  }

  /** Of two loads at one time the first by name goes on, so that the order does not depend on where parts end. */
  isBefore(other: LoadHead): boolean {
    return this.time === other.time ? this.load < other.load : this.time < other.time;
  }

  /** Opens the next part; its first row may be later than the part's earliest. */
  async open(): Promise<void> {
    const next = this.parts[this.part];
    if (!next) return;
    this.rows = await openKeptPart(this.db, next.id);
    this.at = 0;
    this.part += 1;
  }

  /** The rows before another load goes on, at least one and at most the rest of a part. */
  takeWhileBefore(other: LoadHead | undefined): KeptReading[] {
    const from = this.at;
    do {
      this.newest = Math.max(this.newest, this.rows[this.at]?.atMs ?? this.newest);
      this.at += 1;
    } while (this.isOpen && (other === undefined || this.isBefore(other)));
    return this.rows.slice(from, this.at);
  }
}
