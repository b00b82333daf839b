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

/** A year that a text is likely to mean as one. */
export function isYear(text: string): boolean {
  return /^(?:19[3-9]\d|20[0-4]\d)$/.test(text);
}
