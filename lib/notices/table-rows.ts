import type { CodeItem } from "./code-list";
import { fitsSlot, isStrongCode, printedCode } from "./code-shape";
import type { MadeWindow } from "./coverage";
import { lowerAt } from "./cues";
import { boundAt } from "./made-windows";
import { rangeEndAt } from "./ranges";
import type { Column, TableHeader } from "./table-header";
import type { Token } from "./token";

/** One cell of a table with the models of its row, which its windows are tied to. */
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
    if (idle > 0 && /^(?:located|printed|consumers|included|should|can)$/.test(token.lower)) break;
    if (readCell(walk)) {
      idle = 0;
      end = walk.at;
    } else {
      if (token.kind === "word" && /^[a-z]/.test(token.text)) idle += 1;
      walk.at += 1;
    }
  }
  return { cells: walk.cells, made: walk.made, next: end };
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
  if (has("upc") && /^\d{8,14}$/.test(token.text)) return put(walk, "upc", token.text, null, walk.at + 1);
  const slot = has("serial") ? "serial" : has("dateCode") ? "dateCode" : null;
  const range = slot && fitsSlot(token, slot) ? rangeEndAt({ tokens, at: walk.at, slot, between: false }) : null;
  if (range && slot && token.kind !== "capitals") return put(walk, slot, range.from, range.to, range.next, range.end);
  if (!isCell(token, walk)) return false;
  const column = columnOf(walk, token);
  if (column === "serial" && endsInNextCell(walk)) {
    const to = tokens[walk.at + 1] as Token;
    return put(walk, "serial", token.text, printedCode(to.text), walk.at + 2, to.end);
  }
  return column === null ? false : put(walk, column, token.text, null, walk.at + 1);
}

/** Two columns of serial numbers, first and last: the next code is the other end. */
function endsInNextCell(walk: Walk): boolean {
  const serials = walk.header.columns.filter((column) => column === "serial").length;
  const ends = serials >= 2 || /^(?:upc|model)$/.test(walk.last ?? "");
  const here = walk.tokens[walk.at] as Token;
  const next = walk.tokens[walk.at + 1];
  const alike =
    next !== undefined && next.text.length === here.text.length && next.text.replace(/\d/g, "0") === here.text.replace(/\d/g, "0");
  return ends && next !== undefined && (serials >= 2 ? fitsSlot(next, "serial") : alike && here.text.length >= 6);
}

function isCell(token: Token, walk: Walk): boolean {
  if (token.kind === "code") return isStrongCode(token) || (walk.header.begins && fitsSlot(token, "model"));
  if (token.kind === "number") return token.text.length >= 4 || (token.text.length === 3 && walk.last === "model");
  if (token.kind === "capitals")
    return (
      (walk.header.ends || walk.header.begins) &&
      fitsSlot(token, "serial") &&
      walk.header.columns.includes("serial") &&
      walk.last !== null &&
      token.text.length <= 3
    );
  return false;
}

/** Which column a single value belongs to: joined by a comma, the one before; else the next that can hold it. */
function columnOf(walk: Walk, token: Token): Cell["column"] | null {
  const values = walk.header.columns.filter((column): column is Cell["column"] => column !== "other" && column !== "made");
  const kinds = [...new Set(values)];
  if (kinds.length === 1) return kinds[0] ?? null;
  const windows = kinds.filter((kind) => kind === "serial" || kind === "dateCode");
  if (windows.length === 0) return kinds.includes("model") ? "model" : null;
  if (token.kind === "capitals") return windows[0] ?? null;
  if (/X{3,}|x{3,}|\*{3,}/.test(token.text)) return windows[0] ?? null;
  if (/^(?:,|and|or|&)$/.test(lowerAt(walk.tokens, walk.at - 1)) && walk.last !== null && walk.last !== "made" && walk.last !== "other")
    return walk.last;
  const rangeSoon = walk.tokens.slice(walk.at + 1, walk.at + 4).some((next) => /^(?:through|thru|to|-|–)$/.test(next.lower));
  if (rangeSoon) return "model";
  if (walk.last === "model") return kinds[kinds.indexOf("model") + 1] ?? "model";
  return "model";
}

function put(walk: Walk, column: Cell["column"], from: string, to: string | null, next: number, end?: number): boolean {
  const token = walk.tokens[walk.at] as Token;
  if (column === "model" && walk.last !== "model" && walk.last !== null) walk.row += 1;
  else if (column === "model" && walk.last === "model" && !/^(?:,|and|or|&)$/.test(lowerAt(walk.tokens, walk.at - 1))) walk.row += 1;
  const operator =
    walk.header.ends && column === "serial"
      ? "ends"
      : walk.header.begins && (column === "model" || !walk.header.columns.includes("model"))
        ? "begins"
        : "exact";
  walk.cells.push({
    column,
    row: walk.row,
    item: { from: printedCode(from), to, operator, excluded: false, start: token.start, end: end ?? token.end, token: walk.at },
  });
  walk.last = column;
  walk.at = next;
  return true;
}

/** "April 2020 through December 2022" in a row. */
function readMadeCell(walk: Walk): boolean {
  const start =
    walk.tokens[walk.at]?.kind === "date" || /^[A-Z][a-z]+$/.test(walk.tokens[walk.at]?.text ?? "") ? boundAt(walk.tokens, walk.at) : null;
  if (!start) return false;
  const joined = /^(?:through|thru|to|-|–)$/.test(lowerAt(walk.tokens, start.next));
  const end = joined ? boundAt(walk.tokens, start.next + 1) : null;
  const next = end?.next ?? start.next;
  const from = walk.tokens[walk.at] as Token;
  walk.made.push({
    window: { from: start.bound.first, to: (end ?? start).bound.last },
    start: from.start,
    end: walk.tokens[next - 1]?.end ?? from.end,
    row: walk.row,
  });
  walk.last = "made";
  walk.at = next;
  return true;
}
