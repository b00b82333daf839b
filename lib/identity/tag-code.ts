import { foldConfusable } from "./confusable";
import { mod37Radix2, pureCheckCharacter } from "./iso7064";

/** Our own tags: this mark, six random characters, one ISO 7064 MOD 37-2 check character; printed `PW-4K7-2M9X`. */
const mark = "PW";
const randomLength = 6;
/** One character of each group that is confused on a label (O0 I1L S5 B8 Z2 G6), and no D, Q or U beside 0 and V. */
const plainCharacters = "0123456789ACEFHJKMNPRTVWXY";

export type TagCheck =
  | { readonly ok: true; readonly tag: string }
  | { readonly ok: false; readonly problem: string; readonly likely?: string };

/** A tag as compared: upper case, separators dropped. */
export function tagKey(text: string): string {
  return text
    .normalize("NFKC")
    .toUpperCase()
    .replace(/[\s\-_.·/]+/g, "");
}

/** Whether the text has the shape of a tag of our own issue, rightly typed or not; other codes are kept as they are. */
export function isOwnTag(text: string): boolean {
  const key = tagKey(text);
  return key.startsWith(mark) && key.length === mark.length + randomLength + 1 && /^[0-9A-Z*]+$/.test(key);
}

/** A key as it is printed on the label, in groups that the eye can hold. */
function printed(key: string): string {
  return `${key.slice(0, 2)}-${key.slice(2, 5)}-${key.slice(5)}`;
}

/**
 * A new tag. `random(n)` gives a whole number from 0 to n - 1. Draws again until the check character is an
 * unmistakable one too, so every printed character is.
 */
export function issueTagCode(random: (n: number) => number): string {
  for (;;) {
    let payload = mark;
    for (let at = 0; at < randomLength; at++) payload += plainCharacters[random(plainCharacters.length)] ?? "0";
    const check = pureCheckCharacter(payload, mod37Radix2);
    if (check !== null && plainCharacters.includes(check)) return printed(payload + check);
  }
}

function isIssuable(key: string): boolean {
  if (!isOwnTag(key)) return false;
  const tail = key.slice(mark.length);
  if (![...tail].every((character) => plainCharacters.includes(character))) return false;
  return pureCheckCharacter(key.slice(0, -1), mod37Radix2) === key.at(-1);
}

/** Keys that a slip of the hand or eye turns into `key`, likeliest kind first: confused characters, swapped neighbours, a doubled key. */
function readingsOf(key: string): string[][] {
  const tail = key.slice(mark.length);
  const rest = { D: "0", Q: "0", U: "V" } as Readonly<Record<string, string>>;
  const plain = mark + [...tail].map((character) => rest[character] ?? foldConfusable(character)).join("");
  const swapped: string[] = [];
  const single: string[] = [];
  for (let at = mark.length; at < plain.length; at++) {
    const next = plain[at + 1];
    if (next === undefined) break;
    swapped.push(plain.slice(0, at) + next + plain[at] + plain.slice(at + 2));
    if (next === plain[at]) single.push(plain.slice(0, at) + plain.slice(at + 1));
  }
  return [[plain], swapped, single];
}

function likelyReading(key: string): string | null {
  for (const kind of readingsOf(key)) {
    const right = [...new Set(kind)].filter((candidate) => candidate !== key && isIssuable(candidate));
    if (right.length === 1 && right[0] !== undefined) return right[0];
    if (right.length > 1) return null;
  }
  return null;
}

/**
 * Checks a typed or scanned tag of our own issue. A mistyped one is refused with the reading that is most likely
 * meant, where exactly one slip explains it.
 */
export function checkTagCode(text: string): TagCheck {
  const key = tagKey(text);
  if (isIssuable(key)) return { ok: true, tag: printed(key) };
  const likely = likelyReading(key);
  if (likely !== null) {
    const tag = printed(likely);
    return { ok: false, problem: `"${text.trim()}" is mistyped: its check character does not fit. Perhaps ${tag} is meant.`, likely: tag };
  }
  if (!isOwnTag(key)) {
    return {
      ok: false,
      problem: `"${text.trim()}" is not a tag of ours: those read like ${printed("PW4K72M9X")}, ${mark} and ${randomLength + 1} more characters.`,
    };
  }
  return { ok: false, problem: `"${text.trim()}" is mistyped: its check character does not fit. Read it from the label once more.` };
}
