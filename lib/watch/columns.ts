/** A column of numbers by place. */
export type Column = Float64Array | Float32Array | Int32Array | Uint16Array | Int8Array | Uint8Array;

/** The column with room for `capacity` values; new places hold `fill`. The column itself when it has the room. */
export function longer<C extends Column>(column: C, capacity: number, fill = 0): C {
  if (column.length >= capacity) return column;
  const made = new (column.constructor as new (length: number) => C)(capacity);
  made.set(column);
  if (fill !== 0) made.fill(fill, column.length);
  return made;
}

/** Room to be made when `needed` places are asked for: a sixteenth more than before, so that little is unused. */
export function roomFor(needed: number, before: number): number {
  return needed <= before ? before : Math.max(needed, 8, Math.ceil(before * 1.0625));
}

/** Hands out places of a table that are in use for a while only, and takes them back. */
export class FreePlaces {
  private readonly free: number[] = [];
  private used = 0;

  /** A place, and whether the table must have more room for it. */
  take(): number {
    return this.free.pop() ?? this.used++;
  }

  give(place: number): void {
    this.free.push(place);
  }
}
