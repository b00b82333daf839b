import type { CodeWindow } from "./coverage";
import { lowerAt } from "./cues";
import type { Token } from "./token";

/** Codes of a letter and a number that a text tells apart from each other. */
export interface LetteredNumbers {
  readonly windows: readonly CodeWindow[];
  readonly start: number;
  readonly end: number;
  readonly next: number;
}

/**
 * "bearing the letters G, H and K and the number 75": the codes G75, H75 and K75, with the hyphen where the text prints one
 * in an example (`G-75`). Null where no such sentence begins at the token.
 */
export function letteredNumbersAt(tokens: readonly Token[], at: number): LetteredNumbers | null {
  if (!/^letters?$/.test(lowerAt(tokens, at)) || !/^(?:the|with|bearing|a|either)$/.test(lowerAt(tokens, at - 1))) return null;
  const letters: string[] = [];
  let next = at + 1;
  for (; next < at + 60 && !/^numbers?$/.test(lowerAt(tokens, next)); next++) {
    const text = tokens[next]?.text ?? "";
    if (/^[A-Z]['’]?$/.test(text)) letters.push(text.slice(0, 1));
    else if (!/^(?:,|and|or|the|"|“|”|'|’|‘|followed|by)$/.test(text.toLowerCase())) return null;
  }
  const numbers: string[] = [];
  let after = next + 1;
  for (; after < next + 20; after++) {
    const text = (tokens[after]?.text ?? "").replace(/(?<=\d)["”]$/, "");
    if (/^\d{1,4}$/.test(text)) numbers.push(text);
    else if (!/^(?:,|and|or|"|“|”|'|’|‘)$/.test(text.toLowerCase())) break;
  }
  if (letters.length === 0 || numbers.length === 0) return null;
  const hyphen = tokens.some((token) => numbers.some((number) => letters.some((letter) => token.text === `${letter}-${number}`)));
  const windows = numbers.flatMap((number) => letters.map((letter) => ({ pattern: letter + (hyphen ? "-" : "") + number })));
  return { windows, start: tokens[at]?.start ?? 0, end: tokens[after - 1]?.end ?? 0, next: after };
}
