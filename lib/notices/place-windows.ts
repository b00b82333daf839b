import type { CodeWindow } from "./coverage";
import { cueAt, lowerAt } from "./cues";
import { numberPatterns } from "./number-patterns";
import { operatorAt } from "./operators";
import { countOf } from "./ordinals";
import { type PlaceValues, valuesAfter, valuesBefore } from "./place-values";
import { type Place, placeAt } from "./places";
import type { Token } from "./token";

/**
 * Statements about single places of a code: "a second letter of A, M or R", "“6” in the third position", "begin with T or
 * U and the next two digits are 01 through 04", "ending in 04 with the two middle digits between 21 and 52".
 */
export interface PlaceWindows {
  readonly found: readonly { readonly window: CodeWindow; readonly start: number; readonly end: number }[];
  /** Index after the last of the statements. */
  readonly next: number;
}

/** What stands at one stretch of the code. */
interface Block {
  readonly place: Place;
  readonly values: PlaceValues;
  /** Said by "begins with" or "ends in", which other readings understand as well. */
  readonly isAffix: boolean;
  /** Tokens of the statement. */
  readonly from: number;
  readonly to: number;
}

/** What stands at a place: one value, both ends alike, or a range of numbers. */
interface Part {
  readonly low: string;
  readonly high: string;
}

/** A block at its place: the first character, 1-based, or from the end. */
interface Placed {
  readonly from: number | null;
  readonly parts: readonly Part[];
  readonly width: number;
}

const longestSentence = 90;
const mostPatterns = 300;

/** Looks for such statements in the sentence of a cue, not before `after`; null where there are none. */
export function placeWindows(tokens: readonly Token[], cue: number, after: number): PlaceWindows | null {
  const [from, to] = sentenceAround(tokens, cue, after);
  const blocks = blocksOf(tokens, from, to);
  const isNeeded = blocks.some((block) => !block.isAffix) || isCombined(tokens, blocks);
  if (!isNeeded) return null;
  const length = statedLength(tokens, from, to);
  const found = groupsOf(tokens, blocks).flatMap((group) => {
    const windows = windowsOf(group, length);
    const start = tokens[Math.min(...group.map((block) => block.from))]?.start ?? 0;
    const end = tokens[Math.max(...group.map((block) => block.to)) - 1]?.end ?? start;
    return windows.map((window) => ({ window, start, end }));
  });
  return found.length > 0 ? { found, next: Math.max(cue + 1, ...blocks.map((block) => block.to)) } : null;
}

/** From the start of the sentence, unless it has spoken of another number before. */
function sentenceAround(tokens: readonly Token[], cue: number, after: number): [number, number] {
  let from = cue;
  while (from > after && from > cue - 40 && tokens[from - 1]?.kind !== "stop" && !cueAt(tokens, from - 1)) from -= 1;
  let to = cue;
  while (to < tokens.length && to < cue + longestSentence && tokens[to]?.kind !== "stop") to += 1;
  return [from, to];
}

function blocksOf(tokens: readonly Token[], from: number, to: number): Block[] {
  const blocks: Block[] = [];
  for (let at = from; at < to; at++) {
    if (/^(?:example|e\.g)$/.test(lowerAt(tokens, at))) while (at < to && lowerAt(tokens, at) !== ")") at += 1;
    const block = blockAt(tokens, at);
    if (!block) continue;
    blocks.push(block);
    at = Math.max(at, block.to - 1);
  }
  return blocks;
}

function blockAt(tokens: readonly Token[], at: number): Block | null {
  const anywhere = anywhereAt(tokens, at);
  if (anywhere) return anywhere;
  const place = placeAt(tokens, at);
  if (place) {
    const before = valuesBefore(tokens, at, place.count);
    if (before) return { place, values: before, isAffix: false, from: at, to: place.next };
    const after = valuesAfter(tokens, place.next, place.count);
    return after && { place, values: after, isAffix: false, from: at, to: after.next };
  }
  const operator = operatorAt(tokens, at);
  if (operator?.operator !== "begins" && operator?.operator !== "ends") return null;
  const values = valuesAfter(tokens, operator.next, null);
  if (!values) return null;
  const isStart = operator.operator === "begins";
  const affix: Place = { from: isStart ? 1 : null, at: isStart ? "start" : "end", count: null, next: operator.next };
  return { place: affix, values, isAffix: true, from: at, to: values.next };
}

/** "have the letters D, E or F in the date code": somewhere in it. */
function anywhereAt(tokens: readonly Token[], at: number): Block | null {
  if (lowerAt(tokens, at) !== "in" || lowerAt(tokens, at + 1) !== "the" || !/^(?:date|serial)$/.test(lowerAt(tokens, at + 2))) return null;
  const values = valuesBefore(tokens, at + 1, null);
  if (!values?.values.every((value) => /^[A-Z]{1,3}$/.test(value))) return null;
  const lead = tokens.slice(Math.max(0, at - 60), at).findLast((token) => /^\p{Ll}{3,}$/u.test(token.text));
  const place: Place = { from: null, at: "any", count: null, next: at + 1 };
  // "the four-digit code following the letters ... in the serial number" tells where a code stands.
  if (tokens.slice(Math.max(0, at - 8), at).some((token) => /^(?:following|after|behind)$/.test(token.lower))) return null;
  return /^letters?$/.test(lead?.lower ?? "") ? { place, values, isAffix: false, from: at, to: at + 1 } : null;
}

/** "begins with LK and ends in 20": both of one code, and not in the alternative. */
function isCombined(tokens: readonly Token[], blocks: readonly Block[]): boolean {
  return groupsOf(tokens, blocks).some((group) => new Set(group.map((block) => block.place.at)).size > 1);
}

/** Statements joined by "or" are alternatives. */
function groupsOf(tokens: readonly Token[], blocks: readonly Block[]): Block[][] {
  const groups: Block[][] = [];
  blocks.forEach((block, index) => {
    const before = blocks[index - 1];
    const between = before ? tokens.slice(before.to, block.from).map((token) => token.lower) : [];
    const last = groups[groups.length - 1];
    const again = last?.some(
      (other) => other.place.at === block.place.at && other.place.from === block.place.from && block.place.at !== "next",
    );
    if (!last || between.includes("or") || between.includes("and/or") || again) groups.push([block]);
    else last.push(block);
  });
  return groups;
}

/** "a six-digit date code", "10 character serial number". */
function statedLength(tokens: readonly Token[], from: number, to: number): number | null {
  for (let at = from; at < to; at++) {
    const [count = "", noun = ""] = /^(\w+)-(?:digit|character)$/.exec(lowerAt(tokens, at))?.slice(1) ?? [];
    if (count !== "" && noun === "") return countOf(count);
  }
  return null;
}

function windowsOf(group: readonly Block[], length: number | null): CodeWindow[] {
  const [only] = group;
  const ends = endsOfRange(group);
  if (ends) return [ends];
  if (only?.place.at === "any") return only.values.values.map((value) => ({ pattern: `*${value}*` }));
  if (group.length === 1 && only?.place.from === 1 && only.values.ranges.length > 0)
    return [
      ...only.values.values.map((value) => ({ pattern: `${value}*` })),
      ...only.values.ranges.map((range) => ({ ...range, as: "beginning" })),
    ];
  const placed = placedBlocks(group, length);
  return placed ? waysToFill(placed, length).map(({ low, high }) => (low === high ? { pattern: low } : { from: low, to: high })) : [];
}

/** "starting at 38-1 and ending at 21-2": whole codes of one shape are the ends of a range. */
function endsOfRange(group: readonly Block[]): CodeWindow | null {
  const [first, last] = group;
  if (group.length !== 2 || !first?.isAffix || !last?.isAffix || first.place.at !== "start" || last.place.at !== "end") return null;
  const [[from = "", ...others], [to = "", ...more]] = [first.values.values, last.values.values];
  const shape = (code: string) => code.replace(/\d/g, "0");
  const isRange = others.length + more.length === 0 && from.length >= 3 && shape(from) === shape(to) && /\d{2}/.test(from);
  return isRange ? { from, to } : null;
}

function placedBlocks(group: readonly Block[], length: number | null): Placed[] | null {
  const placed: Placed[] = [];
  let after = 1;
  for (const { place, values } of group) {
    const parts = [...values.values.map(single), ...values.ranges.map(({ from, to }) => ({ low: from, high: to }))];
    const width = parts[0]?.low.length ?? 0;
    if (width === 0 || parts.some(({ low }) => low.length !== width && place.from !== 1 && place.at !== "end")) return null;
    const from = firstCharacter(place, width, after, length);
    if (from === undefined) return null;
    placed.push({ from, parts, width });
    if (from !== null) after = from + width;
  }
  placed.sort((one, other) => (one.from ?? Number.POSITIVE_INFINITY) - (other.from ?? Number.POSITIVE_INFINITY));
  // Only at a known last place do the two ends of a range compare as the whole code does; elsewhere each number is written out.
  const staysRange = (block: Placed, at: number) => at === placed.length - 1 && (block.from !== null || placed.length === 1);
  return placed.map((block, at) => (staysRange(block, at) ? block : { ...block, parts: block.parts.flatMap(writtenOut) }));
}

function single(value: string): Part {
  return { low: value, high: value };
}

function writtenOut({ low, high }: Part): Part[] {
  return low === high ? [{ low, high }] : (numberPatterns(low, high) ?? []).map(single);
}

/** Null for the end of a code of unknown length; undefined where the place cannot be told. */
function firstCharacter(place: Place, width: number, after: number, length: number | null): number | null | undefined {
  if (place.at === "next") return after;
  if (place.at === "middle") return length === null ? undefined : Math.floor((length - width) / 2) + 1;
  if (place.at === "end") return length === null ? null : length - width + 1;
  return place.from;
}

/** Each way to fill the places, `?` between them, `*` where the code may go on. */
function waysToFill(placed: readonly Placed[], length: number | null): Part[] {
  let ways: Part[] = [{ low: "", high: "" }];
  for (const { from, parts } of placed) {
    if (ways.length * parts.length > mostPatterns) return [];
    ways = ways.flatMap((head) => {
      const gap = from === null ? "*" : from - 1 < head.low.length ? null : "?".repeat(from - 1 - head.low.length);
      return gap === null ? [] : parts.map((part) => ({ low: head.low + gap + part.low, high: head.high + gap + part.high }));
    });
  }
  const endsOpen = placed.every(({ from }) => from !== null);
  return ways.map(({ low, high }) => (endsOpen && low.length !== length ? { low: `${low}*`, high: `${high}*` } : { low, high }));
}
