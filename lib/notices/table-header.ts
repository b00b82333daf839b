import { lowerAt } from "./cues";
import type { Token } from "./token";

/** What a column of a flattened table holds; `other` are names, colours, sizes. */
export type Column = "model" | "serial" | "dateCode" | "upc" | "made" | "other";

export interface TableHeader {
  readonly columns: readonly Column[];
  /** Columns whose heading says that the values are beginnings ("Model No. begins:"), or ends. */
  readonly begins: readonly Column[];
  readonly ends: readonly Column[];
  /** A heading speaks of a range: two values joined by "and" are its ends. */
  readonly ranges: boolean;
  readonly next: number;
}

const headingWord =
  /^(?:models?|numbers?|nos?|nos?\.|#|#s|serial|codes?|upcs?|skus?|sku#|item#|model#|dates?|ranges?|brands?|names?|products?|description|sizes?|manufactured|manufacture|manufacturing|sold|at|items?|colou?rs?|styles?|series|location|begins?|beginning|starting|starts?|ending|ends?|with|must|and|or|from|to|first|last|recalled|types?|units?|packaging|dimensions|catalog|part|lot|batch|of|six|entries|mustbegin|quantity|quantities|capacity|finish|wattage|subject|recall|pattern|harness|refrigerator|production|affected|configuration|\(|\)|s|:|\/|…|model\/item)$/;
const columnWord: readonly (readonly [RegExp, Column])[] = [
  [/^serial$/, "serial"],
  [/^upcs?$/, "upc"],
  [/^(?:models?|skus?|sku#|item#|model#|catalog|model\/item)$/, "model"],
  [/^(?:lot|batch)$/, "dateCode"],
  [/^(?:manufactured|manufacture|manufacturing|production)$/, "made"],
  [
    /^(?:brands?|description|colou?rs?|sizes?|names?|location|packaging|dimensions|capacity|finish|wattage|quantity|pattern|harness|configuration|sold)$/,
    "other",
  ],
];

/**
 * The headings of a table that begin at a token: two or more columns, of which one at least identifies, and then a cell.
 * Headings are capitalised; a sentence about "model and serial numbers" is none.
 */
export function tableHeaderAt(tokens: readonly Token[], from: number): TableHeader | null {
  const first = tokens[from];
  if (!first || !isHeading(first) || isHeading(tokens[from - 1])) return null;
  const header = { columns: [] as Column[], begins: [] as Column[], ends: [] as Column[], ranges: false };
  let at = from;
  for (; at < tokens.length && at < from + 40; at++) {
    const remark = remarkEnd(tokens, at);
    if (remark !== null) at = remark;
    else if (headingWord.test(lowerAt(tokens, at))) {
      addColumn(header.columns, tokens, at);
      addManner(header, tokens, at);
    } else if (at === from || !qualifiesHeading(tokens, at)) break;
  }
  const identifying = header.columns.some((column) => column !== "other");
  if (!identifying || header.columns.length < 2 || !startsCell(tokens, at)) return null;
  const headings = tokens.slice(from, at).map((token) => token.lower);
  return { ...(headings.includes("with") ? header : withEnds(header)), next: at };
}

/** "Ventilation" of "Model Ventilation Configuration": a capitalised word before a heading that does not identify. */
function qualifiesHeading(tokens: readonly Token[], at: number): boolean {
  const isName = /^[A-Z][a-z]{2,}$/.test(tokens[at]?.text ?? "");
  return isName && /^(?:Configuration|Type|Size|Colou?r|Description|Capacity|Finish|Wattage|Quantity)$/.test(tokens[at + 1]?.text ?? "");
}

/** "Date Code (in Serial Number)": the place of the bracket's end, where a remark stands in it and no value. */
function remarkEnd(tokens: readonly Token[], at: number): number | null {
  if (lowerAt(tokens, at) !== "(") return null;
  const inside = tokens.slice(at + 1, at + 8);
  const close = inside.findIndex((token) => token.text === ")");
  const words = inside.slice(0, Math.max(close, 0));
  const isRemark =
    words.length > 0 &&
    words.every(({ kind, text }) => kind === "word" || /^\d{1,2}$/.test(text)) &&
    !words.every(({ lower }) => headingWord.test(lower));
  return isRemark ? at + 1 + close : null;
}

/** "Serial Number Range Start", "Serial Number Range End": two columns that are the ends of one range. */
function withEnds(header: Omit<TableHeader, "next">): Omit<TableHeader, "next"> {
  const serials = header.columns.filter((column) => column === "serial").length;
  if (serials < 2 || !header.ends.includes("serial")) return header;
  const others = (columns: readonly Column[]) => columns.filter((column) => column !== "serial");
  return { ...header, begins: others(header.begins), ends: others(header.ends), ranges: true };
}

/** A capitalised heading word; a table's headings are read from the first of a run of them. */
function isHeading(token: Token | undefined): boolean {
  return token !== undefined && /^[A-Z]/.test(token.text) && headingWord.test(token.lower);
}

function addManner(
  header: { columns: Column[]; begins: Column[]; ends: Column[]; ranges: boolean },
  tokens: readonly Token[],
  at: number,
): void {
  const word = lowerAt(tokens, at);
  const column = header.columns[header.columns.length - 1];
  if (/^ranges?$/.test(word)) header.ranges = true;
  if (word === "first" && lowerAt(tokens, at + 2) === "entries") header.begins.push("model");
  if (column === undefined) return;
  if (/^(?:serial|date|model)$/.test(lowerAt(tokens, at + 1))) return;
  if (/^(?:begins?|beginning|starting|starts?|mustbegin)$/.test(word)) header.begins.push(column);
  if (/^(?:ends?|ending)$/.test(word)) header.ends.push(column);
}

function addColumn(columns: Column[], tokens: readonly Token[], at: number): void {
  const word = lowerAt(tokens, at);
  const next = lowerAt(tokens, at + 1);
  if (/^(?:items?|styles?|part|products?|stock|types?|catalog|unit)$/.test(word) && /^(?:numbers?|nos?|#|codes?)$/.test(next))
    columns.push("model");
  else if (/^dates?$/.test(word)) columns.push(/^codes?$/.test(next) ? "dateCode" : "made");
  else if (/^(?:products?|styles?|types?)$/.test(word)) columns.push("other");
  else {
    const column = columnWord.find(([words]) => words.test(word))?.[1];
    const before = columns[columns.length - 1];
    if (column === "made" && (/^dates?$/.test(next) || before === "made")) return;
    if (column === "other" && before === "model" && /^(?:names?|location)$/.test(word)) columns[columns.length - 1] = "other";
    else if (column !== undefined) columns.push(column);
  }
}

/** After the headings a cell begins: not a small-letter word of a sentence. */
function startsCell(tokens: readonly Token[], at: number): boolean {
  const next = tokens[at];
  return next !== undefined && next.kind !== "stop" && !/^[a-z]/.test(next.text);
}
