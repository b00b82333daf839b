import { lowerAt } from "./cues";
import { countOf } from "./ordinals";
import type { Token } from "./token";

/** The signs that a phrase adds to the codes before it, and the index after it. */
export interface FollowingPlaces {
  readonly signs: string;
  readonly next: number;
}

const noun: readonly (readonly [RegExp, string])[] = [
  [/^(?:digits?|numbers?|numerals?)$/, "#"],
  [/^letters?$/, "@"],
  [/^characters?$/, "?"],
];
const longest = 8;

/**
 * "... followed by 3 digits", "and is followed by three digits and a letter", "each followed by a two-letter color code":
 * what stands behind the codes, `#` a digit, `@` a letter, `?` either. Null where the phrase names the characters.
 */
export function followingPlaces(tokens: readonly Token[], from: number): FollowingPlaces | null {
  let at = from;
  while (at < from + 4 && /^(?:and|is|are|each|then|,|immediately)$/.test(lowerAt(tokens, at))) at += 1;
  if (lowerAt(tokens, at) !== "followed" || lowerAt(tokens, at + 1) !== "by") return null;
  let signs = "";
  let next = at + 2;
  for (let part = partAt(tokens, next); part; part = partAt(tokens, next)) {
    signs += part.signs;
    next = part.next;
    if (!/^(?:and|then|,)$/.test(lowerAt(tokens, next))) break;
    next += 1;
  }
  return signs === "" || signs.length > longest ? null : { signs, next };
}

function partAt(tokens: readonly Token[], from: number): FollowingPlaces | null {
  let at = from;
  while (/^(?:a|an|the|any|single)$/.test(lowerAt(tokens, at)) && !/^[A-Z]$/.test(tokens[at]?.text ?? "")) at += 1;
  const [, joined = "", joinedNoun = ""] = /^(\w+)-(digit|letter|character|number)$/.exec(lowerAt(tokens, at)) ?? [];
  const count = joined !== "" ? countOf(joined) : (countOf(lowerAt(tokens, at)) ?? (at > from ? 1 : null));
  const named = joined !== "" ? at : countOf(lowerAt(tokens, at)) === null ? at : at + 1;
  const word = joined !== "" ? joinedNoun : lowerAt(tokens, named);
  const sign = noun.find(([words]) => words.test(word))?.[1];
  const next = tokens[named + 1];
  const namesThem = next !== undefined && /^(?:[A-Z]|\d+)$/.test(next.text);
  return count === null || sign === undefined || namesThem ? null : { signs: sign.repeat(count), next: named + 1 };
}
