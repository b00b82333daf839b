import { foldConfusable } from "@/lib/identity/confusable";
import { spread } from "./key-table";

/** Longest key that is indexed; what goes beyond is cut off and left to the verification. */
export const longestKey = 48;
/** Shortest beginning or ending that is looked up by itself. */
export const shortestPart = 2;
/** Shortest literal beginning that is looked up with one slip as well. */
export const shortestSlipped = 5;
/** So many characters of an open-ended beginning must follow a lost one, since a number that only begins alike goes on at will. */
export const tellingRest = 4;

const base = 0x01000193;
const powers = new Int32Array(longestKey + 1);
powers[0] = 1;
for (let at = 1; at <= longestKey; at++) powers[at] = Math.imul(powers[at - 1] ?? 1, base);

/** ASCII to the folded character of a key; 0 for what a key leaves out. */
const foldedCode = new Uint8Array(128);
for (const character of "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789") {
  const code = foldConfusable(character).charCodeAt(0);
  foldedCode[character.charCodeAt(0)] = code;
  foldedCode[character.toLowerCase().charCodeAt(0)] = code;
}

/** What signs that a key leaves out may mean in a model's text; see `KeyScan.signs`. */
export const blankSign = 1;
export const partingSign = 2;
export const unreadSign = 4;

const signOf = new Uint8Array(128);
signOf[" ".charCodeAt(0)] = blankSign;
for (const sign of "/,;()") signOf[sign.charCodeAt(0)] = partingSign;
signOf["?".charCodeAt(0)] = unreadSign;

/** For each character a number of its own, so that the sum of two says which two they are, in either order. */
const markOf = Int32Array.from({ length: 128 }, (_, code) => spread(code + 1));

/**
 * The folded characters of one text and the hashes of its beginnings, from which the hash of any beginning, any ending
 * and of the text with one slip each cost two multiplications. One instance is reused for many texts.
 */
export class KeyScan {
  length = 0;
  /** Which kinds of sign were left out: blanks, signs that may stand between two codes, and `?` for what was not read. */
  signs = 0;
  /**
   * Keys of the characters two by two, from the first and from the second on, the two of a pair in either order: a text with two
   * neighbours swapped shares one of them. See `lookThrough`.
   */
  pairsFromFirst = 0;
  pairsFromSecond = 0;
  /** Whether a character stands twice in a row; see `lookThrough`. */
  hasRun = false;
  readonly codes = new Uint8Array(longestKey);
  private readonly heads = new Int32Array(longestKey + 1);

  /** Reads a text; false when it holds characters beyond ASCII, which must be folded before. */
  read(text: string): boolean {
    let length = 0;
    let hash = 0;
    let signs = 0;
    const { codes, heads } = this;
    for (let at = 0; at < text.length && length < longestKey; at++) {
      const unit = text.charCodeAt(at);
      if (unit > 127) return false;
      const code = foldedCode[unit] as number;
      if (code === 0) {
        signs |= signOf[unit] as number;
        continue;
      }
      codes[length] = code;
      hash = (Math.imul(hash, base) + code) | 0;
      heads[++length] = hash;
    }
    this.length = length;
    this.signs = signs;
    return true;
  }

  /** Hash of the first `length` characters. */
  head(length: number): number {
    return this.heads[length] as number;
  }

  /** Finds the pairs' keys and `hasRun`. */
  lookThrough(): void {
    const { codes, length } = this;
    let fromFirst = 0;
    let fromSecond = 0;
    let before = 0;
    let markBefore = 0;
    let runs = 0;
    for (let at = 0; at < length; at++) {
      const code = codes[at] as number;
      const mark = markOf[code] as number;
      if ((at & 1) === 1) fromFirst = (Math.imul(fromFirst, base) + mark + markBefore) | 0;
      else fromSecond = (Math.imul(fromSecond, base) + mark + markBefore) | 0;
      if (code === before) runs++;
      before = code;
      markBefore = mark;
    }
    const isOdd = (length & 1) === 1;
    this.pairsFromFirst = isOdd ? (Math.imul(fromFirst, base) + markBefore) | 0 : fromFirst;
    this.pairsFromSecond = isOdd ? fromSecond : (Math.imul(fromSecond, base) + markBefore) | 0;
    this.hasRun = runs > 0;
  }

  /** Whether the character differs from the one before: leaving out either of two equal neighbours gives one key. */
  startsRun(at: number): boolean {
    return at === 0 || this.codes[at] !== this.codes[at - 1];
  }

  /** Hash of all characters from `from` on. */
  tail(from: number): number {
    const n = this.length;
    return ((this.heads[n] as number) - Math.imul(this.heads[from] as number, powers[n - from] as number)) | 0;
  }

  /** Hash of the text without the character at `at`. */
  without(at: number): number {
    const power = powers[this.length - at - 1] as number;
    const rest = (this.heads[this.length] as number) - Math.imul(this.heads[at + 1] as number, power);
    return (Math.imul(this.heads[at] as number, power) + rest) | 0;
  }

  /** Hash of the text with the characters at `at` and before it swapped. */
  swapped(at: number): number {
    const { codes, length } = this;
    const gain = (codes[at] as number) - (codes[at - 1] as number);
    return ((this.heads[length] as number) + Math.imul(gain, (powers[length - at] as number) - (powers[length - at - 1] as number))) | 0;
  }
}
