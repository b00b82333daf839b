import type { CodeItem } from "./code-item";
import { lowerAt } from "./cues";
import type { Token } from "./token";

/** Beginnings of letters with the numbers that follow them: the whole values, and where the text goes on. */
export interface AffixNumbers {
  readonly items: readonly CodeItem[];
  readonly next: number;
}

const filler = /^(?:the|a|an|any|numbers?|digits?|numerals|between|from|in|within|range|ranges|ranging|of|is|are|with|by|serial|:)$/;
const through = /^(?:through|thru|to|and|-|–|—)$/;

/**
 * "beginning with the letters A, B or C followed by numbers between 10001 and 20500", "with the prefix QT and numbers 20100
 * to 20950": each beginning joined to each range. Null where no range of numbers follows the beginnings.
 */
export function numbersAfterLetters(tokens: readonly Token[], at: number, items: readonly CodeItem[]): AffixNumbers | null {
  if (!items.every((item) => item.operator === "begins" && item.to === null && /^[A-Z]{1,5}$/.test(item.from))) return null;
  const begun = lead(tokens, at);
  if (begun === null) return null;
  const joined: CodeItem[] = [];
  let next = begun;
  for (let range = rangeAt(tokens, begun); range; range = anotherAfter(tokens, range.next)) {
    next = range.next;
    const end = tokens[range.next - 1]?.end ?? 0;
    for (const item of items)
      joined.push({ ...item, from: item.from + range.from, to: item.from + range.to, operator: "exact", end: Math.max(end, item.end) });
  }
  return joined.length > 0 ? { items: joined, next } : null;
}

/** "followed by the numbers between", "and numbers", "with a number from": the index of the first number. */
function lead(tokens: readonly Token[], from: number): number | null {
  const word = lowerAt(tokens, from);
  const next = lowerAt(tokens, from + 1);
  const isFollowed = (word === "followed" || word === "immediately") && /^(?:by|followed)$/.test(next);
  const isNumbers = /^(?:and|with|plus)$/.test(word) && tokens.slice(from + 1, from + 4).some((token) => /^numbers?$/.test(token.lower));
  if (!isFollowed && !isNumbers) return null;
  let at = from + 1;
  while (at < from + 12 && filler.test(lowerAt(tokens, at))) at += 1;
  return /^\d{2,}$/.test(tokens[at]?.text ?? "") ? at : null;
}

function rangeAt(tokens: readonly Token[], at: number): { from: string; to: string; next: number } | null {
  const from = tokens[at]?.text ?? "";
  const to = tokens[at + 2]?.text ?? "";
  const isRange = /^\d{2,}$/.test(from) && /^\d{2,}$/.test(to) && through.test(lowerAt(tokens, at + 1));
  return isRange ? { from, to, next: at + 3 } : null;
}

function anotherAfter(tokens: readonly Token[], from: number): { from: string; to: string; next: number } | null {
  let at = from;
  while (at < from + 4 && /^(?:,|and|or|between|from)$/.test(lowerAt(tokens, at))) at += 1;
  return at > from ? rangeAt(tokens, at) : null;
}
