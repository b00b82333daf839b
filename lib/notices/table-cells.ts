import type { CodeItem } from "./code-item";
import { fitsSlot, isStrongCode } from "./code-shape";
import type { MadeWindow } from "./coverage";
import { lowerAt } from "./cues";
import type { Operator } from "./operators";
import { plainCapitals } from "./plain-capitals";
import type { RangeEnd } from "./ranges";
import type { Column, TableHeader } from "./table-header";
import { hasDigit, isYear, type Token } from "./token";

/** One cell of a table with its row, whose windows are tied to its models. */
export interface Cell {
  readonly column: Exclude<Column, "other" | "made">;
  readonly item: CodeItem;
  readonly row: number;
}

export interface MadeCell {
  readonly window: MadeWindow;
  readonly start: number;
  readonly end: number;
  readonly row: number;
}

/** Where the reading of a table stands. */
export interface TableWalk {
  readonly tokens: readonly Token[];
  readonly header: TableHeader;
  readonly cells: Cell[];
  readonly made: MadeCell[];
  row: number;
  /** The kind of the value before, to tell the next cell from another value of the same one. */
  last: Column | null;
  at: number;
}

/** `012345678905`, `0-12345-67890-5`. */
export function isUpc(text: string): boolean {
  const digits = text.replace(/-/g, "");
  return /^\d(?:-?\d){7,13}$/.test(text) && (digits === text || digits.length >= 11);
}

/** `0 12345 67890 5`: the digits of a product code printed in its four groups; null where none begins. */
export function upcGroups(tokens: readonly Token[], at: number): string | null {
  const groups = tokens.slice(at, at + 4).map((token) => token.text);
  return /^\d \d{5} \d{5} \d$/.test(groups.join(" ")) ? groups.join("") : null;
}

/** `QK3 through QK9` where a model is due: of letters and a number, and then the row's window, which looks otherwise. */
export function isModelRange(walk: TableWalk, range: RangeEnd): boolean {
  const isDue = walk.last !== "model" || /^(?:,|and|or|&)$/.test(lowerAt(walk.tokens, walk.at - 1));
  const next = walk.tokens[range.next];
  if (!isDue || !next || !/^[A-Z]{2,5}\d{1,5}$/.test(range.from) || !(next.kind === "number" || next.kind === "code")) return false;
  const isLikeWindow = walk.cells.some(({ column, item }) => column !== "model" && shapeOf(item.from) === shapeOf(range.from));
  return !isLikeWindow && hasDigit(next.text) && shapeOf(next.text) !== shapeOf(range.from);
}

/** Whether "and" in a column of ranges joins the ends of one: right after a model, and not where the value is one more of its kind. */
export function mayJoinEnds({ tokens, at, cells, last, header }: TableWalk): boolean {
  const before = cells[cells.length - 1]?.item.from ?? "";
  const head = /^[A-Z]{2,}/.exec(tokens[at]?.text ?? "")?.[0];
  return header.ranges && last === "model" && !(head !== undefined && before.startsWith(head));
}

/** Two columns of serial numbers, first and last, or one of ranges without a joining word: the next code is the other end. */
export function endsInNextCell(walk: TableWalk): boolean {
  const { columns, begins, ends } = walk.header;
  if (begins.includes("serial") || ends.includes("serial")) return false;
  const serials = columns.filter((column) => column === "serial").length;
  const here = walk.tokens[walk.at] as Token;
  const next = walk.tokens[walk.at + 1];
  if (!next || !fitsSlot(next, "serial") || !hasDigit(next.text)) return false;
  const alike = next.text.length === here.text.length && next.text.replace(/\d/g, "0") === here.text.replace(/\d/g, "0");
  return serials >= 2 || (walk.header.ranges && alike && here.text.length >= 6);
}

/** A model whose letters and number stand apart: `FE 350`. */
export function cellText(walk: TableWalk): string {
  const token = walk.tokens[walk.at] as Token;
  const next = walk.tokens[walk.at + 1];
  return token.kind === "capitals" && next && isNumberPart(next) ? `${token.text} ${next.text}` : token.text;
}

function isNumberPart(token: Token): boolean {
  return /^\d{2,4}[A-Za-z]?$/.test(token.text) && !isYear(token.text);
}

export function isCell(token: Token, walk: TableWalk): boolean {
  if (token.kind === "code" && /^\d{1,5}-\d{2,5}$/.test(token.text)) return walk.header.columns.includes("model");
  if (token.kind === "code") return isStrongCode(token) && !/^\d{2,3}[A-Za-z]$/.test(token.text);
  if (token.kind === "number")
    return !isYear(token.text) && (token.text.length >= 4 || (token.text.length === 3 && (walk.last === "model" || isListOfShort(walk))));
  if (token.kind !== "capitals") return false;
  const next = walk.tokens[walk.at + 1];
  if (/^[A-Z]{2,4}$/.test(token.text) && next && isNumberPart(next) && fitsSlot(token, "model")) return true;
  if (isModelOfLetters(walk)) return true;
  const affix = [...walk.header.begins, ...walk.header.ends].includes("serial");
  const listed = lowerAt(walk.tokens, walk.at - 1) === "," || lowerAt(walk.tokens, walk.at + 1) === ",";
  if (walk.header.begins.includes("model") && walk.last === "model" && listed && token.text.length === 4) return true;
  return affix && listed && walk.last !== null && token.text.length <= 3;
}

/** `KMD`, `KMP`, `SMG` in a table with a column for models where three or more of one length stand, and no codes before. */
function isModelOfLetters({ tokens, at, header, cells }: TableWalk): boolean {
  const text = tokens[at]?.text ?? "";
  if (!header.columns.includes("model") || !/^[A-Z]{3,5}$/.test(text) || plainCapitals.has(text)) return false;
  if (tokens[at - 1]?.kind === "capitals" || tokens[at + 1]?.kind === "capitals" || cells.some(({ item }) => hasDigit(item.from)))
    return false;
  const alike = tokens.slice(header.next, header.next + 150).filter((one) => one.kind === "capitals" && one.text.length === text.length);
  return new Set(alike.filter((one) => !plainCapitals.has(one.text)).map((one) => one.text)).size >= 3;
}

/** `800, 801, 865` in a table of names and models only. */
function isListOfShort({ tokens, at, header }: TableWalk): boolean {
  const isPlain = header.columns.every((column) => column === "model" || column === "other");
  return isPlain && lowerAt(tokens, at + 1) === "," && /^\d{3}$/.test(tokens[at + 2]?.text ?? "");
}

/** Which column a single value belongs to: joined by a comma, the one before; else the next that can hold it. */
export function columnOf(walk: TableWalk, token: Token): Cell["column"] | null {
  const { header } = walk;
  const kinds = [...new Set(header.columns.filter((column): column is Cell["column"] => column !== "other" && column !== "made"))];
  const window = kinds.find((kind) => kind === "serial" || kind === "dateCode");
  if (kinds.length === 1) return kinds[0] ?? null;
  if (isShapedLikeModel(walk, token)) return "model";
  if (window === undefined) return kinds.includes("model") ? "model" : null;
  if (token.kind === "capitals" && !isNumberPart(walk.tokens[walk.at + 1] ?? token)) return token.text.length === 4 ? "model" : window;
  if (/X{3,}|x{3,}|\*{3,}/.test(token.text)) return window;
  if (!kinds.includes("model")) return window;
  if (header.begins.includes(window)) return token.text.length <= 4 && token.kind !== "number" ? window : "model";
  if (/^(?:,|;|and|or|&)$/.test(lowerAt(walk.tokens, walk.at - 1)) && isCodeColumn(walk.last)) return walk.last;
  if (rangeFollows(walk)) return "model";
  const values = kinds.filter((kind) => kind !== "upc");
  return walk.last === "model" || (walk.last === "upc" && kinds.indexOf("upc") < kinds.indexOf(window))
    ? (values[values.indexOf("model") + 1] ?? "model")
    : "model";
}

/** A long code with letters of the shape of a model before, and of no other cell. */
function isShapedLikeModel({ cells }: TableWalk, token: Token): boolean {
  const shape = shapeOf(token.text);
  if (token.text.length < 6 || !/[A-Z]/.test(token.text)) return false;
  const beginsAlike = cells.some(({ column, item }) => column === "model" && item.from.slice(0, 2) === token.text.slice(0, 2));
  if (!token.text.includes("-") && !(beginsAlike && /^[A-Z]{2,}\d/.test(token.text))) return false;
  const alike = cells.filter(({ item }) => item.to === null && shapeOf(item.from) === shape);
  return alike.length > 0 && alike.every(({ column }) => column === "model");
}

function shapeOf(code: string): string {
  return code.replace(/\d/g, "0").replace(/[A-Z]/g, "A");
}

function isCodeColumn(column: Column | null): column is Cell["column"] {
  return column === "model" || column === "serial" || column === "dateCode";
}

/** The window of this row is a range a little further on, so that the value here is a model. */
function rangeFollows(walk: TableWalk): boolean {
  const ahead = walk.tokens.slice(walk.at + 1, walk.at + 4);
  const through = ahead.findIndex((next) => /^(?:through|thru|to|–)$/.test(next.lower));
  return through >= 0 && !ahead.slice(0, through).some(({ text }) => text === ";");
}

/**
 * Beginnings and ends as the headings say. Where one column is of beginnings and one of ends ("starting with OR ending
 * with"), the values that look like the first one are the beginnings.
 */
export function operatorOf({ header, cells }: TableWalk, column: Cell["column"], text: string): Operator {
  const begins = header.begins.includes(column);
  if (!header.ends.includes(column)) return begins ? "begins" : "exact";
  const first = cells.find((cell) => cell.column === column)?.item.from ?? text;
  return begins && shapeOf(first) === shapeOf(text) ? "begins" : "ends";
}
