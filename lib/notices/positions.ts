import type { CodeWindow } from "./coverage";
import { lowerAt } from "./cues";
import type { Token } from "./token";
import type { WildcardMeaning } from "./wildcards";

/** Statements about single places of a serial number: "a second letter of A, M or R", "“6” in the third position", "the first four digits are between 5301 and 5642". */
export interface PositionWindows {
  readonly found: readonly { readonly window: CodeWindow; readonly start: number; readonly end: number }[];
  readonly next: number;
}

const ordinals: Readonly<Record<string, number>> = {
  first: 1,
  second: 2,
  third: 3,
  fourth: 4,
  fifth: 5,
  sixth: 6,
  seventh: 7,
  eighth: 8,
  "1st": 1,
  "2nd": 2,
  "3rd": 3,
  "4th": 4,
  "5th": 5,
  "6th": 6,
};
const farthest = 16;

/** Looks for such a statement in the sentence after a serial or date-code cue. Null where there is none. */
export function positionWindows(tokens: readonly Token[], from: number, _meaning: WildcardMeaning): PositionWindows | null {
  const end = sentenceEnd(tokens, from);
  const letters = letterPlaces(tokens, from, end);
  if (letters.places.size > 0) return { found: windowsOf(letters.places, tokens, from, letters.next), next: letters.next };
  return null;
}

function sentenceEnd(tokens: readonly Token[], from: number): number {
  let at = from;
  while (at < tokens.length && tokens[at]?.kind !== "stop" && at < from + 60) at += 1;
  return at;
}

/** "first letter A through T and second letter G": what may stand at each place. */
function letterPlaces(tokens: readonly Token[], from: number, end: number): { places: Map<number, string[]>; next: number } {
  const places = new Map<number, string[]>();
  let next = from;
  for (let at = from; at < Math.min(end, from + farthest); at++) {
    const place = ordinalOf(lowerAt(tokens, at));
    if (place === null || !/^(?:letter|character|digit)$/.test(lowerAt(tokens, at + 1))) continue;
    const { values, after } = singleValues(tokens, at + 2, end);
    if (values.length > 0) places.set(place, values);
    if (values.length > 0) next = after;
  }
  return { places, next };
}

function singleValues(tokens: readonly Token[], from: number, end: number): { values: string[]; after: number } {
  const values: string[] = [];
  let at = from;
  for (; at < end; at++) {
    const text = tokens[at]?.text ?? "";
    if (/^[A-Z\d]$/.test(text)) {
      const through = /^(?:through|thru|to|-|–)$/.test(lowerAt(tokens, at - 1)) ? values.pop() : undefined;
      if (through === undefined) values.push(text);
      else for (let code = through.charCodeAt(0); code <= text.charCodeAt(0); code++) values.push(String.fromCharCode(code));
    } else if (!/^(?:of|is|are|:|"|“|”|,|and|or|either|the|a|through|thru|to|-|–|being|as)$/.test(text.toLowerCase())) break;
    else if (text.toLowerCase() === "and" && ordinalOf(lowerAt(tokens, at + 1)) !== null) break;
  }
  return { values, after: at };
}

function windowsOf(
  places: ReadonlyMap<number, readonly string[]>,
  tokens: readonly Token[],
  from: number,
  end: number,
): PositionWindows["found"] {
  const last = Math.max(...places.keys());
  let patterns = [""];
  for (let place = 1; place <= last; place++) {
    const values = places.get(place) ?? ["?"];
    patterns = patterns.flatMap((pattern) => values.map((value) => pattern + value));
  }
  const start = tokens[from]?.start ?? 0;
  const stop = tokens[end - 1]?.end ?? start;
  return patterns.map((pattern) => ({ window: { pattern: `${pattern}*` }, start, end: stop }));
}

/** `third` -> 3; null for any other word. */
export function ordinalOf(word: string): number | null {
  // Any word of a text may be asked for, also one that every object knows, such as "constructor".
  return Object.hasOwn(ordinals, word) ? (ordinals[word] ?? null) : null;
}
