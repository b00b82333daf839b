import { foldConfusable } from "./confusable";

// biome-ignore lint/suspicious/noControlCharactersInRegex: the whole ASCII range is meant, so that plain text skips the normalisation
const isAscii = /^[\x00-\x7f]*$/;
const notKey = /[^A-Z0-9]+/g;

/** Upper-case letters and digits of a printed code; accents fold, separators and signs drop. */
export function modelKey(model: string): string {
  const plain = isAscii.test(model) ? model : model.normalize("NFKD");
  return plain.toUpperCase().replace(notKey, "");
}

/** A key with every character that plates confuse folded to one of its group, so that either reading compares equal. */
export function confusableKey(key: string): string {
  return key.replace(/[OILSBZG]/g, foldConfusable);
}

/** Bits of evidence in one agreeing digit and letter; measured on 20,000 model families, both far below log2 10 and log2 26 because numbers cluster. */
const bitsPerDigit = 2.2;
const bitsPerLetter = 3.2;
const mostBits = 22;

/**
 * How much an agreement on this key says, in bits: a three-digit model says little without a brand, a long mixed one
 * nearly names the product. Capped, since the tail of a long code follows from its head.
 */
export function evidenceBits(key: string): number {
  let bits = 0;
  for (let at = 0; at < key.length && bits < mostBits; at++) bits += key.charCodeAt(at) < 58 ? bitsPerDigit : bitsPerLetter;
  return Math.min(mostBits, bits);
}
