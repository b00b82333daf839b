import { hasDigit, type Token } from "./token";

const through = /^(?:through|thru|to|–|—)$/;

/**
 * Cells that ran into the end of a range: `ESK3 through ESK965249110 through 65382278` is ESK3 through ESK9 and a range of
 * numbers. The end of a range is as long as its beginning and has its letters; what is left over must be the next cell:
 * letters after a number, or a number as long as the next one. A range's beginning glued to the number before it is cut
 * at its letters, which its end repeats. What fits none of this stays whole.
 */
export function unglueRangeEnds(tokens: readonly Token[]): Token[] {
  const parted: Token[] = [];
  tokens.forEach((token, at) => {
    const cut = startCut(token, tokens, at) ?? endCut(token, parted, tokens.slice(at + 1, at + 4));
    if (cut === null) parted.push(token);
    else parted.push(part(token, 0, cut), part(token, cut, token.text.length));
  });
  return parted;
}

/** `97939433SK3` before "through SK9": the number of the row before, then the beginning of the range. */
function startCut(token: Token, tokens: readonly Token[], at: number): number | null {
  const [, digits = "", letters = ""] = /^(\d{6,})([A-Z]{2,5})\d{1,5}$/.exec(token.text) ?? [];
  if (digits === "" || !through.test(tokens[at + 1]?.lower ?? "")) return null;
  return (tokens[at + 2]?.text ?? "").startsWith(letters) ? digits.length : null;
}

/** Where the end of a range ends and the next cell begins. */
function endCut(token: Token, before: readonly Token[], after: readonly Token[]): number | null {
  const first = before[before.length - 2]?.text ?? "";
  const isEnd = through.test(before[before.length - 1]?.lower ?? "") && token.kind === "code" && hasDigit(first);
  if (!isEnd || first.length < 2 || first.length + 3 > token.text.length || first.length > 24) return null;
  const end = token.text.slice(0, first.length);
  const rest = token.text.slice(first.length);
  if (shapeOf(end) !== shapeOf(first)) return null;
  if (/^\d+$/.test(first)) return first.length >= 5 && /^[A-Z]{2,5}-?\d/.test(rest) ? first.length : null;
  const next = after.map(({ text }) => /^\d{5,}/.exec(text)?.[0] ?? "").find((digits) => digits !== "");
  return /\d$/.test(first) && /^\d{5,}$/.test(rest) && rest.length === next?.length ? first.length : null;
}

/** Letters as they stand, any digit alike. */
function shapeOf(code: string): string {
  return code.replace(/\d/g, "0");
}

function part(token: Token, from: number, to: number): Token {
  const text = token.text.slice(from, to);
  return {
    text,
    lower: text.toLowerCase(),
    start: token.start + from,
    end: token.start + to,
    kind: /^\d+$/.test(text) ? "number" : "code",
  };
}
