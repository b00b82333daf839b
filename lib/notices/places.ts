import { lowerAt } from "./cues";
import { countOf, ordinalOf } from "./ordinals";
import type { Token } from "./token";

/** Which characters of a code a phrase speaks of: "the third and fourth digits", "the last two characters". */
export interface Place {
  /** First of them, 1-based; null where they stand at the end, or right after the ones before ("the next two digits"). */
  readonly from: number | null;
  /** `any`: somewhere in the code. */
  readonly at: "start" | "end" | "next" | "middle" | "any";
  /** How many; null where the phrase does not say ("the first digits"). */
  readonly count: number | null;
  /** Index of the first token after the phrase. */
  readonly next: number;
}

const noun = /^(?:digits?|numbers?|numerals?|letters?|characters?|positions?|places?)$/;

/** The phrase about places that begins at a token, if one does. */
export function placeAt(tokens: readonly Token[], at: number): Place | null {
  const word = lowerAt(tokens, at);
  if (/^(?:first|last|final|next|middle)$/.test(word)) {
    const edge = edgePlace(tokens, at);
    if (edge) return edge;
  }
  if (lowerAt(tokens, at + 1) === "middle" && countOf(word) !== null && noun.test(lowerAt(tokens, at + 2)))
    return { from: null, at: "middle", count: countOf(word), next: at + 3 };
  return ordinalPlace(tokens, at);
}

/** "the first two digits", "last four characters", "the next letter", "the middle two digits". */
function edgePlace(tokens: readonly Token[], at: number): Place | null {
  const word = lowerAt(tokens, at);
  const count = countOf(lowerAt(tokens, at + 1));
  const named = count === null ? at + 1 : at + 2;
  if (!noun.test(lowerAt(tokens, named))) return count === null ? null : bareEdge(tokens, at, count);
  const single = count === null && !lowerAt(tokens, named).endsWith("s") ? 1 : count;
  if (word === "middle") return single === null ? null : { from: null, at: "middle", count: single, next: named + 1 };
  if (word === "next") return { from: null, at: "next", count: single, next: named + 1 };
  return { from: word === "first" ? 1 : null, at: word === "first" ? "start" : "end", count: single, next: named + 1 };
}

/** "the next two are ...", "the last two the year": the noun was said before. */
function bareEdge(tokens: readonly Token[], at: number, count: number): Place | null {
  if (!/^(?:is|are|the|represents?|indicates?|being|stands?|shows?|denotes?)$/.test(lowerAt(tokens, at + 2))) return null;
  const word = lowerAt(tokens, at);
  const place = word === "first" ? "start" : word === "next" ? "next" : word === "middle" ? "middle" : "end";
  return { from: place === "start" ? 1 : null, at: place, count, next: at + 2 };
}

/** "the third and fourth digits", "the fifth through seventh characters", "the second letter", "the 3rd digit". */
function ordinalPlace(tokens: readonly Token[], at: number): Place | null {
  const from = ordinalOf(lowerAt(tokens, at));
  if (from === null) return null;
  let last = from;
  let next = at + 1;
  while (next < at + 8) {
    const joined = /^(?:and|through|to|,|&|-|–)$/.test(lowerAt(tokens, next));
    const ordinal = ordinalOf(lowerAt(tokens, joined ? next + 1 : next));
    if (ordinal === null || ordinal <= last) break;
    last = ordinal;
    next += joined ? 2 : 1;
  }
  return noun.test(lowerAt(tokens, next)) ? { from, at: "start", count: last - from + 1, next: next + 1 } : null;
}
