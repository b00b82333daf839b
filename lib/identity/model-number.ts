import { foldConfusable } from "./confusable";

const notKey = /[^A-Z0-9]+/g;

/** ASCII codes to the code of the character in a key; 0 for what a key leaves out. */
const keyCode = new Uint8Array(128);
for (const character of "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789") {
  keyCode[character.charCodeAt(0)] = character.charCodeAt(0);
  keyCode[character.toLowerCase().charCodeAt(0)] = character.charCodeAt(0);
}

/** Upper-case letters and digits of a printed code; accents fold, separators and signs drop. Most codes are plain, and nearly all ASCII: those are cut together. */
export function modelKey(model: string): string {
  let key = "";
  let from = 0;
  let isUpper = true;
  for (let at = 0; at < model.length; at++) {
    const code = model.charCodeAt(at);
    if (code > 127) return model.normalize("NFKD").toUpperCase().replace(notKey, "");
    if (keyCode[code] === code) continue;
    if (keyCode[code] !== 0) isUpper = false;
    else {
      if (at > from) key += model.slice(from, at);
      from = at + 1;
    }
  }
  if (from === 0) key = model;
  else if (from < model.length) key += model.slice(from);
  return isUpper ? key : key.toUpperCase();
}

/** Upper-case ASCII codes to the character that confused ones share. */
const foldedCharacter = Array.from({ length: 128 }, (_, code) => foldConfusable(String.fromCharCode(code)));

/** A key with every character that plates confuse folded to one of its group, so that either reading compares equal. */
export function confusableKey(key: string): string {
  const first = key.search(/[OILSBZG]/);
  if (first < 0) return key;
  let folded = key.slice(0, first);
  for (let at = first; at < key.length; at++) folded += foldedCharacter[key.charCodeAt(at)] ?? key.charAt(at);
  return folded;
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
