import { lowerAt } from "./cues";
import { hasDigit, type Token } from "./token";

/** The codes that one printed code with options in brackets stands for. */
export interface CodeOptions {
  readonly codes: readonly string[];
  readonly next: number;
  readonly end: number;
}

/**
 * Options in brackets after a code: `AB12F (or G)` is AB12F and AB12G; `AB12 (T) (K)` is AB12T and AB12K; `AB12 (T)` may
 * have the letter or not. Null where none follow.
 */
export function optionsAt(tokens: readonly Token[], at: number): CodeOptions | null {
  const base = tokens[at];
  if (!base || !hasDigit(base.text) || lowerAt(tokens, at + 1) !== "(") return null;
  if (lowerAt(tokens, at + 2) === "or" && isOption(tokens[at + 3]) && lowerAt(tokens, at + 4) === ")") {
    const option = tokens[at + 3]?.text ?? "";
    return { codes: [base.text, base.text.slice(0, -option.length) + option], next: at + 5, end: tokens[at + 4]?.end ?? base.end };
  }
  const options: string[] = [];
  let next = at + 1;
  while (lowerAt(tokens, next) === "(" && isOption(tokens[next + 1]) && lowerAt(tokens, next + 2) === ")") {
    options.push(tokens[next + 1]?.text ?? "");
    next += 3;
  }
  if (options.length === 0) return null;
  const codes = options.map((option) => base.text + option);
  return { codes: options.length === 1 ? [base.text, ...codes] : codes, next, end: tokens[next - 1]?.end ?? base.end };
}

/** One or two capitals. */
function isOption(token: Token | undefined): boolean {
  return token !== undefined && /^[A-Z]{1,2}$/.test(token.text);
}
