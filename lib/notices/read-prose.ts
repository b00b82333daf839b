import { type CodeList, readCodeList } from "./code-list";
import { codeOrder } from "./code-order";
import { isStrongCode } from "./code-shape";
import { codeWindow, windowText } from "./code-windows";
import { type Cue, cueAt, lowerAt } from "./cues";
import { type Draft, span } from "./draft";
import { earlierRecalls } from "./earlier-recalls";
import { type LetteredNumbers, letteredNumbersAt } from "./lettered-numbers";
import { readMade } from "./made-windows";
import { modelNamesAfter } from "./model-names";
import { negatedClauses } from "./negation";
import { isExclusionAt, type Operator } from "./operators";
import { isOfAnother, isOfCompanion, isOfPart } from "./parts";
import type { Passage } from "./passage";
import { placeWindows } from "./place-windows";
import { clauseAt, type ProseWalk, takeModel, takeSentenceUpcs, takeTable, takeWindow } from "./prose-finds";
import { type ListPlace, tieProse } from "./prose-rows";
import { gluedRange } from "./ranges";
import { splitSerialPairs } from "./split-serial-pairs";
import { tableHeaderAt } from "./table-header";
import { readTable } from "./table-rows";
import { hasDigit, type Token } from "./token";
import { mendTokens, tokenize } from "./tokenize";
import { unglueCells } from "./unglue-cells";
import { unglueCodes } from "./unglue-codes";
import { unglueRangeEnds } from "./unglue-range-ends";
import type { WildcardMeaning } from "./wildcards";

/** Tokens of a passage with torn codes joined and glued ones split. */
export function passageTokens(passage: Passage): Token[] {
  return splitSerialPairs(unglueCodes(unglueCells(unglueRangeEnds(mendTokens(tokenize(passage.clean), passage.clean)))));
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
  const walk: ProseWalk = {
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
    announced: null,
    lists: [],
  };
  let at = 0;
  while (at < tokens.length) at = Math.max(at + 1, readAt(walk, at));
  tieProse(draft, walk.lists, walk.rows);
}

/** Reads what begins at a token and returns the index after it. */
function readAt(walk: ProseWalk, at: number): number {
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
  const cue = cueAt(walk.tokens, at) ?? announcedCue(walk, at);
  if (!cue || isExample(walk, at)) return at + 1;
  if (cue.slot === "made") return takeMade(walk, cue, at);
  if (cue.slot === "sold") return soldEnd(walk.tokens, cue.next);
  return takeList(walk, cue, at);
}

function takeLettered(walk: ProseWalk, lettered: LetteredNumbers, at: number): number {
  if (!clauseAt(walk, at)) for (const window of lettered.windows) takeWindow(walk, "dateCode", window, lettered);
  return lettered.next;
}

/** "... fans except TX-4 and TX-5": codes after the word, unless the sentence is about looks. */
function takeException(walk: ProseWalk, from: number): number {
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
function isExample(walk: ProseWalk, at: number): boolean {
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

function takeMade(walk: ProseWalk, cue: Cue, at: number): number {
  const { found, next } = readMade(walk.tokens, cue.next);
  if (found.length === 0) return cue.next;
  if (clauseAt(walk, at)) return next;
  for (const { window, start, end } of found) {
    walk.draft.made.push({ window, row: null });
    walk.draft.spans.push(span(walk.passage, { start, end }, "made", windowText(window)));
  }
  return next;
}

/**
 * "The serial numbers are: For model AB-1, they are 100 through 200", "The serial number range for model AB-1 is from 100 to
 * 200": right after models, the numbers announced before.
 */
function announcedCue({ tokens, announced, draft }: ProseWalk, at: number): Cue | null {
  const verb = lowerAt(tokens, at) === "they" ? at + 1 : at;
  const last = draft.models[draft.models.length - 1]?.item.token ?? -1;
  if (announced === null || !/^(?:is|are)$/.test(lowerAt(tokens, verb)) || last >= at || last < at - 4) return null;
  const isSame = verb > at || !tokens.slice(announced.at, at).some((token) => token.kind === "stop");
  const next = tokens[verb + 1];
  const opensRange = /^(?:from|between)$/.test(next?.lower ?? "") && hasDigit(tokens[verb + 2]?.text ?? "");
  return isSame && (verb > at || opensRange || hasDigit(next?.text ?? ""))
    ? { slot: announced.slot, next: verb + 1, numbered: true, named: false }
    : null;
}

/** "serial numbers", and "the serial letters", "the serial prefix", whose values are beginnings. */
function takeList(walk: ProseWalk, cue: Cue, at: number): number {
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
    if (cue.slot === "serial" || cue.slot === "dateCode") walk.announced = { slot: cue.slot, at };
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
function takeModelPlaces(walk: ProseWalk, list: CodeList, at: number): boolean {
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
function noteLists(walk: ProseWalk, before: Record<ListPlace["kind"], number>, at: number): void {
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
