import { makerKey } from "@/lib/identity/maker";
import { isWithinOneEdit } from "@/lib/identity/one-edit";

/** A name of up to this many words is looked for in a notice's text. */
const mostWords = 3;
/** Shorter names are found by chance. */
const shortestName = 3;
const shortestNearName = 6;

const names = new Map<string, string>();
const mostNames = 20_000;

/** The maker's name as it would run together in a text; remembered, since a registry repeats few makers. */
function runTogether(brand: string): string {
  const known = names.get(brand);
  if (known !== undefined) return known;
  const key = makerKey(brand).toLowerCase();
  if (names.size >= mostNames) names.clear();
  names.set(brand, key);
  return key;
}

/**
 * Whether a notice's own words name a maker: one to three neighbouring words that make up the name, letters and digits
 * only. In the title one slip is forgiven. `words` is lower case, blanks between and around.
 */
export function isMakerNamed(brand: string, text: { readonly titleWords: string; readonly textWords: string }): boolean {
  if (text.textWords === "") return false;
  const key = runTogether(brand);
  if (key.length < shortestName) return false;
  if (isSpelledIn(text.textWords, key)) return true;
  return (
    key.length >= shortestNearName && hasRun(text.titleWords, (run) => run.length >= shortestNearName - 1 && isWithinOneEdit(key, run))
  );
}

/** Whether up to three neighbouring words make up the key; walks the text without taking it apart, since texts are long. */
function isSpelledIn(text: string, key: string): boolean {
  const beginning = ` ${key.charAt(0)}`;
  for (let at = text.indexOf(beginning); at >= 0; at = text.indexOf(beginning, at + 1)) if (isSpelledAt(text, at + 1, key)) return true;
  return false;
}

function isSpelledAt(text: string, start: number, key: string): boolean {
  let words = 1;
  let at = start;
  for (let inKey = 0; inKey < key.length; at++) {
    if (text[at] === key[inKey]) inKey++;
    else if (text[at] !== " " || ++words > mostWords) return false;
  }
  return text[at] === " ";
}

function hasRun(text: string, isName: (run: string) => boolean): boolean {
  const words = text.trim().split(" ");
  if (words[0] === "") return false;
  for (let from = 0; from < words.length; from++) {
    let run = "";
    for (let to = from; to < Math.min(words.length, from + mostWords); to++) {
      run += words[to];
      if (isName(run)) return true;
    }
  }
  return false;
}
