/** The makers of all notices in rows of numbers, side by side, so that a pair of two makers is told without reading the notice. */
export interface MakerRows {
  /** The makers of notice `n` stand from `from[n]` to before `from[n + 1]`. */
  readonly from: Int32Array;
  readonly makers: Int32Array;
}

/** Builds the rows from the maker ids of each notice. */
export function makerRows(makersOf: readonly (readonly number[])[]): MakerRows {
  const from = new Int32Array(makersOf.length + 1);
  makersOf.forEach((makers, id) => {
    from[id + 1] = (from[id] as number) + makers.length;
  });
  return { from, makers: Int32Array.from(makersOf.flat()) };
}
