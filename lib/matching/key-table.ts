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
  /** How far a multiplied key is shifted to its place in the filter. */
  readonly filterShift: number;
}

/** Bits of the filter for each key held: at 16 a miss passes it once in 16. */
const filterBitsPerKey = 16;

/** Spreads a 32-bit hash over all bits (the finaliser of MurmurHash3, public domain). */
function spread(hash: number): number {
  let h = hash | 0;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) | 0;
}

/** Multiplier of Fibonacci hashing: 2^32 divided by the golden ratio (Knuth, The Art of Computer Programming, 6.4). */
const golden = 0x9e3779b1;

/** Whether the table may hold the key; false is certain. `key` is not spread. */
export function mayHold({ filter, filterShift }: KeyTable, key: number): boolean {
  const bit = Math.imul(key, golden) >>> filterShift;
  return ((filter[bit >>> 5] as number) & (1 << (bit & 31))) !== 0;
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

/** Builds the table. The values of one key keep the order in which they were given. */
export function buildKeyTable({ keys, values }: KeyedValues): KeyTable {
  const size = powerOfTwoFrom(keys.length * 2);
  const slots = new Int32Array(size).fill(-1);
  const distinct: number[] = [];
  const counts: number[] = [];
  const filterBits = powerOfTwoFrom(Math.max(32, keys.length * filterBitsPerKey));
  const filterShift = 32 - Math.log2(filterBits);
  const filter = new Int32Array(filterBits / 32);
  const slotOfPair = new Int32Array(keys.length);
  keys.forEach((key, pair) => {
    let at = spread(key) & (size - 1);
    while (slots[at] !== -1 && distinct[slots[at] ?? 0] !== key) at = (at + 1) & (size - 1);
    if (slots[at] === -1) {
      slots[at] = distinct.push(key) - 1;
      counts.push(0);
    }
    const slot = slots[at] ?? 0;
    counts[slot] = (counts[slot] ?? 0) + 1;
    slotOfPair[pair] = slot;
    const bit = Math.imul(key, golden) >>> filterShift;
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
  return { values: ordered, runs, slots, keys: Int32Array.from(distinct), filter, filterShift };
}

/** The slot of a key, or -1 when the table does not hold it. */
export function slotOf(table: KeyTable, key: number): number {
  const { slots, keys } = table;
  const mask = slots.length - 1;
  let at = spread(key) & mask;
  for (;;) {
    const slot = slots[at] as number;
    if (slot === -1 || keys[slot] === key) return slot;
    at = (at + 1) & mask;
  }
}
