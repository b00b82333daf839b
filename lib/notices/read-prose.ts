import { type CodeList, readCodeList } from "./code-list";
import { codeOrder, fitsOrder, saysBeginning } from "./code-order";
import { isStrongCode } from "./code-shape";
import { codeWindow, windowText } from "./code-windows";
import type { CodeWindow } from "./coverage";
import { type Cue, cueAt, lowerAt } from "./cues";
import { type Draft, type FoundModel, span } from "./draft";
import { type Aside, earlierRecalls } from "./earlier-recalls";
import { isGluedRun } from "./glued-run";
import { type LetteredNumbers, letteredNumbersAt } from "./lettered-numbers";
import { readMade } from "./made-windows";
import { modelNamesAfter } from "./model-names";
import { type NegatedClause, negatedClauses } from "./negation";
import { isExclusionAt, type Operator } from "./operators";
import { isOfAnother, isOfCompanion, isOfPart } from "./parts";
import type { Passage } from "./passage";
import { placeWindows } from "./place-windows";
import { type ListPlace, tieProse } from "./prose-rows";
import { gluedRange } from "./ranges";
import { splitSerialPairs } from "./split-serial-pairs";
import { tableHeaderAt } from "./table-header";
import { readTable, type Table } from "./table-rows";
import type { Token } from "./token";
import { mendTokens, tokenize } from "./tokenize";
import { unglueCodes } from "./unglue-codes";
import { unglueRangeEnds } from "./unglue-range-ends";
import { upcsIn } from "./upcs";
import type { WildcardMeaning } from "./wildcards";

interface Walk {
  readonly passage: Passage;
  readonly tokens: readonly Token[];
  readonly negated: readonly NegatedClause[];
  /** Sentences about another recall. */
  readonly asides: readonly Aside[];
  readonly meaning: WildcardMeaning;
  readonly title: string;
  readonly draft: Draft;
  /** How date codes run, where the text says so. */
  readonly order: string | null;
  /** Rows of the tables before, so that rows of two tables differ. */
  rows: number;
  /** Index after the last statement about places of a code. */
  placesRead: number;
  /** The lists read, to tell which windows a sentence ties to which models. */
  readonly lists: ListPlace[];
}

/** Tokens of a passage with torn codes joined and glued ones split. */
export function passageTokens(passage: Passage): Token[] {
  return splitSerialPairs(unglueCodes(unglueRangeEnds(mendTokens(tokenize(passage.clean), passage.clean))));
}

export interface ProseReading {
  readonly passage: Passage;
  readonly tokens: readonly Token[];
  readonly meaning: WildcardMeaning;
  /** The notice's headline, which tells the product from its parts. */
  readonly title: string;
  readonly draft: Draft;
}

/** One pass over a passage: at each place a table, a list after its cue, dates after theirs, or nothing. */
export function readProse({ passage, tokens, meaning, title, draft }: ProseReading): void {
  const walk: Walk = {
    passage,
    tokens,
    negated: negatedClauses(passage.clean, tokens),
    asides: earlierRecalls(passage.clean, tokens),
    meaning,
    title,
    draft,
    order: codeOrder(passage.clean, tokens),
    rows: 0,
    placesRead: 0,
    lists: [],
  };
  let at = 0;
  while (at < tokens.length) at = Math.max(at + 1, readAt(walk, at));
  tieProse(draft, walk.lists, walk.rows);
}

/** Reads what begins at a token and returns the index after it. */
function readAt(walk: Walk, at: number): number {
  const aside = walk.asides.find((one) => at >= one.from && at < one.to);
  if (aside) return aside.to;
  const header = tableHeaderAt(walk.tokens, at);
  if (header) {
    const table = readTable(walk.tokens, header);
    if (table.cells.length + table.made.length >= 2 || (table.cells.length === 1 && header.columns.length >= 2)) {
      takeTable(walk, table);
      return table.next;
    }
  }
  const exception = isExclusionAt(walk.tokens, at);
  if (exception !== null) return takeException(walk, exception);
  const lettered = letteredNumbersAt(walk.tokens, at);
  if (lettered) return takeLettered(walk, lettered, at);
  const cue = cueAt(walk.tokens, at);
  if (!cue || isExample(walk, at)) return at + 1;
  if (cue.slot === "made") return takeMade(walk, cue, at);
  if (cue.slot === "sold") return soldEnd(walk.tokens, cue.next);
  return takeList(walk, cue, at);
}

function takeLettered(walk: Walk, lettered: LetteredNumbers, at: number): number {
  if (!clauseAt(walk, at)) for (const window of lettered.windows) takeWindow(walk, "dateCode", window, lettered);
  return lettered.next;
}

/** "... fans except TX-4 and TX-5": codes after the word, unless the sentence is about looks. */
function takeException(walk: Walk, from: number): number {
  let first = from;
  while (first > 0 && walk.tokens[first - 1]?.kind !== "stop") first -= 1;
  const sentence = walk.passage.clean.slice(walk.tokens[first]?.start ?? 0, (walk.tokens[from]?.end ?? 0) + 120);
  const next = walk.tokens[from];
  if (!next || !isStrongCode(next) || /\b(?:offered|available|comes?|sold)\s+in\b|\bcolou?rs?\b/i.test(sentence)) return from;
  const list = readCodeList(walk.tokens, { slot: "model", next: from, numbered: true, named: false });
  for (const item of list?.items ?? [])
    walk.draft.models.push({ passage: walk.passage, item, evidence: "cue", excluded: true, conditional: true, row: null });
  return list?.next ?? from;
}

/** "for example, date code L40": what follows only explains. */
function isExample(walk: Walk, at: number): boolean {
  for (let before = at - 1; before >= 0 && before > at - 30 && walk.tokens[before]?.kind !== "stop"; before--) {
    const word = walk.tokens[before]?.lower ?? "";
    if (word === "example" || word === "e.g") return true;
  }
  return false;
}

/** Dates of sale are passed over, so that nothing takes them for dates of manufacture. */
function soldEnd(tokens: readonly Token[], from: number): number {
  const { found, next } = readMade(tokens, from, () => true);
  return found.length > 0 ? next : from;
}

function takeMade(walk: Walk, cue: Cue, at: number): number {
  const { found, next } = readMade(walk.tokens, cue.next);
  if (found.length === 0) return cue.next;
  if (clauseAt(walk, at)) return next;
  for (const { window, start, end } of found) {
    walk.draft.made.push({ window, row: null });
    walk.draft.spans.push(span(walk.passage, { start, end }, "made", windowText(window)));
  }
  return next;
}

/** "serial numbers", and "the serial letters", "the serial prefix", whose values are beginnings. */
function takeList(walk: Walk, cue: Cue, at: number): number {
  if (cue.slot === "serial" || cue.slot === "dateCode") {
    const places = placeWindows(walk.tokens, at, walk.placesRead);
    if (places) {
      walk.placesRead = places.next;
      if (!clauseAt(walk, at)) for (const found of places.found) takeWindow(walk, cue.slot, found.window, found);
      return Math.max(places.next, cue.next);
    }
  }
  if (cue.slot === "upc") takeSentenceUpcs(walk, cue);
  const beginnings = cue.slot !== "model" && /^(?:letters|prefix(?:es)?)$/.test(walk.tokens[cue.next]?.lower ?? "");
  const before = beginnings ? "begins" : operatorBefore(walk.tokens, at);
  const list = cue.named
    ? null
    : readCodeList(walk.tokens, beginnings ? { ...cue, next: afterVerb(walk.tokens, cue.next + 1) } : cue, before);
  if (!list) {
    if (cue.slot === "model") for (const model of modelNamesAfter(walk.tokens, cue)) takeModel(walk, model, "name", null);
    return cue.slot === "dateCode" ? takeMade(walk, { ...cue, slot: "made" }, at) : cue.next;
  }
  if (cue.slot === "model" && isOfAnother(walk.tokens, at)) return list.next;
  if (cue.slot === "model" && isOfCompanion(walk.tokens, at, (list.items.at(-1)?.token ?? at) + 1, walk.title)) return list.next;
  const counted = countFound(walk.draft);
  if (cue.slot === "model" && takeModelPlaces(walk, list, at)) return walk.placesRead;
  for (const item of list.items) {
    const range = cue.slot === "model" && item.to === null && walk.draft.serials.length > 0 ? gluedRange(item.from) : null;
    if (range && /\d{4}/.test(range.from)) takeWindow(walk, "serial", range, item);
    else if (cue.slot === "model") takeModel(walk, item, isOfPart(walk.tokens, at, walk.title) ? "part" : "cue", null);
    else if (cue.slot === "serial" || cue.slot === "dateCode") {
      if (!item.excluded && !clauseAt(walk, item.token)) takeWindow(walk, cue.slot, codeWindow(item, walk.meaning), item);
    }
  }
  noteLists(walk, counted, at);
  return list.next;
}

/** "The model numbers start with LF and end with K": one pattern, not two. */
function takeModelPlaces(walk: Walk, list: CodeList, at: number): boolean {
  if (list.items.some((item) => item.operator !== "begins" && item.operator !== "ends")) return false;
  const places = placeWindows(walk.tokens, at, walk.placesRead);
  const patterns = places?.found.map(({ window }) => ("pattern" in window ? window.pattern : null)) ?? [];
  if (!places || patterns.some((pattern) => pattern === null)) return false;
  for (const { window, start, end } of places.found)
    if ("pattern" in window)
      takeModel(walk, { from: window.pattern, to: null, operator: "pattern", excluded: false, start, end, token: at }, "cue", null);
  walk.placesRead = places.next;
  return true;
}

/** "the serial prefix is ...": past the verb. */
function afterVerb(tokens: readonly Token[], at: number): number {
  return /^(?:is|are|of|:)$/.test(lowerAt(tokens, at)) ? at + 1 : at;
}

function countFound(draft: Draft): Record<ListPlace["kind"], number> {
  return { model: draft.models.length, serial: draft.serials.length, dateCode: draft.dateCodes.length };
}

/** Remembers which finds a list added, and in which sentence. */
function noteLists(walk: Walk, before: Record<ListPlace["kind"], number>, at: number): void {
  const after = countFound(walk.draft);
  let sentence = at;
  while (sentence > 0 && walk.tokens[sentence - 1]?.kind !== "stop") sentence -= 1;
  for (const kind of ["model", "serial", "dateCode"] as const)
    if (after[kind] > before[kind]) walk.lists.push({ kind, sentence, from: before[kind], to: after[kind] });
}

/** "beginning with" may stand before the cue's noun: "the following prefix model numbers". */
function operatorBefore(tokens: readonly Token[], at: number): Operator {
  if (/^prefix(?:es)?$/.test(tokens[at - 1]?.lower ?? "")) return "begins";
  const before = tokens
    .slice(Math.max(0, at - 6), at)
    .map((token) => token.lower)
    .join(" ");
  const part = /\b(first|last)\s(?:\w+\s)?(?:digits?|numbers?|letters?|characters?|numerals)\sof\s(?:the|a|each)(?:\s\w+)?$/.exec(
    before,
  )?.[1];
  if (part !== undefined) return part === "first" ? "begins" : "ends";
  return "exact";
}

function takeModel(walk: Walk, item: FoundModel["item"], evidence: FoundModel["evidence"], row: number | null): void {
  const clause = clauseAt(walk, item.token);
  // "Models other than AB-1 are not included" leaves AB-1 in.
  const excluded = item.excluded !== (clause !== null);
  walk.draft.models.push({ passage: walk.passage, item, evidence, excluded, conditional: clause?.conditional ?? false, row });
}

/** Ends of one or two characters tell nothing without the place they stand at. */
function isTooShort(window: CodeWindow): boolean {
  return "from" in window && window.from.length < 3 && window.to.length < 3;
}

/** Several values that ran into each other. */
function isUnreadable(window: CodeWindow): boolean {
  return "pattern" in window ? isGluedRun(window.pattern) : isGluedRun(window.from) || isGluedRun(window.to);
}

function takeWindow(
  walk: Walk,
  slot: "serial" | "dateCode",
  window: CodeWindow,
  place: { start: number; end: number },
  row: number | null = null,
): void {
  if (isTooShort(window) || isUnreadable(window)) return;
  const printed = "pattern" in window ? [window.pattern] : [window.from, window.to];
  const stated = walk.order !== null && printed.every((code) => fitsOrder(code, walk.order ?? "")) ? walk.order : null;
  const order =
    slot === "dateCode" ? stated : saysBeginning(walk.passage.clean, place.start, place.end) && "from" in window ? "beginning" : null;
  const ordered = order === null ? window : { ...window, as: order };
  (slot === "serial" ? walk.draft.serials : walk.draft.dateCodes).push({ window: ordered, row });
  walk.draft.spans.push(span(walk.passage, place, slot, windowText(window)));
}

/** The product codes from a cue to the end of its sentence. */
function takeSentenceUpcs(walk: Walk, cue: Cue): void {
  const from = walk.tokens[cue.next]?.start;
  if (from === undefined) return;
  const stop = walk.tokens.slice(cue.next, cue.next + 200).find((token) => token.kind === "stop");
  for (const { digits, start, end } of upcsIn(walk.passage.clean.slice(from, stop?.start ?? from + 2_000)))
    takeUpc(walk, digits, { start: from + start, end: from + end });
}

function takeUpc(walk: Walk, printed: string, place: { start: number; end: number }): void {
  const digits = printed.replace(/\D/g, "");
  if (digits.length < 8 || digits.length > 14) return;
  walk.draft.upcs.push(digits);
  walk.draft.spans.push(span(walk.passage, place, "upc", digits));
}

function takeTable(walk: Walk, table: Table): void {
  const rowOf = (row: number) => walk.rows + row;
  for (const { column, item, row } of table.cells) {
    if (column === "model") takeModel(walk, item, "table", rowOf(row));
    else if (column === "upc") takeUpc(walk, item.from, item);
    else takeWindow(walk, column, codeWindow(item, walk.meaning), item, rowOf(row));
  }
  for (const { window, row, start, end } of table.made) {
    walk.draft.made.push({ window, row: rowOf(row) });
    walk.draft.spans.push(span(walk.passage, { start, end }, "made", windowText(window)));
  }
  walk.rows += 10_000;
}

function clauseAt(walk: Walk, token: number): NegatedClause | null {
  return walk.negated.find((clause) => token >= clause.from && token < clause.to) ?? null;
}
