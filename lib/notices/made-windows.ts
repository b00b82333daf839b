import { isFormat } from "./code-shape";
import type { MadeWindow } from "./coverage";
import { type Cue, cueAt, lowerAt } from "./cues";
import { dayBeside, fullYear, wholeMonth, wholeWeek, wholeYear } from "./days";
import { monthNumber } from "./month-names";
import { wholeDay } from "./published-date";
import { isYear, type Token } from "./token";

export interface FoundMade {
  readonly window: MadeWindow;
  readonly start: number;
  readonly end: number;
}

export interface MadeReading {
  readonly found: readonly FoundMade[];
  readonly next: number;
}

type Bound = { first: string; last: string };
const between = /^(?:between|from)$/;
const until = /^(?:through|thru|to|until|and|-|–|—|till)$/;
const passed =
  /^(?:in|on|by|during|the|of|date|dates|and|or|for|with|a|an|are|is|was|were|:|,|\(|"|“|”|range|ranges|ranging|codes?|month|year|week|weeks|either|both|years|units?|within|printed|month\/year|only|shipped)$/;

/** Dates of manufacture after their cue: between, from .. to, before, after, in, on, weeks of a year. Stops where no date follows, or at a cue that `ends` it. */
export function readMade(tokens: readonly Token[], from: number, ends: (cue: Cue) => boolean = (cue) => cue.slot !== "made"): MadeReading {
  const found: FoundMade[] = [];
  let at = from;
  let idle = 0;
  let strayed = false;
  if (lowerAt(tokens, at) === "and" && /^(?:sold|shipped|distributed|imported)$/.test(lowerAt(tokens, at + 1))) at += 2;
  while (at < tokens.length && idle <= 10) {
    const next = weeksAt(tokens, at) ?? windowAt(tokens, at);
    if (next && (!strayed || /^(?:in|on|during|of)$/.test(lowerAt(tokens, at - 1)) || tokens[at]?.kind === "word")) {
      found.push(...next.found);
      at = next.next;
      idle = found.length > 0 ? 5 : 0;
      continue;
    }
    const word = lowerAt(tokens, at);
    const cue = cueAt(tokens, at);
    if (tokens[at]?.kind === "stop" || (cue && ends(cue) && !(found.length === 0 && /^models?$/.test(word)))) break;
    const isSkipped = passed.test(word) || isFormat(word) || (word === ")" && isFormat(lowerAt(tokens, at - 1)));
    if (!isSkipped && (found.length > 0 || /[;)]/.test(word))) break;
    strayed ||= !isSkipped;
    at += 1;
    idle += 1;
  }
  return { found, next: at };
}

function windowAt(tokens: readonly Token[], at: number): MadeReading | null {
  const word = lowerAt(tokens, at);
  if (word === "as" && /^(?:early|late)$/.test(lowerAt(tokens, at + 1)) && lowerAt(tokens, at + 2) === "as")
    return windowAt(tokens, at + 3);
  const inclusive = /^(?:on|in)$/.test(word) && lowerAt(tokens, at + 1) === "or" ? lowerAt(tokens, at + 2) : "";
  if (inclusive === "before") return upTo(tokens, at + 3, at);
  if (inclusive === "after" || inclusive === "since") return openFrom(tokens, at + 3, at, false);
  if (/^(?:before|prior)$/.test(word)) return openTo(tokens, word === "prior" ? at + 2 : at + 1, at);
  if (/^(?:after|since|starting|beginning)$/.test(word))
    return openFrom(tokens, /^(?:in|on|with)$/.test(lowerAt(tokens, at + 1)) ? at + 2 : at + 1, at, word === "after");
  if (word === "up" || word === "through" || word === "until") return upTo(tokens, word === "up" ? at + 2 : at + 1, at);
  const start = boundAt(tokens, between.test(word) ? at + 1 : at);
  if (!start) return null;
  const join = skipWords(tokens, start.next);
  const end =
    until.test(lowerAt(tokens, join)) && (between.test(word) || lowerAt(tokens, join) !== "and")
      ? boundAt(tokens, skipWords(tokens, join + 1))
      : null;
  if (end) return one({ from: start.bound.first, to: end.bound.last }, tokens, at, end.next);
  const later = /^(?:and|or)$/.test(lowerAt(tokens, join)) ? lowerAt(tokens, join + 1) : lowerAt(tokens, join);
  if (/^(?:before|earlier|prior)$/.test(later)) return one({ from: null, to: start.bound.last }, tokens, at, join + 2);
  if (/^(?:after|later|onwards?)$/.test(later)) return one({ from: start.bound.first, to: null }, tokens, at, join + 2);
  return one({ from: start.bound.first, to: start.bound.last }, tokens, at, start.next);
}

function upTo(tokens: readonly Token[], at: number, from: number): MadeReading | null {
  const end = boundAt(tokens, at);
  return end ? one({ from: null, to: end.bound.last }, tokens, from, end.next) : null;
}

function openTo(tokens: readonly Token[], at: number, from: number): MadeReading | null {
  const end = boundAt(tokens, at);
  return end ? one({ from: null, to: dayBeside(end.bound.first, -1) }, tokens, from, end.next) : null;
}

function openFrom(tokens: readonly Token[], at: number, from: number, after: boolean): MadeReading | null {
  const start = boundAt(tokens, at);
  if (!start) return null;
  const first = after ? dayBeside(start.bound.last, 1) : start.bound.first;
  const end = endAfter(tokens, start.next);
  return end ? one({ from: first, to: end.last }, tokens, from, end.next) : one({ from: first, to: null }, tokens, from, start.next);
}

/** "... and before March 1, 2020", "... and on or before ...": the other end of a window that "after" begins. */
function endAfter(tokens: readonly Token[], from: number): { last: string; next: number } | null {
  const at = lowerAt(tokens, from) === "," ? from + 1 : from;
  if (!/^(?:and|but)$/.test(lowerAt(tokens, at))) return null;
  const other = windowAt(tokens, at + 1);
  const window = other?.found[0]?.window;
  return other && window?.from === null && window.to !== null ? { last: window.to, next: other.next } : null;
}

function one(window: MadeWindow, tokens: readonly Token[], at: number, next: number): MadeReading {
  return { found: [{ window, start: tokens[at]?.start ?? 0, end: tokens[Math.min(next, tokens.length) - 1]?.end ?? 0 }], next };
}

/** A date token, or a month whose year stands at the other end: "May through December 1996", "Sept. 9 and Nov. 11, 1977". */
export function boundAt(tokens: readonly Token[], at: number): { bound: Bound; next: number } | null {
  const week = weekBoundAt(tokens, skipWords(tokens, at));
  if (week) return week;
  const token = tokens[skipWords(tokens, at)];
  const next = skipWords(tokens, at) + 1;
  if (token?.days) return { bound: { first: token.days.first, last: token.days.last }, next };
  if (token && isYear(token.text)) return { bound: wholeYear(Number(token.text)), next };
  const short = token ? shortMonth(token.text) : null;
  if (short) return { bound: short, next };
  const month = token ? monthNumber(token.text) : null;
  if (month === null || !/^[A-Z]/.test(token?.text ?? "")) return null;
  const year = tokens
    .slice(next, next + 7)
    .find((later) => later.days)
    ?.days?.first.slice(0, 4);
  if (year === undefined) return null;
  const day = /^\d{1,2}$/.test(tokens[next]?.text ?? "") ? wholeDay(Number(year), month, Number(tokens[next]?.text)) : null;
  if (day !== null) return { bound: { first: day, last: day }, next: next + 1 };
  const bound = wholeMonth(year, month);
  return bound ? { bound, next } : null;
}

/** `10/95`, `6-98`, `2015-03`, `20150312`: a month or day, as dates of manufacture are written. */
function shortMonth(text: string): Bound | null {
  const [, first = "", year = ""] = /^(\d{1,2})[/-](\d{2})$/.exec(text) ?? [];
  if (first !== "") return wholeMonth(String(fullYear(year)), Number(first));
  const iso = /^(20\d{2})[-/](\d{2})$/.exec(text);
  if (iso) return wholeMonth(iso[1], Number(iso[2]));
  const digits = /^((?:19|20)\d{2})(\d{2})(\d{2})$/.exec(text);
  const day = digits ? wholeDay(Number(digits[1]), Number(digits[2]), Number(digits[3])) : null;
  return day === null ? null : { first: day, last: day };
}

/** "the 10th week of 2018", "week 10 of 2018". */
function weekBoundAt(tokens: readonly Token[], at: number): { bound: Bound; next: number } | null {
  const words = [0, 1, 2, 3].map((step) => lowerAt(tokens, at + step));
  const number = /^weeks?$/.test(words[0] ?? "") ? words[1] : /^weeks?$/.test(words[1] ?? "") ? words[0] : undefined;
  const week = Number(/^(\d{1,2})(?:st|nd|rd|th)?$/.exec(number ?? "")?.[1] ?? 0);
  if (week < 1 || week > 53 || words[2] !== "of" || !isYear(words[3] ?? "")) return null;
  return { bound: wholeWeek(Number(words[3]), week), next: at + 4 };
}

function skipWords(tokens: readonly Token[], from: number): number {
  let at = from;
  while (/^(?:,|the|of|date|"|“|”|\(|about|approximately|early|late|end|beginning)$/.test(lowerAt(tokens, at))) at += 1;
  return at;
}

/** "weeks 22 through 30 of 1996", "weeks 26 and 46 of 1996", "week 45 of 1996". */
function weeksAt(tokens: readonly Token[], at: number): MadeReading | null {
  if (!/^weeks?$/.test(lowerAt(tokens, at))) return null;
  const weeks: number[] = [];
  let to = at + 1;
  let through = /^(?:between|from)$/.test(lowerAt(tokens, at - 1));
  for (; to < at + 12; to++) {
    const word = lowerAt(tokens, to);
    if (/^\d{1,2}$/.test(word)) weeks.push(Number(word));
    else if (/^(?:through|thru|to|-|–)$/.test(word)) through = true;
    else if (!/^(?:and|,|of|the|or)$/.test(word)) break;
  }
  const year = Number(tokens[to]?.text);
  if (weeks.length === 0 || !isYear(tokens[to]?.text ?? "") || weeks.some((week) => week < 1 || week > 53)) return null;
  const place = { start: tokens[at]?.start ?? 0, end: tokens[to]?.end ?? 0 };
  const ends = weeks.map((week) => wholeWeek(year, week));
  const last = ends[ends.length - 1] as Bound;
  if (through) return { found: [{ window: { from: (ends[0] as Bound).first, to: last.last }, ...place }], next: to + 1 };
  return { found: ends.map((week) => ({ window: { from: week.first, to: week.last }, ...place })), next: to + 1 };
}
