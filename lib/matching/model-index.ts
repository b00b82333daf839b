import { modelKey } from "@/lib/identity/model-number";
import { buildKeyTable, type KeyedValues, type KeyTable, mayHold, slotOf } from "./key-table";
import { KeyScan, longestKey, shortestPart } from "./model-keys";
import type { ModelPattern } from "./model-pattern";

/** Which patterns a model number may fit: found by keys that either side may have in common, verified afterwards. */
export interface ModelIndex {
  /** Listed models, and of patterns with a wildcard the literal beginning, else the literal ending. */
  readonly whole: KeyTable;
  /** Listed models with any one character left out. */
  readonly shortened: KeyTable;
  /** Listed models by their characters whatever the order, and the folded key of each pattern to tell a swap from a shuffle. */
  readonly unordered: KeyTable;
  readonly folded: readonly string[];
  /** Length of the shortest key of `whole`. */
  readonly shortest: number;
  /** Patterns without a literal beginning or ending to look up; raised for every model. */
  readonly loose: readonly number[];
  readonly hasEndings: boolean;
  /** For each pattern the last question that raised it, so that it is raised once. */
  readonly asked: Int32Array;
  question: number;
}

const scan = new KeyScan();

function readInto(text: string): void {
  if (!scan.read(text)) scan.read(modelKey(text));
}

interface Entries {
  readonly whole: KeyedValues;
  readonly shortened: KeyedValues;
  readonly unordered: KeyedValues;
}

function add({ keys, values }: KeyedValues, key: number, id: number): void {
  keys.push(key);
  values.push(id);
}

/** Enters one pattern under its keys and says how it is found. */
function enter(entries: Entries, pattern: ModelPattern, id: number): "keyed" | "ending" | "loose" {
  readInto(pattern.isOpen ? pattern.beginning : pattern.key);
  if (!pattern.isOpen) {
    add(entries.whole, scan.head(scan.length), id);
    add(entries.unordered, scan.unordered, id);
    for (let at = 0; at < scan.length; at++) if (startsRun(at)) add(entries.shortened, scan.without(at), id);
    return "keyed";
  }
  if (scan.length >= shortestPart) {
    add(entries.whole, scan.head(scan.length), id);
    return "keyed";
  }
  readInto(pattern.ending);
  if (scan.length < shortestPart) return "loose";
  add(entries.whole, scan.head(scan.length), id);
  return "ending";
}

/** Whether the character differs from the one before: leaving out either of two equal neighbours gives one key. */
function startsRun(at: number): boolean {
  return at === 0 || scan.codes[at] !== scan.codes[at - 1];
}

/** Builds the index; a pattern's id is its place in the list. */
export function buildModelIndex(patterns: readonly ModelPattern[]): ModelIndex {
  const empty = (): KeyedValues => ({ keys: [], values: [] });
  const entries: Entries = { whole: empty(), shortened: empty(), unordered: empty() };
  const loose: number[] = [];
  let hasEndings = false;
  let shortest = longestKey;
  patterns.forEach((pattern, id) => {
    const kind = enter(entries, pattern, id);
    if (kind === "loose") loose.push(id);
    else shortest = Math.min(shortest, scan.length);
    if (kind === "ending") hasEndings = true;
  });
  return {
    whole: buildKeyTable(entries.whole),
    shortened: buildKeyTable(entries.shortened),
    unordered: buildKeyTable(entries.unordered),
    folded: patterns.map(({ folded }) => folded),
    shortest,
    loose,
    hasEndings,
    asked: new Int32Array(patterns.length),
    question: 0,
  };
}

/**
 * Appends, once each, the patterns that may cover the model as it was read: equal, with a suffix, within a pattern, or with a
 * dropped, doubled or swapped character. `neighbours` adds what differs in one character, which never covers.
 */
export function raisePatterns(index: ModelIndex, model: string, found: number[], neighbours: boolean): void {
  const { whole, shortened, shortest } = index;
  index.question++;
  readInto(model);
  const length = scan.length;
  if (length === 0) return;
  const key = scan.head(length);
  take(index, whole, key, found);
  take(index, shortened, key, found);
  if (mayHold(index.unordered, scan.unordered)) collectSwapped(index, found);
  for (let to = shortest; to < length; to++) take(index, whole, scan.head(to), found);
  for (let at = 1; at < length; at++) if (!startsRun(at)) take(index, whole, scan.without(at), found);
  if (neighbours) {
    for (let at = 0; at < length; at++) {
      const without = scan.without(at);
      take(index, whole, without, found);
      take(index, shortened, without, found);
    }
  }
  if (index.hasEndings) for (let from = 1; from <= length - shortestPart; from++) take(index, whole, scan.tail(from), found);
  for (const id of index.loose) found.push(id);
}

function take(index: ModelIndex, table: KeyTable, key: number, found: number[]): void {
  if (mayHold(table, key)) collect(index, table, key, found);
}

/** Whether the scanned key becomes `meant` by swapping two neighbours. */
function isOneSwap(meant: string): boolean {
  const { codes, length } = scan;
  if (meant.length !== length) return false;
  let at = 0;
  while (at < length && codes[at] === meant.charCodeAt(at)) at++;
  if (at + 1 >= length || codes[at] !== meant.charCodeAt(at + 1) || codes[at + 1] !== meant.charCodeAt(at)) return false;
  for (let rest = at + 2; rest < length; rest++) if (codes[rest] !== meant.charCodeAt(rest)) return false;
  return true;
}

function collectSwapped(index: ModelIndex, found: number[]): void {
  const slot = slotOf(index.unordered, scan.unordered);
  if (slot < 0) return;
  const { runs, values } = index.unordered;
  const end = runs[slot + 1] as number;
  for (let at = runs[slot] as number; at < end; at++) {
    const id = values[at] as number;
    if (index.asked[id] === index.question || !isOneSwap(index.folded[id] as string)) continue;
    index.asked[id] = index.question;
    found.push(id);
  }
}

function collect(index: ModelIndex, table: KeyTable, key: number, found: number[]): void {
  const slot = slotOf(table, key);
  if (slot < 0) return;
  const { runs, values } = table;
  const end = runs[slot + 1] as number;
  for (let at = runs[slot] as number; at < end; at++) {
    const id = values[at] as number;
    if (index.asked[id] === index.question) continue;
    index.asked[id] = index.question;
    found.push(id);
  }
}
