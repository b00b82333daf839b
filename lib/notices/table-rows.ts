import type { CodeItem } from "./code-item";
import { optionsAt } from "./code-options";
import { fitsSlot, isStrongCode, printedCode } from "./code-shape";
import type { MadeWindow } from "./coverage";
import { lowerAt } from "./cues";
import { boundAt, readMade } from "./made-windows";
import { operatorAt } from "./operators";
import { ordinalOf } from "./ordinals";
import { rangeEndAt } from "./ranges";
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
export interface Table {
  readonly cells: readonly Cell[];
  readonly made: readonly MadeCell[];
  readonly next: number;
}

interface Walk {
  readonly tokens: readonly Token[];
  readonly header: TableHeader;
  readonly cells: Cell[];
  readonly made: MadeCell[];
  row: number;
  /** The kind of the value before, to tell the next cell from another value of the same one. */
  last: Column | null;
  at: number;
}

/** Words in a row without a value, after which the table has ended. */
const longestText = 14;

/** Reads the cells below a header until the text turns back to sentences. */
export function readTable(tokens: readonly Token[], header: TableHeader): Table {
  const walk: Walk = { tokens, header, cells: [], made: [], row: 0, last: null, at: header.next };
  let idle = 0;
  let end = walk.at;
  while (walk.at < tokens.length && idle <= longestText) {
    const token = tokens[walk.at] as Token;
    if (token.kind === "stop" && !valueSoon(walk)) break;
    if (idle > 0 && /^(?:located|printed|consumers|included|should|can|represented)$/.test(token.lower)) break;
    if (readCell(walk)) {
      idle = 0;
      end = walk.at;
    } else {
      if (/^(?:ALL|All)$/.test(token.text) && walk.last === "model") walk.last = "serial";
      if (token.kind === "word" && /^[a-z]{2}/.test(token.text)) idle += 1;
      walk.at += 1;
    }
  }
  return { cells: withoutNames(walk), made: walk.made, next: end };
}

function valueSoon(walk: Walk): boolean {
  return walk.tokens
    .slice(walk.at + 1, walk.at + 6)
    .some((token) => isStrongCode(token) || (token.kind === "number" && token.text.length >= 4));
}

/** Takes the value at the walk's place, if one stands there. */
function readCell(walk: Walk): boolean {
  const { tokens, header } = walk;
  const token = tokens[walk.at] as Token;
  const has = (column: Column) => header.columns.includes(column);
  if ((has("made") || has("dateCode")) && readMadeCell(walk)) return true;
  if (has("upc") && /^\d{8,14}$/.test(token.text)) return put(walk, "upc", { from: token.text, to: null }, walk.at + 1);
  const slot = has("serial") ? "serial" : has("dateCode") ? "dateCode" : null;
  if (slot && (readOpenRange(walk, slot) || readPosition(walk, slot))) return true;
  const range = slot && fitsSlot(token, slot) ? rangeEndAt({ tokens, at: walk.at, slot, between: header.ranges && !isAlone(walk) }) : null;
  if (range && slot && (hasDigit(token.text) || token.kind === "code"))
    return put(walk, slot, { from: range.from, to: range.to }, range.next, range.end);
  if (!isCell(token, walk)) return false;
  const column = columnOf(walk, token);
  if (column === "serial" && endsInNextCell(walk)) {
    const to = tokens[walk.at + 1] as Token;
    return put(walk, "serial", { from: token.text, to: printedCode(to.text) }, walk.at + 2, to.end);
  }
  const options = column === "model" ? optionsAt(tokens, walk.at) : null;
  if (options) {
    const end = options.next;
    for (const code of options.codes) put(walk, "model", { from: code, to: null }, walk.at, options.end);
    walk.at = end;
    return true;
  }
  return column === null ? false : put(walk, column, { from: cellText(walk), to: null }, walk.at + (cellText(walk) === token.text ? 1 : 2));
}

/** Before "and" in a column of ranges: not where the value before was no model, as then it may be a list. */
function isAlone(walk: Walk): boolean {
  return walk.last !== "model";
}

/** "Less than 23J 9999999 999": an end without a beginning, with the blanks it is printed with. */
function readOpenRange(walk: Walk, slot: "serial" | "dateCode"): boolean {
  const operator = operatorAt(walk.tokens, walk.at);
  const first = operator && (operator.operator === "below" || operator.operator === "upTo") ? walk.tokens[operator.next] : undefined;
  if (!operator || !first || !hasDigit(first.text)) return false;
  let next = operator.next + 1;
  while (walk.tokens[next]?.kind === "number" && next < operator.next + 4) next += 1;
  const text = walk.tokens
    .slice(operator.next, next)
    .map((token) => token.text)
    .join(" ");
  return put(walk, slot, { from: "", to: text }, next, walk.tokens[next - 1]?.end);
}

/** `“6” in the third position`: any two characters, then that one. */
function readPosition(walk: Walk, slot: "serial" | "dateCode"): boolean {
  const words = walk.tokens.slice(walk.at, walk.at + 7);
  const place = ordinalOf(words[5]?.lower ?? "");
  if (
    words[0]?.kind !== "quote" ||
    words[2]?.kind !== "quote" ||
    words[3]?.lower !== "in" ||
    words[6]?.lower !== "position" ||
    place === null
  )
    return false;
  const text = words[1]?.text ?? "";
  const item = { from: `${"?".repeat(place - 1)}${text}*`, to: null, operator: "exact" as const, excluded: false };
  walk.cells.push({ column: slot, row: walk.row, item: { ...item, start: words[0].start, end: words[6].end, token: walk.at } });
  walk.last = slot;
  walk.at += 7;
  return true;
}

/** Two columns of serial numbers, first and last, or one of ranges without a joining word: the next code is the other end. */
function endsInNextCell(walk: Walk): boolean {
  const serials = walk.header.columns.filter((column) => column === "serial").length;
  const here = walk.tokens[walk.at] as Token;
  const next = walk.tokens[walk.at + 1];
  if (!next || !fitsSlot(next, "serial") || !hasDigit(next.text)) return false;
  const alike = next.text.length === here.text.length && next.text.replace(/\d/g, "0") === here.text.replace(/\d/g, "0");
  return serials >= 2 || (walk.header.ranges && alike && here.text.length >= 6);
}

/** A model whose letters and number stand apart: `FE 350`. */
function cellText(walk: Walk): string {
  const token = walk.tokens[walk.at] as Token;
  const next = walk.tokens[walk.at + 1];
  return token.kind === "capitals" && next && isNumberPart(next) ? `${token.text} ${next.text}` : token.text;
}

function isNumberPart(token: Token): boolean {
  return /^\d{2,4}[A-Za-z]?$/.test(token.text) && !isYear(token.text);
}

function isCell(token: Token, walk: Walk): boolean {
  if (token.kind === "code" && /^\d{2,5}-\d{2,5}$/.test(token.text)) return walk.header.columns.includes("model");
  if (token.kind === "code") return isStrongCode(token) && !/^\d{2,3}[A-Za-z]$/.test(token.text);
  if (token.kind === "number") return !isYear(token.text) && (token.text.length >= 4 || (token.text.length === 3 && walk.last === "model"));
  if (token.kind !== "capitals") return false;
  const next = walk.tokens[walk.at + 1];
  if (/^[A-Z]{2,4}$/.test(token.text) && next && isNumberPart(next) && fitsSlot(token, "model")) return true;
  const affix = [...walk.header.begins, ...walk.header.ends].includes("serial");
  const listed = lowerAt(walk.tokens, walk.at - 1) === "," || lowerAt(walk.tokens, walk.at + 1) === ",";
  if (walk.header.begins.includes("model") && walk.last === "model" && listed && token.text.length === 4) return true;
  return affix && listed && walk.last !== null && token.text.length <= 3;
}

/** Which column a single value belongs to: joined by a comma, the one before; else the next that can hold it. */
function columnOf(walk: Walk, token: Token): Cell["column"] | null {
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
  if (/^(?:,|and|or|&)$/.test(lowerAt(walk.tokens, walk.at - 1)) && isCodeColumn(walk.last)) return walk.last;
  if (rangeFollows(walk)) return "model";
  const values = kinds.filter((kind) => kind !== "upc");
  return walk.last === "model" || (walk.last === "upc" && kinds.indexOf("upc") < kinds.indexOf(window))
    ? (values[values.indexOf("model") + 1] ?? "model")
    : "model";
}

/** A long code with letters of the shape of a model before, and of no other cell. */
function isShapedLikeModel({ cells }: Walk, token: Token): boolean {
  const shape = shapeOf(token.text);
  if (token.text.length < 6 || !/[A-Z]/.test(token.text) || !token.text.includes("-")) return false;
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
function rangeFollows(walk: Walk): boolean {
  return walk.tokens.slice(walk.at + 1, walk.at + 4).some((next) => /^(?:through|thru|to|–)$/.test(next.lower));
}

interface Ends {
  readonly from: string;
  readonly to: string | null;
}

function put(walk: Walk, column: Cell["column"], ends: Ends, next: number, end?: number): boolean {
  const { header, tokens } = walk;
  const token = tokens[walk.at] as Token;
  const sameCode = walk.cells[walk.cells.length - 1]?.item.token === walk.at;
  const joined = (walk.last === "model" && sameCode) || (walk.last === "model" && /^(?:,|and|or|&)$/.test(lowerAt(tokens, walk.at - 1)));
  if (column === "model" && walk.last !== null && !joined) walk.row += 1;
  const operator = header.ends.includes(column) ? "ends" : header.begins.includes(column) ? "begins" : "exact";
  const place = { start: token.start, end: end ?? tokens[next - 1]?.end ?? token.end, token: walk.at };
  walk.cells.push({ column, row: walk.row, item: { from: printedCode(ends.from), to: ends.to, operator, excluded: false, ...place } });
  walk.last = column;
  walk.at = next;
  return true;
}

/** "April 2020 through December 2022", "Manufactured during weeks 22 through 30 of 1996" in a row. */
function readMadeCell(walk: Walk): boolean {
  const token = walk.tokens[walk.at] as Token;
  if (/^(?:manufactured|produced)$/.test(token.lower)) return putMade(walk, readMade(walk.tokens, walk.at + 1).found);
  const start = token.kind === "date" || /^[A-Z][a-z]+\.?$/.test(token.text) ? boundAt(walk.tokens, walk.at) : null;
  if (!start) return false;
  const joined = /^(?:through|thru|to|-|–)$/.test(lowerAt(walk.tokens, start.next));
  const end = joined ? boundAt(walk.tokens, start.next + 1) : null;
  const next = end?.next ?? start.next;
  const place = { start: token.start, end: walk.tokens[next - 1]?.end ?? token.end };
  return putMade(walk, [{ window: { from: start.bound.first, to: (end ?? start).bound.last }, ...place }]);
}

function putMade(walk: Walk, found: readonly Omit<MadeCell, "row">[]): boolean {
  for (const one of found) walk.made.push({ ...one, row: walk.row });
  const last = found[found.length - 1];
  if (!last) return false;
  while ((walk.tokens[walk.at]?.end ?? Number.POSITIVE_INFINITY) <= last.end) walk.at += 1;
  walk.last = "made";
  return true;
}

/** A code that comes again in several rows without windows of its own, where the others have them, is part of a product's name. */
function withoutNames(walk: Walk): Cell[] {
  const windowed = new Set([...walk.cells.filter((cell) => cell.column !== "model"), ...walk.made].map((cell) => cell.row));
  const times = new Map<string, number>();
  for (const cell of walk.cells) if (cell.column === "model") times.set(cell.item.from, (times.get(cell.item.from) ?? 0) + 1);
  return walk.cells.filter(
    (cell) => cell.column !== "model" || windowed.size === 0 || windowed.has(cell.row) || (times.get(cell.item.from) ?? 0) < 2,
  );
}
