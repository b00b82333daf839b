import { orderInWords } from "./order-in-words";
import type { Token } from "./token";

/**
 * How the values of date codes run, where the text says so: `WWYY`, `YYWW`, `MMYY`, `MM-YY`, `DDMMYY` ... Null where it does
 * not, or says two things: the order is never guessed from the values.
 */
export function codeOrder(text: string, tokens: readonly Token[]): string | null {
  const said = new Set(
    [writtenFormat(text), tellsPlaces.test(text) ? orderInWords(tokens) : null, sequenceInWords(text)].filter((order) => order !== null),
  );
  return said.size === 1 ? ([...said][0] ?? null) : null;
}

const tellsPlaces = /\b(?:first|last|final|next|middle|second|third|1st|2nd|3rd)\b[^.]{0,200}\b(?:week|year|month|day)/i;

/** Whether a printed code begins with as many digits as the order has places, so that it can run so. */
export function fitsOrder(printed: string, order: string): boolean {
  const places = order.replace(/[^A-Z]/g, "").length;
  const code = printed.replace(/[-/. ]/g, "");
  return code === "" || new RegExp(`^\\d{${places}}`).test(code) || /^[\d#?*@]+$/.test(code);
}

/** "in MM/YYYY format", "the format is MM-YY", "mm/dd/yy". */
function writtenFormat(text: string): string | null {
  const format = /\b((?:MM|DD|YYYY|YY|WW|DDD)(?:[-/. ]?(?:MM|DD|YYYY|YY|WW|DDD)){1,2})\b/i.exec(text)?.[1];
  return format && /date|code|format|manufactur/i.test(around(text, format)) ? format.toUpperCase() : null;
}

function around(text: string, format: string): string {
  const at = text.indexOf(format);
  return text.slice(Math.max(0, at - 120), at + format.length + 60);
}

const parts: Readonly<Record<string, string>> = { week: "WW", weeks: "WW", month: "MM", year: "YY", day: "DD" };

/** "reflects the week and year of manufacture", "in day, month, and year sequence". */
function sequenceInWords(text: string): string | null {
  const match =
    /\b(?:reflects?|represents?|indicates?|shows?|is\s+in|in)\s+(?:the\s+)?(day|week|month|year),?\s+(?:and\s+)?(day|week|month|year)(?:,?\s+and\s+(year|month|day))?\b/i.exec(
      text,
    );
  if (!match) return null;
  return match
    .slice(1)
    .map((word) => parts[(word ?? "").toLowerCase()] ?? "")
    .join("");
}

/** "the first four digits of the serial number": values near such words are beginnings. */
export function saysBeginning(text: string, start: number, end: number): boolean {
  return /\bfirst\s+(?:\w+\s+)?(?:digits|numbers|characters|letters|numerals)\b/i.test(text.slice(Math.max(0, start - 80), end + 45));
}
