/**
 * A fixed table from 32-bit keys to runs of numbers: open addressing into one `Int32Array`, behind a bit filter that answers
 * most misses from one word of memory. Built once, never changed.
 */
export interface KeyTable {
  /** A cell is two words: the key, then its entry. 0: empty; below 0: the complement of the key's only value; above: see `runs`. */
  readonly cells: Int32Array;
  /** The runs of keys with several values: at `entry - 1` how many they are, from `entry` on the values. */
  readonly runs: Int32Array;
  readonly filter: KeyFilter;
}

/** Three bits for each key, all in one word. */
export interface KeyFilter {
  readonly words: Int32Array;
  /** How far a multiplied key is shifted to its word. */
  readonly shift: number;
}

/** Bits of the filter for each key held, at least: a miss passes it once in 100 or less. */
const filterBitsPerKey = 12;

/** Multiplier of Fibonacci hashing: 2^32 divided by the golden ratio (Knuth, The Art of Computer Programming, 6.4). */
const golden = 0x9e3779b1;

/** Spreads a 32-bit hash over all bits (the finaliser of MurmurHash3, public domain). */
export function spread(hash: number): number {
  let h = hash | 0;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) | 0;
}

/** The three bits of a multiplied key, from its low places; the high ones choose the word. */
function bitsOf(hash: number): number {
  return (1 << hash) | (1 << (hash >>> 5)) | (1 << (hash >>> 10));
}

/** Whether the table may hold the key; false is certain. `key` is not spread. */
export function mayHold({ words, shift }: KeyFilter, key: number): boolean {
  const hash = Math.imul(key, golden);
  const bits = bitsOf(hash);
  return ((words[hash >>> shift] as number) & bits) === bits;
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

/** Builds a filter that may hold these keys and surely holds no other that it denies. */
export function buildFilter(keys: readonly number[]): KeyFilter {
  const size = powerOfTwoFrom((keys.length * filterBitsPerKey) / 32);
  const words = new Int32Array(size);
  const shift = 32 - Math.log2(size);
  for (const key of keys) {
    const hash = Math.imul(key, golden);
    const at = hash >>> shift;
    words[at] = (words[at] as number) | bitsOf(hash);
  }
  return { words, shift };
}

/** The cell of a key: its own or the empty one where it belongs. */
function cellOf(cells: Int32Array, key: number): number {
  const mask = cells.length - 1;
  let at = (spread(key) << 1) & mask;
  while (cells[at + 1] !== 0 && cells[at] !== key) at = (at + 2) & mask;
  return at;
}

/** Turns the counts in the cells into places of runs; returns how long the runs are together. */
function allotRuns(cells: Int32Array): number {
  let length = 0;
  for (let at = 1; at < cells.length; at += 2) {
    const count = cells[at] as number;
    if (count < 2) continue;
    cells[at] = length + 1;
    length += count + 1;
  }
  return length;
}

/** Builds the table. The values of one key keep the order in which they were given. */
export function buildKeyTable({ keys, values }: KeyedValues): KeyTable {
  const cells = new Int32Array(2 * powerOfTwoFrom(keys.length * 1.5));
  const counts = new Uint8Array(cells.length / 2);
  for (const key of keys) {
    const at = cellOf(cells, key);
    cells[at] = key;
    cells[at + 1] = (cells[at + 1] as number) + 1;
  }
  for (let at = 1; at < cells.length; at += 2) counts[at >>> 1] = Math.min(2, cells[at] as number);
  const runs = new Int32Array(allotRuns(cells));
  for (let pair = 0; pair < keys.length; pair++) {
    const at = cellOf(cells, keys[pair] as number);
    const entry = cells[at + 1] as number;
    const value = values[pair] as number;
    if (counts[at >>> 1] === 1) cells[at + 1] = ~value;
    else {
      const count = (runs[entry - 1] as number) + 1;
      runs[entry - 1] = count;
      runs[entry + count - 1] = value;
    }
  }
  return { cells, runs, filter: buildFilter(keys) };
}

/** The entry of a key, 0 when the table does not hold it; see `KeyTable.cells`. */
export function entryOf({ cells }: KeyTable, key: number): number {
  return cells[cellOf(cells, key) + 1] as number;
}

/** The values of a key. */
export function valuesOf(table: KeyTable, key: number): number[] {
  const entry = entryOf(table, key);
  if (entry <= 0) return entry === 0 ? [] : [~entry];
  return [...table.runs.subarray(entry, entry + (table.runs[entry - 1] as number))];
}

export function filterBytes({ words }: KeyFilter): number {
  return words.byteLength;
}

/** Bytes that the table takes. */
export function bytesOf({ cells, runs, filter }: KeyTable): number {
  return cells.byteLength + runs.byteLength + filterBytes(filter);
}
