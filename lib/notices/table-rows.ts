import { optionsAt } from "./code-options";
import { fitsSlot, isStrongCode, printedCode } from "./code-shape";
import { lowerAt } from "./cues";
import { boundAt, readMade } from "./made-windows";
import { operatorAt } from "./operators";
import { ordinalOf } from "./ordinals";
import { rangeEndAt } from "./ranges";
import {
  type Cell,
  cellText,
  columnOf,
  endsInNextCell,
  isCell,
  isModelRange,
  isUpc,
  type MadeCell,
  mayJoinEnds,
  operatorOf,
  type TableWalk,
  upcGroups,
} from "./table-cells";
import type { Column, TableHeader } from "./table-header";
import { hasDigit, type Token } from "./token";

export interface Table {
  readonly cells: readonly Cell[];
  readonly made: readonly MadeCell[];
  readonly next: number;
}

/** Words in a row without a value, after which the table has ended. */
const longestText = 14;

/** Reads the cells below a header until the text turns back to sentences. */
export function readTable(tokens: readonly Token[], header: TableHeader): Table {
  const walk: TableWalk = { tokens, header, cells: [], made: [], row: 0, last: null, at: header.next };
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

function valueSoon(walk: TableWalk): boolean {
  return walk.tokens
    .slice(walk.at + 1, walk.at + 6)
    .some((token) => isStrongCode(token) || (token.kind === "number" && token.text.length >= 4));
}

/** Takes the value at the walk's place, if one stands there. */
function readCell(walk: TableWalk): boolean {
  const { tokens, header } = walk;
  const token = tokens[walk.at] as Token;
  const has = (column: Column) => header.columns.includes(column);
  if ((has("made") || has("dateCode")) && readMadeCell(walk)) return true;
  if (has("upc") && isUpc(token.text)) return put(walk, "upc", { from: token.text, to: null }, walk.at + 1);
  const groups = has("upc") ? upcGroups(tokens, walk.at) : null;
  if (groups) return put(walk, "upc", { from: groups, to: null }, walk.at + 4);
  const slot = has("serial") ? "serial" : has("dateCode") ? "dateCode" : null;
  if (slot && (readOpenRange(walk, slot) || readPosition(walk, slot))) return true;
  const range = slot && fitsSlot(token, slot) ? rangeEndAt({ tokens, at: walk.at, slot, between: mayJoinEnds(walk) }) : null;
  if (range && has("model") && isModelRange(walk, range))
    return put(walk, "model", { from: range.from, to: range.to }, range.next, range.end);
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

/** "Less than 23J 9999999 999": an end without a beginning, with the blanks it is printed with. */
function readOpenRange(walk: TableWalk, slot: "serial" | "dateCode"): boolean {
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
function readPosition(walk: TableWalk, slot: "serial" | "dateCode"): boolean {
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

interface Ends {
  readonly from: string;
  readonly to: string | null;
}

function put(walk: TableWalk, column: Cell["column"], ends: Ends, next: number, end?: number): boolean {
  const { tokens } = walk;
  const token = tokens[walk.at] as Token;
  const sameCode = walk.cells[walk.cells.length - 1]?.item.token === walk.at;
  const joined = (walk.last === "model" && sameCode) || (walk.last === "model" && /^(?:,|and|or|&)$/.test(lowerAt(tokens, walk.at - 1)));
  if (column === "model" && walk.last !== null && !joined) walk.row += 1;
  const operator = operatorOf(walk, column, ends.from);
  const place = { start: token.start, end: end ?? tokens[next - 1]?.end ?? token.end, token: walk.at };
  walk.cells.push({ column, row: walk.row, item: { from: printedCode(ends.from), to: ends.to, operator, excluded: false, ...place } });
  walk.last = column;
  walk.at = next;
  return true;
}

/** "April 2020 through December 2022", "Manufactured during weeks 22 through 30 of 1996" in a row. */
function readMadeCell(walk: TableWalk): boolean {
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

function putMade(walk: TableWalk, found: readonly Omit<MadeCell, "row">[]): boolean {
  for (const one of found) walk.made.push({ ...one, row: walk.row });
  const last = found[found.length - 1];
  if (!last) return false;
  while ((walk.tokens[walk.at]?.end ?? Number.POSITIVE_INFINITY) <= last.end) walk.at += 1;
  walk.last = "made";
  return true;
}

/** A code that comes again in several rows without windows of its own, where the others have them, is part of a product's name. */
function withoutNames(walk: TableWalk): Cell[] {
  const windowed = new Set([...walk.cells.filter((cell) => cell.column !== "model"), ...walk.made].map((cell) => cell.row));
  const times = new Map<string, number>();
  for (const cell of walk.cells) if (cell.column === "model") times.set(cell.item.from, (times.get(cell.item.from) ?? 0) + 1);
  return walk.cells.filter(
    (cell) => cell.column !== "model" || windowed.size === 0 || windowed.has(cell.row) || (times.get(cell.item.from) ?? 0) < 2,
  );
}
