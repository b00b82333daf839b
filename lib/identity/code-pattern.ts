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

function fitsStrictly(wildcard: string, character: string): boolean {
  if (wildcard === "?") return true;
  if (wildcard === "#") return character >= "0" && character <= "9";
  if (wildcard === "@") return character >= "A" && character <= "Z";
  return wildcard === character;
}

function fitsInSomeReading(wildcard: string, character: string): boolean {
  if (wildcard === "?") return true;
  if (wildcard === "#") return mayBeDigit(character);
  if (wildcard === "@") return mayBeLetter(character);
  return foldConfusable(wildcard) === foldConfusable(character);
}

/** Classic two-pointer wildcard match: on a failure the last `*` takes one more character. Linear for one star. */
function matches(pattern: string, code: string, fits: (wildcard: string, character: string) => boolean): boolean {
  let inPattern = 0;
  let starAt = -1;
  let resumeAt = 0;
  for (let at = 0; at < code.length; ) {
    const wildcard = pattern[inPattern];
    if (wildcard === "*") {
      starAt = inPattern++;
      resumeAt = at;
    } else if (wildcard !== undefined && fits(wildcard, code[at] ?? "")) {
      inPattern++;
      at++;
    } else if (starAt >= 0) {
      inPattern = starAt + 1;
      at = ++resumeAt;
    } else return false;
  }
  while (pattern[inPattern] === "*") inPattern++;
  return inPattern === pattern.length;
}

/** Fits a code (a `modelKey`) to a pattern (a `patternKey`). `?` any one character, `#` a digit, `@` a letter, `*` any run, also empty. */
export function fitPattern(pattern: string, code: string): PatternFit {
  if (matches(pattern, code, fitsStrictly)) return "exact";
  return matches(pattern, code, fitsInSomeReading) ? "confusable" : "none";
}
