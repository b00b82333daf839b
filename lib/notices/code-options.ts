import { lowerAt } from "./cues";
import { hasDigit, type Token } from "./token";

/** The codes that one printed code with options stands for. */
export interface CodeOptions {
  readonly codes: readonly string[];
  readonly next: number;
  readonly end: number;
}

/**
 * Options after a code: `AB12F (or G)` is AB12F and AB12G; `AB12 (T) (K)` is AB12T and AB12K; `AB12 (T)` may have the letter
 * or not; `AB12 (T, K or W)` has one of them; `AB12T, K and W` and `AB12-T, -K and -W` are three codes, so is `AB12 followed
 * by the letter T, K or W`; `AB-20, 21 and 22` too. Null where none follow.
 */
export function optionsAt(tokens: readonly Token[], at: number): CodeOptions | null {
  const base = tokens[at];
  if (!base || !hasDigit(base.text)) return null;
  return bracketed(tokens, at, base) ?? listInBracket(tokens, at, base) ?? followedBy(tokens, at, base) ?? tailsAfter(tokens, at, base);
}

/** `(or G)`, `(T)`, `(T) (K)`. */
function bracketed(tokens: readonly Token[], at: number, base: Token): CodeOptions | null {
  if (lowerAt(tokens, at + 1) !== "(") return null;
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

/** `(B, W or S)` after a code that ends in a digit. */
function listInBracket(tokens: readonly Token[], at: number, base: Token): CodeOptions | null {
  if (lowerAt(tokens, at + 1) !== "(" || !/\d$/.test(base.text)) return null;
  const list = letterList(tokens, at + 2);
  if (!list || list.letters.length < 2 || lowerAt(tokens, list.next) !== ")") return null;
  return { codes: list.letters.map((letter) => base.text + letter), next: list.next + 1, end: tokens[list.next]?.end ?? base.end };
}

/** "with or without the suffix R" after a list of codes. */
export function suffixesAt(tokens: readonly Token[], at: number): { letters: readonly string[]; next: number; end: number } | null {
  if (lowerAt(tokens, at) !== "with") return null;
  const words = tokens.slice(at, at + 7).map((token) => (isOption(token) ? token.text : token.lower));
  const lead = /^(?:with or without|with and without) (?:(?:the|a|an) )?(?:(?:letters?|suffix|suffixes|ending) )+/.exec(
    `${words.join(" ")} `,
  )?.[0];
  const list = lead === undefined ? null : letterList(tokens, at + lead.trim().split(" ").length);
  return list && { letters: list.letters, next: list.next, end: tokens[list.next - 1]?.end ?? 0 };
}

/** "(any suffix)", "with any suffix", ", all suffixes", "regardless of suffix", "followed by any letters": the index after it. */
export function anySuffixAt(tokens: readonly Token[], from: number): number | null {
  let at = from;
  while (at < from + 2 && /^(?:\(|,|with|having|and)$/.test(lowerAt(tokens, at))) at += 1;
  const words = tokens
    .slice(at, at + 6)
    .map((token) => token.lower)
    .join(" ");
  const phrase =
    /^(?:(?:any|all)(?: other)? (?:suffix(?:es)?|endings?|letter suffix(?:es)?)|regardless of (?:the )?(?:suffix(?:es)?|ending)|followed by any (?:other )?(?:letters|digits|numbers|characters|suffix(?:es)?|letters or numbers|combination of letters))(?= |$)/.exec(
      words,
    )?.[0];
  if (phrase === undefined) return null;
  const next = at + phrase.split(" ").length;
  return lowerAt(tokens, next) === ")" ? next + 1 : next;
}

/** "followed by the letter A, B or C". */
function followedBy(tokens: readonly Token[], at: number, base: Token): CodeOptions | null {
  if (!/^(?:followed|with)$/.test(lowerAt(tokens, at + 1))) return null;
  const words = tokens.slice(at + 1, at + 8).map((token) => (isOption(token) ? token.text : token.lower));
  const lead = /^(followed by|with)((?: (?:the|a|an|either|letters?|suffix|suffixes|ending|one|of|following))*) /.exec(
    `${words.join(" ")} `,
  );
  if (!lead || !/letter|suffix|ending/.test(lead[2] ?? "")) return null;
  const from = at + 1 + lead[0].trim().split(" ").length;
  const list = letterList(tokens, from);
  if (!list) return null;
  const codes = list.letters.map((letter) => base.text + letter);
  return {
    codes: lead[1] === "with or without" ? [base.text, ...codes] : codes,
    next: list.next,
    end: tokens[list.next - 1]?.end ?? base.end,
  };
}

/** `AB12T, K and W`; `AB12-T, -K and -W`; `AB-20, 21 and 22`: what follows replaces the end of the first. */
function tailsAfter(tokens: readonly Token[], at: number, base: Token): CodeOptions | null {
  const tail = /(?<=\d)[A-Z]{1,2}$|(?<=-)[A-Z]{1,3}$|(?<=[A-Z]-?)\d{1,3}$/.exec(base.text)?.[0];
  if (tail === undefined || !/^(?:,|and|or|&)$/.test(lowerAt(tokens, at + 1))) return null;
  const isDigits = /\d/.test(tail);
  const list = isDigits ? numberList(tokens, at + 1, tail.length) : letterList(tokens, at + 1);
  if (!list || list.letters.length === 0 || !(list.closed || isWhole(tokens, list, base))) return null;
  if (!isDigits && list.letters.some((letter) => letter.length !== tail.length)) return null;
  const head = base.text.slice(0, -tail.length);
  return {
    codes: [base.text, ...list.letters.map((letter) => head + letter)],
    next: list.next,
    end: tokens[list.next - 1]?.end ?? base.end,
  };
}

/** `AB10AA, AB, AC, AB20AD`: letters between two codes that begin alike are ends of the first, also without "and". */
function isWhole(tokens: readonly Token[], { letters, next }: Listed, base: Token): boolean {
  let at = next;
  while (at < next + 2 && /^(?:,|and|or)$/.test(lowerAt(tokens, at))) at += 1;
  const head = /^[A-Z]+/.exec(base.text)?.[0] ?? "";
  return letters.every((letter) => /[A-Z]/.test(letter)) && head !== "" && new RegExp(`^${head}-?\\d`).test(tokens[at]?.text ?? "");
}

interface Listed {
  readonly letters: readonly string[];
  readonly next: number;
  /** The last of them is joined by "and" or "or", so that the list is whole. */
  readonly closed: boolean;
}

/** "B, W or S", "-W and -S", quoted or not. */
function letterList(tokens: readonly Token[], from: number): Listed | null {
  return listOf(tokens, from, (token) => (isOption(token) ? (token?.text ?? null) : null));
}

function numberList(tokens: readonly Token[], from: number, width: number): Listed | null {
  return listOf(tokens, from, (token) => (token?.kind === "number" && token.text.length === width ? token.text : null));
}

function listOf(tokens: readonly Token[], from: number, read: (token: Token | undefined) => string | null): Listed | null {
  const letters: string[] = [];
  let next = from;
  let closed = false;
  let joined = false;
  for (let at = from; at < from + 60; at++) {
    const value = read(tokens[at]);
    const word = lowerAt(tokens, at);
    if (value !== null) {
      letters.push(value);
      next = at + 1;
      closed ||= joined;
      joined = false;
    } else if (/^(?:and|or|&)$/.test(word)) joined = true;
    else if (!/^(?:,|-|"|“|”|‘|’|')$/.test(word)) break;
  }
  return letters.length === 0 ? null : { letters, next, closed };
}

/** One or two capitals. */
function isOption(token: Token | undefined): boolean {
  return token !== undefined && /^[A-Z]{1,2}$/.test(token.text);
}
