import type { Slot } from "./cues";
import { plainCapitals } from "./plain-capitals";
import { isYear, type Token } from "./token";

/** A stock-keeping code that a shop puts on parcels (ten characters, `B0` or `X00` first): it is not on the product. */
export function isShopCode(text: string): boolean {
  return /^(?:B0[0-9A-Z]{8}|X00[0-9A-Z]{7})$/.test(text);
}

/** Whether letters and digits stand together as they do in identifiers: `AB-1200`, `12C`, `204.7760`; not `7-foot` or `1/16`. */
export function isStrongCode(token: Token): boolean {
  if (token.kind !== "code" || token.text.length < 3) return false;
  if (/^\d{1,2}(?:st|nd|rd|th)?-/.test(token.text) && /[a-z]{3}/.test(token.text)) return false;
  if (/[a-z]{3}/.test(token.text) && !/x{3}|\d{3}/.test(token.text)) return false;
  if (/^(?:19|20)\d{2}[-/](?:19|20)?\d{2}$/.test(token.text)) return false;
  return !/^\d+(?:[/.-]\d+)?$/.test(token.text) || /^(?:\d{3,}[.-]\d{2,}|\d{5,}-\d)/.test(token.text);
}

/** Whether a token can be a value of the slot (`affix`: the beginning or end of one) when it follows the slot's cue or an earlier value directly. */
export function fitsSlot(token: Token, slot: Slot, affix = false): boolean {
  if (slot === "upc") return /^#?[\d-]{8,18}$/.test(token.text) && (token.kind === "number" || token.kind === "code");
  if (token.kind === "measure" && (slot === "serial" || slot === "dateCode")) return /^\d{1,5}[A-Z]$/.test(token.text);
  if (token.kind === "measure")
    return affix ? /^\d{1,5}[A-Z]$/.test(token.text) : slot === "model" && /^(?:\d{3,5}[A-Z]|\d{2}[C-EHJNPR-UX-Z])$/.test(token.text);
  if (isFormat(token.text) || /^TY(?:PE)?\d$/.test(token.text)) return false;
  if (token.kind === "code") return !/^\d{1,2}-(?:[a-z]|$)/.test(token.text) && !/^1\/\d{1,2}$/.test(token.text);
  if (token.kind === "capitals" && affix) return token.text.length <= 6;
  if (token.kind === "word" && slot !== "model" && (affix || slot === "dateCode")) return /^[A-Z]$/.test(token.text);
  if (token.kind === "capitals") return slot !== "serial" && !plainCapitals.has(token.text) && token.text.length <= 12;
  if (token.kind === "number") return affix || token.text.replace("#", "").length >= 2;
  if (token.kind === "date") return slot === "dateCode" ? isPrintedDate(token.text) : slot === "model" && isYear(token.text);
  return false;
}

/** `WW/YY`, `MM-DD-YYYY`: how a date code runs, not one. */
export function isFormat(text: string): boolean {
  return /^(?:(?:MM|DD|YY|YYYY|WW)[-/.]?){2,3}$/i.test(text);
}

/** `03.16.2026`, `2015`, `DEC 2022`: a date as it is stamped, unlike one that the sentence writes out. */
function isPrintedDate(text: string): boolean {
  return /^\d[\d./-]*$/.test(text) || /^[A-Z]{3,4}\.? \d{4}$/.test(text);
}

/** The printed value without what only introduces it. */
export function printedCode(text: string): string {
  return text.replace(/^#/, "").replace(/[’']s$/, "");
}
