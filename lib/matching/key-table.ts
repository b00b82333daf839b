/**
 * A fixed table from 32-bit keys to runs of numbers: open addressing into one `Int32Array`, behind a bit filter that
 * answers most misses from one word of memory. Built once, never changed.
 */
export interface KeyTable {
  /** The runs of all keys, end to end. */
  readonly values: Int32Array;
  /** `[runs[slot], runs[slot + 1])` is the run of the key that `slotOf` found. */
  readonly runs: Int32Array;
  readonly slots: Int32Array;
  readonly keys: Int32Array;
  readonly filter: Int32Array;
}

/** Bits of the filter for each key held: at 16 a miss passes it once in 16. */
const filterBitsPerKey = 16;

/** Spreads a 32-bit hash over all bits (the finaliser of MurmurHash3, public domain). */
export function spread(hash: number): number {
  let h = hash | 0;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) | 0;
}

function powerOfTwoFrom(least: number): number {
  let size = 16;
  while (size < least) size *= 2;
  return size;
}

/** Collects key and value pairs; both lists run in step. */
export interface KeyedValues {
  readonly keys: number[];
  readonly values: number[];
}

/** Builds the table. Keys must already be `spread`. The values of one key keep the order in which they were given. */
export function buildKeyTable({ keys, values }: KeyedValues): KeyTable {
  const size = powerOfTwoFrom(keys.length * 2);
  const slots = new Int32Array(size).fill(-1);
  const distinct: number[] = [];
  const counts: number[] = [];
  const filter = new Int32Array(powerOfTwoFrom((keys.length * filterBitsPerKey) / 32));
  const slotOfPair = new Int32Array(keys.length);
  const filterMask = filter.length * 32 - 1;
  keys.forEach((key, pair) => {
    let at = key & (size - 1);
    while (slots[at] !== -1 && distinct[slots[at] ?? 0] !== key) at = (at + 1) & (size - 1);
    if (slots[at] === -1) {
      slots[at] = distinct.push(key) - 1;
      counts.push(0);
    }
    const slot = slots[at] ?? 0;
    counts[slot] = (counts[slot] ?? 0) + 1;
    slotOfPair[pair] = slot;
    const bit = (key >>> 7) & filterMask;
    filter[bit >>> 5] = (filter[bit >>> 5] ?? 0) | (1 << (bit & 31));
  });
  const runs = new Int32Array(distinct.length + 1);
  counts.forEach((count, slot) => {
    runs[slot + 1] = (runs[slot] ?? 0) + count;
  });
  const next = runs.slice();
  const ordered = new Int32Array(keys.length);
  values.forEach((value, pair) => {
    const slot = slotOfPair[pair] ?? 0;
    const at = next[slot] ?? 0;
    ordered[at] = value;
    next[slot] = at + 1;
  });
  return { values: ordered, runs, slots, keys: Int32Array.from(distinct), filter };
}

/** The slot of a spread key, or -1 when the table does not hold it. */
export function slotOf(table: KeyTable, key: number): number {
  const { slots, keys, filter } = table;
  const bit = (key >>> 7) & (filter.length * 32 - 1);
  if (((filter[bit >>> 5] as number) & (1 << (bit & 31))) === 0) return -1;
  const mask = slots.length - 1;
  let at = key & mask;
  for (;;) {
    const slot = slots[at] as number;
    if (slot === -1 || keys[slot] === key) return slot;
    at = (at + 1) & mask;
  }
}
