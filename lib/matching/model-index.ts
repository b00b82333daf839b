import { modelKey } from "@/lib/identity/model-number";
import { buildKeyTable, type KeyedValues, type KeyTable, slotOf } from "./key-table";
import { KeyScan, shortestPart } from "./model-keys";
import type { ModelPattern } from "./model-pattern";

/** Which patterns a model number may fit: found by keys that either side may have in common, verified afterwards. */
export interface ModelIndex {
  readonly table: KeyTable;
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

/** A listed model is found whole and with any one character left out; what has a wildcard by its literal beginning, else its literal ending. */
function addKeys(entries: KeyedValues, pattern: ModelPattern, id: number): "keyed" | "ending" | "loose" {
  const add = (key: number): void => {
    entries.keys.push(key);
    entries.values.push(id);
  };
  readInto(pattern.isOpen ? pattern.beginning : pattern.key);
  if (!pattern.isOpen) {
    add(scan.head(scan.length));
    if (scan.length > shortestPart)
      for (let at = 0; at < scan.length; at++) if (at === 0 || scan.codes[at] !== scan.codes[at - 1]) add(scan.without(at));
    return "keyed";
  }
  if (scan.length >= shortestPart) {
    add(scan.head(scan.length));
    return "keyed";
  }
  readInto(pattern.ending);
  if (scan.length < shortestPart) return "loose";
  add(scan.head(scan.length));
  return "ending";
}

/** Builds the index; a pattern's id is its place in the list. */
export function buildModelIndex(patterns: readonly ModelPattern[]): ModelIndex {
  const entries: KeyedValues = { keys: [], values: [] };
  const loose: number[] = [];
  let hasEndings = false;
  patterns.forEach((pattern, id) => {
    const kind = addKeys(entries, pattern, id);
    if (kind === "loose") loose.push(id);
    if (kind === "ending") hasEndings = true;
  });
  return { table: buildKeyTable(entries), loose, hasEndings, asked: new Int32Array(patterns.length), question: 0 };
}

/** Raises, once each, the patterns that share a key with the model as it was read. Appends their ids to `found`. */
export function raisePatterns(index: ModelIndex, model: string, found: number[]): void {
  const { table } = index;
  const question = ++index.question;
  readInto(model);
  const length = scan.length;
  if (length === 0) return;
  take(index, slotOf(table, scan.head(length)), question, found);
  for (let to = shortestPart; to < length; to++) take(index, slotOf(table, scan.head(to)), question, found);
  for (let at = 0; at < length; at++) {
    if (at > 0 && scan.codes[at] === scan.codes[at - 1]) continue;
    take(index, slotOf(table, scan.without(at)), question, found);
  }
  if (index.hasEndings)
    for (let from = 1; from <= length - shortestPart; from++) take(index, slotOf(table, scan.tail(from)), question, found);
  for (const id of index.loose) found.push(id);
}

function take(index: ModelIndex, slot: number, question: number, found: number[]): void {
  if (slot < 0) return;
  const { runs, values } = index.table;
  const end = runs[slot + 1] as number;
  for (let at = runs[slot] as number; at < end; at++) {
    const id = values[at] as number;
    if (index.asked[id] === question) continue;
    index.asked[id] = question;
    found.push(id);
  }
}
