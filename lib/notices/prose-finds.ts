import { fitsOrder, saysBeginning } from "./code-order";
import { codeWindow, windowText } from "./code-windows";
import type { CodeWindow } from "./coverage";
import type { Cue } from "./cues";
import { type Draft, type FoundModel, span } from "./draft";
import type { Aside } from "./earlier-recalls";
import { isGluedRun } from "./glued-run";
import type { NegatedClause } from "./negation";
import type { Passage } from "./passage";
import type { ListPlace } from "./prose-rows";
import type { Table } from "./table-rows";
import type { Token } from "./token";
import { upcsIn } from "./upcs";
import type { WildcardMeaning } from "./wildcards";

/** Where the reading of a passage stands. */
export interface ProseWalk {
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
  /** Which numbers a sentence announced without giving any: "The serial numbers are: for model AB-1, they are ...". */
  announced: { slot: "serial" | "dateCode"; at: number } | null;
  /** The lists read, to tell which windows a sentence ties to which models. */
  readonly lists: ListPlace[];
}

export function takeModel(walk: ProseWalk, item: FoundModel["item"], evidence: FoundModel["evidence"], row: number | null): void {
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

export function takeWindow(
  walk: ProseWalk,
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
export function takeSentenceUpcs(walk: ProseWalk, cue: Cue): void {
  const from = walk.tokens[cue.next]?.start;
  if (from === undefined) return;
  const stop = walk.tokens.slice(cue.next, cue.next + 200).find((token) => token.kind === "stop");
  for (const { digits, start, end } of upcsIn(walk.passage.clean.slice(from, stop?.start ?? from + 2_000)))
    takeUpc(walk, digits, { start: from + start, end: from + end });
}

function takeUpc(walk: ProseWalk, printed: string, place: { start: number; end: number }): void {
  const digits = printed.replace(/\D/g, "");
  if (digits.length < 8 || digits.length > 14) return;
  walk.draft.upcs.push(digits);
  walk.draft.spans.push(span(walk.passage, place, "upc", digits));
}

export function takeTable(walk: ProseWalk, table: Table): void {
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

export function clauseAt(walk: ProseWalk, token: number): NegatedClause | null {
  return walk.negated.find((clause) => token >= clause.from && token < clause.to) ?? null;
}
