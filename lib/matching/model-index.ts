import { modelKey } from "@/lib/identity/model-number";
import { buildFilter, buildKeyTable, bytesOf, filterBytes, type KeyedValues, type KeyFilter, type KeyTable } from "./key-table";
import { KeyScan, longestKey, shortestPart, shortestSlipped, tellingRest } from "./model-keys";
import type { ModelPattern } from "./model-pattern";

/** Which patterns a model number may fit: found by keys that either side may have in common, verified afterwards. */
export interface ModelIndex {
  /** Listed models, and of patterns with a wildcard the literal beginning, else the literal ending. */
  readonly whole: KeyTable;
  /** Listed models with any one character left out. */
  readonly shortened: KeyTable;
  /** Beginnings of open patterns with one slip; where the pattern has one length only, mixed with the length that the reading then has. */
  readonly slipped: KeyTable;
  /** The keys of `whole`, and those of `slipped` without a length: one look tells that a beginning of a model stands in neither. */
  readonly beginnings: KeyFilter;
  /** The keys of the characters of each key of `whole` two by two: two looks tell that no two neighbours swapped make a key. */
  readonly pairs: KeyFilter;
  /** Length of the shortest beginning to look up. */
  readonly shortest: number;
  /** Patterns without a literal beginning or ending to look up; raised for every model. */
  readonly loose: readonly number[];
  readonly hasEndings: boolean;
  /** For each pattern the last question that raised it, so that it is raised once. */
  readonly asked: Int32Array;
  question: number;
}

const scan = new KeyScan();

/** Scans a text, folding it first where it holds more than ASCII. */
export function readInto(target: KeyScan, text: string): void {
  if (!target.read(text)) target.read(modelKey(text));
}

interface Entries {
  readonly whole: KeyedValues;
  readonly shortened: KeyedValues;
  readonly slipped: KeyedValues;
  readonly slippedBeginnings: number[];
  readonly pairs: number[];
}

function add({ keys, values }: KeyedValues, key: number, id: number): void {
  keys.push(key);
  values.push(id);
}

/** Any odd number; it tells the lengths apart. */
const lengthFactor = 0x2545f491;

/** The scanned text in the table of whole keys. */
function addWhole({ whole, pairs }: Entries, id: number): void {
  add(whole, scan.head(scan.length), id);
  scan.lookThrough();
  pairs.push(scan.pairsFromFirst, scan.pairsFromSecond);
}

/** A slipped beginning's key where the reading's length is known, as it is for a pattern without `*`. */
export function ofLength(key: number, length: number): number {
  return (key + Math.imul(length, lengthFactor)) | 0;
}

/** The scanned beginning with any one character dropped, doubled or swapped with its neighbour; a model's own beginnings are compared with them. */
function addSlips({ slipped, slippedBeginnings }: Entries, pattern: ModelPattern, id: number): void {
  const isOfAnyLength = pattern.key.includes("*");
  const enterSlip = (key: number, gain: number): void => {
    add(slipped, isOfAnyLength ? key : ofLength(key, Math.min(longestKey, pattern.key.length + gain)), id);
    slippedBeginnings.push(key);
  };
  const { length } = scan;
  for (let at = 0; at < length; at++) {
    if (!scan.startsRun(at)) continue;
    if (!isOfAnyLength || !pattern.key.endsWith("*") || at + tellingRest <= length) enterSlip(scan.without(at), -1);
    if (at > 0) enterSlip(scan.swapped(at), 0);
  }
  const { beginning } = pattern;
  for (let at = 0; at < length; at++) {
    readInto(scan, `${beginning.slice(0, at + 1)}${beginning.slice(at)}`);
    enterSlip(scan.head(scan.length), 1);
  }
  readInto(scan, beginning);
}

/** Enters one pattern under its keys and says how it is found. */
function enter(entries: Entries, pattern: ModelPattern, id: number): "keyed" | "ending" | "loose" {
  readInto(scan, pattern.isOpen ? pattern.beginning : pattern.key);
  if (!pattern.isOpen) {
    addWhole(entries, id);
    for (let at = 0; at < scan.length; at++) if (scan.startsRun(at)) add(entries.shortened, scan.without(at), id);
    return "keyed";
  }
  if (scan.length >= shortestPart) {
    addWhole(entries, id);
    if (scan.length >= shortestSlipped) addSlips(entries, pattern, id);
    return "keyed";
  }
  readInto(scan, pattern.ending);
  if (scan.length < shortestPart) return "loose";
  addWhole(entries, id);
  return "ending";
}

/** Builds the index; a pattern's id is its place in the list. */
export function buildModelIndex(patterns: readonly ModelPattern[]): ModelIndex {
  const empty = (): KeyedValues => ({ keys: [], values: [] });
  const entries: Entries = { whole: empty(), shortened: empty(), slipped: empty(), slippedBeginnings: [], pairs: [] };
  const loose: number[] = [];
  let hasEndings = false;
  let shortest = shortestSlipped - 1;
  patterns.forEach((pattern, id) => {
    const kind = enter(entries, pattern, id);
    if (kind === "loose") loose.push(id);
    else shortest = Math.min(shortest, scan.length);
    if (kind === "ending") hasEndings = true;
  });
  return {
    whole: buildKeyTable(entries.whole),
    shortened: buildKeyTable(entries.shortened),
    slipped: buildKeyTable(entries.slipped),
    beginnings: buildFilter([...entries.whole.keys, ...entries.slippedBeginnings]),
    pairs: buildFilter(entries.pairs),
    shortest,
    loose,
    hasEndings,
    asked: new Int32Array(patterns.length),
    question: 0,
  };
}

/** Bytes that the index takes beside the patterns themselves. */
export function modelIndexBytes({ whole, shortened, slipped, beginnings, pairs, asked }: ModelIndex): number {
  return bytesOf(whole) + bytesOf(shortened) + bytesOf(slipped) + filterBytes(beginnings) + filterBytes(pairs) + asked.byteLength;
}
