import { lowerAt } from "./cues";
import { ordinalOf } from "./ordinals";
import { plainCapitals } from "./plain-capitals";
import type { Token } from "./token";

/** What may stand at a place: single values, or the two ends of a range of numbers. */
export interface PlaceValues {
  readonly values: readonly string[];
  readonly ranges: readonly { readonly from: string; readonly to: string }[];
  readonly next: number;
}

/** Words between "the third and fourth digits" and what they are. */
const filler =
  /^(?:of|the|a|an|is|are|be|being|must|will|can|may|should|either|one|in|on|serial|date|code|codes|number|numbers|model|unit|units|that|which|this|these|its|letters?|digits?|characters?|values?|as|from|range|ranges|ranging|following|equal|equals|shows?|reads?|:|"|“|”|‘|’|')$/;
const through = /^(?:through|thru|to|-|–|—)$/;
const joins = /^(?:,|and|or|either|"|“|”|‘|’|'|the|a|an|\/)$/;
const mostMembers = 60;

/** The values after a phrase about places; null where none follow ("the first two digits are the week"). */
export function valuesAfter(tokens: readonly Token[], from: number, count: number | null): PlaceValues | null {
  let at = from;
  let between = false;
  let open: "below" | "above" | null = null;
  for (; at < from + 12; at++) {
    const word = lowerAt(tokens, at);
    if (isValue(tokens[at], count)) break;
    if (/^(?:lower|less|fewer|below|under|greater|higher|above|more)$/.test(word)) {
      open = /^(?:greater|higher|above|more)$/.test(word) ? "above" : "below";
      if (lowerAt(tokens, at + 1) === "than") at += 1;
      continue;
    }
    if (/^(?:between|within)$/.test(word)) between = true;
    else if (!filler.test(word) && !/^\w+-(?:digit|character)$/.test(word)) return null;
  }
  if (!isValue(tokens[at], count)) return null;
  return open === null ? readValues(tokens, at, count, between) : openRange(tokens, at, open);
}

/** "are lower than 075": from 000 to 074. */
function openRange(tokens: readonly Token[], at: number, side: "below" | "above"): PlaceValues | null {
  const text = tokens[at]?.text ?? "";
  const bound = Number(text) + (side === "below" ? -1 : 1);
  if (!/^\d{1,8}$/.test(text) || bound < 0) return null;
  const edge = String(bound).padStart(text.length, "0");
  if (edge.length > text.length) return null;
  const range = side === "below" ? { from: "0".repeat(text.length), to: edge } : { from: edge, to: "9".repeat(text.length) };
  return { values: [], ranges: [range], next: at + 1 };
}

/** The values before a phrase: "a 7 in the third position", "“16” or “17” as the first two digits". */
export function valuesBefore(tokens: readonly Token[], phrase: number, count: number | null): PlaceValues | null {
  let end = phrase - 1;
  if (lowerAt(tokens, end) === "the") end -= 1;
  if (!/^(?:in|as|at|for)$/.test(lowerAt(tokens, end))) return null;
  let start = end;
  while (
    start > 0 &&
    start > end - 40 &&
    (isValue(tokens[start - 1], count) || joins.test(lowerAt(tokens, start - 1)) || through.test(lowerAt(tokens, start - 1)))
  )
    start -= 1;
  while (start < end && !isValue(tokens[start], count)) start += 1;
  return start < end ? readValues(tokens, start, count, false) : null;
}

function readValues(tokens: readonly Token[], from: number, count: number | null, between: boolean): PlaceValues {
  const values: string[] = [];
  const ranges: { from: string; to: string }[] = [];
  let at = from;
  let next = from;
  let open: string | null = null;
  let paired = between;
  for (; at < from + 60; at++) {
    const word = lowerAt(tokens, at);
    const text = tokens[at]?.text ?? "";
    if (isValue(tokens[at], count)) {
      if (open !== null) addRange(values, ranges, open, text);
      else values.push(text);
      open = null;
      next = at + 1;
    } else if (through.test(word) || (paired && word === "and" && values.length > 0)) {
      open = values.pop() ?? null;
      paired = false;
      if (open === null) break;
    } else if (!joins.test(word) || (word === "and" && ordinalOf(lowerAt(tokens, at + 1)) !== null)) break;
  }
  if (open !== null) values.push(open);
  return { values, ranges, next };
}

/** A short range is written out; a longer one of numbers stays a range. */
function addRange(values: string[], ranges: { from: string; to: string }[], from: string, to: string): void {
  const letters = /^[A-Z]$/.test(from) && /^[A-Z]$/.test(to);
  const [low, high] = letters ? [from.charCodeAt(0), to.charCodeAt(0)] : [Number(from), Number(to)];
  if (!Number.isInteger(low) || !Number.isInteger(high) || high < low || from.length !== to.length) values.push(from, to);
  else if (high - low >= mostMembers || (!letters && from.length > 2)) ranges.push({ from, to });
  else
    for (let member = low; member <= high; member++)
      values.push(letters ? String.fromCharCode(member) : String(member).padStart(from.length, "0"));
}

/** As many capitals and digits as the phrase says, up to eight where it does not. */
function isValue(token: Token | undefined, count: number | null): boolean {
  if (!token || plainCapitals.has(token.text)) return false;
  if (count === null && /^(?=.{3,12}$)[A-Z\d]+(?:-[A-Z\d]+)+$/.test(token.text)) return true;
  if (!/^[A-Z\d]{1,8}$/.test(token.text)) return false;
  return count === null ? /\d/.test(token.text) || token.text.length <= 3 : token.text.length === count;
}
