import { fitsSlot } from "./code-shape";
import { lowerAt, type Slot } from "./cues";
import type { Token } from "./token";

export interface RangeEnd {
  readonly from: string;
  readonly to: string;
  readonly end: number;
  readonly next: number;
}

interface RangeReading {
  readonly tokens: readonly Token[];
  readonly at: number;
  readonly slot: Slot;
  /** After "between": an "and" joins the two ends. */
  readonly between: boolean;
}

/** Whether the value at `at` is the first end of a range: `A through B`, `A to B`, `A – B`, `between A and B`, or both glued by a hyphen. */
export function rangeEndAt({ tokens, at, slot, between }: RangeReading): RangeEnd | null {
  const first = tokens[at];
  if (!first) return null;
  const glued = slot === "model" ? gluedModels(first.text) : gluedRange(first.text);
  if (glued) return { ...glued, end: first.end, next: at + 1 };
  let word = at + 1;
  while (/^["”“)]$/.test(lowerAt(tokens, word)) && word < at + 3) word += 1;
  word = afterBracket(tokens, word);
  if (/^(?:running|ranging)$/.test(lowerAt(tokens, word))) word += 1;
  if (!joinsEnds(tokens, word, between)) return null;
  let other = word + 1;
  while (
    other < word + 4 &&
    (/^(?:["“(]|and|including|serial|number|numbers|to)$/.test(lowerAt(tokens, other)) || isHyphenOf(tokens, other))
  )
    other += 1;
  const last = tokens[other];
  const isLetters = /^[A-Z]{1,3}$/.test(first.text) && /^[A-Z]{1,3}$/.test(last?.text ?? "");
  const affix = (first.kind === "measure" && last?.kind === "measure") || isLetters;
  // A number such as 2000 looks like a year.
  const isNumber = slot === "serial" && last?.kind === "date" && /^\d{4}$/.test(last.text) && /^\d+$/.test(first.text);
  if (!last || !(isNumber || fitsSlot(last, slot, affix)) || (last.kind === "capitals" && first.kind !== "capitals")) return null;
  const open = lowerAt(tokens, other + 1) === '"' || lowerAt(tokens, other + 1) === "”" ? other + 2 : other + 1;
  return { from: first.text.replace(/^#/, ""), to: last.text.replace(/^#/, ""), end: last.end, next: open };
}

/** `AB10-01 to -05`: the hyphen that the second end is printed with. */
function isHyphenOf(tokens: readonly Token[], at: number): boolean {
  return lowerAt(tokens, at) === "-" && tokens[at]?.end === tokens[at + 1]?.start && /^\d+$/.test(tokens[at + 1]?.text ?? "");
}

/** `1201 (January 2012) through ...`: past what a short bracket explains. */
function afterBracket(tokens: readonly Token[], at: number): number {
  if (lowerAt(tokens, at) !== "(") return at;
  const close = tokens.slice(at + 1, at + 7).findIndex((token) => token.text === ")");
  const inside = tokens.slice(at + 1, at + 1 + close);
  return close > 0 && inside.every((token) => token.kind === "date" || token.kind === "word") ? at + close + 2 : at;
}

function joinsEnds(tokens: readonly Token[], at: number, between: boolean): boolean {
  const word = lowerAt(tokens, at);
  if (/^(?:through|thru|to|until|till)$/.test(word) || (word === "up" && lowerAt(tokens, at + 1) === "to")) return true;
  if (/^[–—]$/.test(word)) return true;
  if (word === "-")
    return (tokens[at]?.start ?? 0) > (tokens[at - 1]?.end ?? 0) || alikeNumbers(tokens[at - 1]?.text, tokens[at + 1]?.text);
  return between && word === "and";
}

function alikeNumbers(one: string | undefined, other: string | undefined): boolean {
  return one !== undefined && other !== undefined && /^\d{6,}$/.test(one) && /^\d{6,}$/.test(other) && one.length === other.length;
}

/** `98020001-98129999`: two ends of the same length and shape around a hyphen. */
export function gluedRange(text: string): { from: string; to: string } | null {
  const middle = (text.length - 1) / 2;
  if (text.length < 9 || text[middle] !== "-") return null;
  const from = text.slice(0, middle);
  const to = text.slice(middle + 1);
  const shape = (code: string) => code.replace(/\d/g, "0").replace(/[A-Z]/g, "A");
  return shape(from) === shape(to) && from <= to && !from.includes("-") ? { from, to } : null;
}

/** `LF100-LF104`: two models of the same letters, the second the higher. */
function gluedModels(text: string): { from: string; to: string } | null {
  const ends = /^([A-Z]{1,5})(\d{2,5})-\1(\d{2,5})$/.exec(text);
  const [, head = "", low = "", high = ""] = ends ?? [];
  return ends && low.length === high.length && low < high ? { from: head + low, to: head + high } : null;
}
