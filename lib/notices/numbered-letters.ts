import { lowerAt } from "./cues";
import { plainCapitals } from "./plain-capitals";
import type { Token } from "./token";

/** Models of one name and several numbers. */
export interface NumberedLetters {
  readonly codes: readonly string[];
  readonly next: number;
  readonly end: number;
}

/** "QDC 1, 2 and 3": the models QDC 1, QDC 2 and QDC 3. Null where fewer than two numbers follow the letters. */
export function numberedLettersAt(tokens: readonly Token[], at: number): NumberedLetters | null {
  const letters = tokens[at];
  if (letters?.kind !== "capitals" || !/^[A-Z]{2,4}$/.test(letters.text) || plainCapitals.has(letters.text)) return null;
  const codes: string[] = [];
  let next = at + 1;
  let joined = false;
  for (let place = at + 1; place < at + 40; place++) {
    const token = tokens[place];
    if (token?.kind === "number" && token.text.length <= 2 && (codes.length === 0 || place > next)) {
      codes.push(`${letters.text} ${token.text}`);
      next = place + 1;
    } else if (codes.length > 0 && /^(?:,|and|or|&)$/.test(lowerAt(tokens, place))) joined ||= lowerAt(tokens, place) !== ",";
    else break;
  }
  return codes.length >= 2 && joined ? { codes, next, end: tokens[next - 1]?.end ?? letters.end } : null;
}
