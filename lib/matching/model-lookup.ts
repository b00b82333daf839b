import type { IdList } from "./id-list";
import { entryOf, type KeyTable, mayHold } from "./key-table";
import { type ModelIndex, ofLength, readInto } from "./model-index";
import { KeyScan, shortestPart } from "./model-keys";

const own = new KeyScan();

/**
 * Appends, once each, the patterns that may cover the model as it was read: equal, with a suffix, within a pattern, or with a
 * dropped, doubled or swapped character. `neighbours` adds what differs in one character, which never covers.
 */
export function raisePatterns(index: ModelIndex, model: string, found: IdList, neighbours: boolean): void {
  readInto(own, model);
  raiseScanned(index, own, found, neighbours);
}

/** The same for a model that was scanned. Nearly every model fits nothing, which one walk over it and few looks into the filters tell. */
export function raiseScanned(index: ModelIndex, scan: KeyScan, found: IdList, neighbours: boolean): void {
  const { length } = scan;
  if (length === 0) return;
  index.question++;
  for (let to = index.shortest; to <= length; to++) {
    const key = scan.head(to);
    if (mayHold(index.beginnings, key)) takeBeginning(index, key, length, found);
  }
  take(index, index.shortened, scan.head(length), found);
  scan.lookThrough();
  if (mayHold(index.pairs, scan.pairsFromFirst)) takeSwapped(index, scan, 1, found);
  if (mayHold(index.pairs, scan.pairsFromSecond)) takeSwapped(index, scan, 2, found);
  if (scan.hasRun) takeUndoubled(index, scan, found);
  if (neighbours) takeNeighbours(index, scan, found);
  if (index.hasEndings) for (let from = 1; from <= length - shortestPart; from++) take(index, index.whole, scan.tail(from), found);
  for (const id of index.loose) takeOnce(index, id, found);
}

/** What a model of this length is or begins with, and open patterns whose beginning it has with one slip. */
function takeBeginning(index: ModelIndex, key: number, length: number, found: IdList): void {
  take(index, index.whole, key, found);
  take(index, index.slipped, key, found);
  take(index, index.slipped, ofLength(key, length), found);
}

/** What the scanned model is with two neighbours swapped: those of every second pair, from the one that ends at `first`. */
function takeSwapped(index: ModelIndex, scan: KeyScan, first: number, found: IdList): void {
  for (let at = first; at < scan.length; at += 2) if (scan.startsRun(at)) take(index, index.whole, scan.swapped(at), found);
}

/** What the scanned model is with a doubled character once. */
function takeUndoubled(index: ModelIndex, scan: KeyScan, found: IdList): void {
  for (let at = 1; at < scan.length; at++) if (!scan.startsRun(at)) take(index, index.whole, scan.without(at), found);
}

/** What differs from the scanned model in one character. */
function takeNeighbours(index: ModelIndex, scan: KeyScan, found: IdList): void {
  for (let at = 0; at < scan.length; at++) {
    if (!scan.startsRun(at)) continue;
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
