import { foldConfusable, mayBeDigit, mayBeLetter } from "./confusable";

/** How well a code fits a pattern: as printed, only if confused characters are read the other way, or in no reading. */
export type PatternFit = "exact" | "confusable" | "none";

/** A pattern for comparing: upper case, separators dropped, wildcards `? # @ *` kept. */
export function patternKey(pattern: string): string {
  return pattern
    .normalize("NFKD")
    .toUpperCase()
    .replace(/[^A-Z0-9?#@*]+/g, "");
}

const anyOne = "?".charCodeAt(0);
const digit = "#".charCodeAt(0);
const letter = "@".charCodeAt(0);
const run = "*".charCodeAt(0);

/** What an ASCII character is as printed and in some reading, and the code that it shares with those it is confused with. */
const characters = Array.from({ length: 128 }, (_, code) => {
  const character = String.fromCharCode(code);
  return {
    isDigit: character >= "0" && character <= "9",
    isLetter: character >= "A" && character <= "Z",
    mayBeDigit: mayBeDigit(character),
    mayBeLetter: mayBeLetter(character),
    folded: foldConfusable(character).charCodeAt(0),
  };
});

/** Whether a character, by its code, stands where the pattern has `wanted`; `confused` tries the other reading too. */
function fits(wanted: number, character: number, confused: boolean): boolean {
  if (wanted === character || wanted === anyOne) return true;
  const known = characters[character];
  if (known === undefined) return false;
  if (wanted === digit) return confused ? known.mayBeDigit : known.isDigit;
  if (wanted === letter) return confused ? known.mayBeLetter : known.isLetter;
  return confused && characters[wanted]?.folded === known.folded;
}

/** Classic two-pointer wildcard match: on a failure the last `*` takes one more character. Linear for one star. */
function matches(pattern: string, code: string, confused: boolean): boolean {
  let inPattern = 0;
  let starAt = -1;
  let resumeAt = 0;
  for (let at = 0; at < code.length; ) {
    const wanted = inPattern < pattern.length ? pattern.charCodeAt(inPattern) : -1;
    if (wanted === run) {
      starAt = inPattern++;
      resumeAt = at;
    } else if (wanted >= 0 && fits(wanted, code.charCodeAt(at), confused)) {
      inPattern++;
      at++;
    } else if (starAt >= 0) {
      inPattern = starAt + 1;
      at = ++resumeAt;
    } else return false;
  }
  while (inPattern < pattern.length && pattern.charCodeAt(inPattern) === run) inPattern++;
  return inPattern === pattern.length;
}

/** Fits a code (a `modelKey`) to a pattern (a `patternKey`). `?` any one character, `#` a digit, `@` a letter, `*` any run, also empty. */
export function fitPattern(pattern: string, code: string): PatternFit {
  if (matches(pattern, code, false)) return "exact";
  return matches(pattern, code, true) ? "confusable" : "none";
}
