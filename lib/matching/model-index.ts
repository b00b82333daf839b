import { modelKey } from "@/lib/identity/model-number";
import type { IdList } from "./id-list";
import { buildKeyTable, bytesOf, entryOf, type KeyedValues, type KeyTable, mayHold } from "./key-table";
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
  readonly slipped: KeyedValues;
}

function add({ keys, values }: KeyedValues, key: number, id: number): void {
  keys.push(key);
  values.push(id);
}

/** Any odd number; it tells the lengths apart. */
const lengthFactor = 0x2545f491;

/** A slipped beginning's key where the reading's length is known, as it is for a pattern without `*`. */
function ofLength(key: number, length: number): number {
  return (key + Math.imul(length, lengthFactor)) | 0;
}

/** The scanned beginning with any one character dropped, doubled or swapped with its neighbour; a model's own beginnings are compared with them. */
function addSlips(slipped: KeyedValues, pattern: ModelPattern, id: number): void {
  const isOfAnyLength = pattern.key.includes("*");
  const enterSlip = (key: number, gain: number): void =>
    add(slipped, isOfAnyLength ? key : ofLength(key, Math.min(longestKey, pattern.key.length + gain)), id);
  const { length } = scan;
  for (let at = 0; at < length; at++) {
    if (!startsRun(at)) continue;
    if (!isOfAnyLength || !pattern.key.endsWith("*") || at + tellingRest <= length) enterSlip(scan.without(at), -1);
    if (at > 0) enterSlip(scan.swapped(at), 0);
  }
  const { beginning } = pattern;
  for (let at = 0; at < length; at++) {
    readInto(`${beginning.slice(0, at + 1)}${beginning.slice(at)}`);
    enterSlip(scan.head(scan.length), 1);
  }
  readInto(beginning);
}

/** Enters one pattern under its keys and says how it is found. */
function enter(entries: Entries, pattern: ModelPattern, id: number): "keyed" | "ending" | "loose" {
  readInto(pattern.isOpen ? pattern.beginning : pattern.key);
  if (!pattern.isOpen) {
    add(entries.whole, scan.head(scan.length), id);
    for (let at = 0; at < scan.length; at++) if (startsRun(at)) add(entries.shortened, scan.without(at), id);
    return "keyed";
  }
  if (scan.length >= shortestPart) {
    add(entries.whole, scan.head(scan.length), id);
    if (scan.length >= shortestSlipped) addSlips(entries.slipped, pattern, id);
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
  const entries: Entries = { whole: empty(), shortened: empty(), slipped: empty() };
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
    slipped: buildKeyTable(entries.slipped),
    shortest,
    loose,
    hasEndings,
    asked: new Int32Array(patterns.length),
    question: 0,
  };
}

/** Bytes that the index takes beside the patterns themselves. */
export function modelIndexBytes({ whole, shortened, slipped, asked }: ModelIndex): number {
  return bytesOf(whole) + bytesOf(shortened) + bytesOf(slipped) + asked.byteLength;
}

/**
 * Appends, once each, the patterns that may cover the model as it was read: equal, with a suffix, within a pattern, or with a
 * dropped, doubled or swapped character. `neighbours` adds what differs in one character, which never covers.
 */
export function raisePatterns(index: ModelIndex, model: string, found: IdList, neighbours: boolean): void {
  index.question++;
  readInto(model);
  const { length } = scan;
  if (length === 0) return;
  const { whole, shortened } = index;
  const inWhole = whole.filter;
  const key = scan.head(length);
  if (mayHold(inWhole, key)) collect(index, whole, key, found);
  if (mayHold(shortened.filter, key)) collect(index, shortened, key, found);
  for (let to = index.shortest; to < length; to++) {
    const beginning = scan.head(to);
    if (mayHold(inWhole, beginning)) collect(index, whole, beginning, found);
  }
  for (let at = 1; at < length; at++) {
    const slip = startsRun(at) ? scan.swapped(at) : scan.without(at);
    if (mayHold(inWhole, slip)) collect(index, whole, slip, found);
  }
  takeSlipped(index, found);
  if (neighbours) takeNeighbours(index, found);
  if (index.hasEndings) for (let from = 1; from <= length - shortestPart; from++) take(index, whole, scan.tail(from), found);
  for (const id of index.loose) takeOnce(index, id, found);
}

/** Open patterns whose beginning the scanned model has with one slip. */
function takeSlipped(index: ModelIndex, found: IdList): void {
  const { slipped } = index;
  const { length } = scan;
  for (let to = shortestSlipped - 1; to <= length; to++) {
    const key = scan.head(to);
    if (mayHold(slipped.filter, key)) collect(index, slipped, key, found);
    const sized = ofLength(key, length);
    if (mayHold(slipped.filter, sized)) collect(index, slipped, sized, found);
  }
}

/** What differs from the scanned model in one character. */
function takeNeighbours(index: ModelIndex, found: IdList): void {
  for (let at = 0; at < scan.length; at++) {
    if (!startsRun(at)) continue;
    const key = scan.without(at);
    take(index, index.whole, key, found);
    take(index, index.shortened, key, found);
  }
}

function take(index: ModelIndex, table: KeyTable, key: number, found: IdList): void {
  if (mayHold(table.filter, key)) collect(index, table, key, found);
}

function collect(index: ModelIndex, table: KeyTable, key: number, found: IdList): void {
  const entry = entryOf(table, key);
  if (entry < 0) takeOnce(index, ~entry, found);
  if (entry <= 0) return;
  const { runs } = table;
  const end = entry + (runs[entry - 1] as number);
  for (let at = entry; at < end; at++) takeOnce(index, runs[at] as number, found);
}

function takeOnce({ asked, question }: ModelIndex, id: number, found: IdList): void {
  if (asked[id] === question) return;
  asked[id] = question;
  found.add(id);
}
