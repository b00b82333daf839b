import type { DaySpan } from "./days";

/**
 * `word` letters; `capitals` at least two letters, all capital; `code` letters with digits; `number` digits alone; `measure` a number with its unit;
 * `quantity` a number with thousands separators; `date`; `quote`; `mark` other punctuation; `stop` the end of a sentence.
 */
export type TokenKind = "word" | "capitals" | "code" | "number" | "measure" | "quantity" | "date" | "quote" | "mark" | "stop";

export interface Token {
  readonly text: string;
  readonly lower: string;
  /** UTF-16 offsets into the passage. */
  readonly start: number;
  readonly end: number;
  readonly kind: TokenKind;
  /** Of a date. */
  readonly days?: DaySpan;
}

/** Letters and digits together, or at least two digits alone: what can identify a model, unlike a plain word. */
export function hasDigit(text: string): boolean {
  return /\d/.test(text);
}

/** The parts of a token that was several cells or codes run together, each a token of its own. */
export function partsOf(token: Token, parts: readonly string[]): Token[] {
  let { start } = token;
  return parts.map((text) => {
    const kind: TokenKind = /^\d+$/.test(text) ? "number" : hasDigit(text) ? "code" : "capitals";
    const part: Token = { text, lower: text.toLowerCase(), start, end: start + text.length, kind };
    start += text.length;
    return part;
  });
}

/** A year that a text is likely to mean as one. */
export function isYear(text: string): boolean {
  return /^(?:19[3-9]\d|20[0-4]\d)$/.test(text);
}
