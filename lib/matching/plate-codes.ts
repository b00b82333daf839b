import { evidenceBits, modelKey } from "@/lib/identity/model-number";

const number = String.raw`\d+(?:[.,]\d+)?`;
/** Ratings, small numbers, degrees of protection and years. A dash stands between two ratings of voltage or frequency only: `32-970A` is a code. */
const rating = new RegExp(
  String.raw`^(?:${number}(?:[-/]${number})*(?:v|vac|vdc|hz)|${number}(?:/${number})*(?:w|kw|a|ma|amps?|hp|va|btu|ah|wh|cm|mm|in|kg|lbs?|l|ml|qt|°?[cf])|${number}x${number}\w*|\d{1,3}|\d+\.\d+|ip\d\d|(?:19|20)\d\d)[~.,]*$`,
  "i",
);
/** File numbers of test houses, such as E123456, which stand on many plates. */
const fileNumber = /^(?:E|LR|SA|MH|FCC)\d{4,7}$/;
/** A shorter code on a plate is as likely a part's, a year or a class. */
const leastTextBits = 12;

/** Words and units of a plate that stand before a number without being the letters of a code. */
const plainWords = new Set(
  "AC AMP AMPS BTU CAT CLASS DATE DC FCC FILE HP HZ IP LOT MAX MIN NO PH REV SER SN TYPE UL UPC V VA VAC VDC W".split(" "),
);
const beginning = /^(?:[A-Z]{1,4}|\d{1,3})$/i;
const longestBeginning = 4;
const continuation = /^\d[\dA-Z]{2,}(?:-[A-Z]{1,3})?$/i;

/** A code printed with a gap: its first letters or digits, perhaps a dash, and the rest, as in `VH - 1200`. */
function withGap(tokens: readonly string[], at: number): string | null {
  const head = tokens[at] ?? "";
  if (head.length > longestBeginning) return null;
  const rest = /^[-–]+$/.test(tokens[at + 1] ?? "") ? tokens[at + 2] : tokens[at + 1];
  if (rest === undefined || !beginning.test(head) || !continuation.test(rest)) return null;
  return plainWords.has(head.toUpperCase()) || rating.test(rest) ? null : `${head} ${rest}`;
}

/** Whether a code says enough to be the model, and is neither `known` to be another field nor a file number. */
function mayBeModel(code: string, known: readonly (string | null)[]): boolean {
  const key = modelKey(code);
  if (evidenceBits(key) < leastTextBits || fileNumber.test(key)) return false;
  return known.every((text) => text === null || modelKey(text) !== key);
}

/**
 * Codes that stand in a plate's text without being named the model: letters with digits or long numbers, ratings, file numbers
 * and what is `known` to be another field left out.
 */
export function codesInText(labelText: string, known: readonly (string | null)[]): string[] {
  const tokens = labelText.split(/[\s|;,]+/);
  const codes: string[] = [];
  for (let at = 0; at < tokens.length; at++) {
    const token = tokens[at] as string;
    if (/\d/.test(token) && !rating.test(token) && mayBeModel(token, known)) codes.push(token);
    const gapped = withGap(tokens, at);
    if (gapped !== null && mayBeModel(gapped, known)) codes.push(gapped);
  }
  return codes;
}
