import { hasDigit, type Token } from "./token";

const through = /^(?:through|thru|to|–|—)$/;
/** Beginning and end of a range that are glued to other cells must be longer than this to be told by their shape. */
const shortest = 6;

/**
 * Cells that ran into the ends of a range: `ESK3 through ESK965249110 through 65382278` is ESK3 through ESK9 and a range of
 * numbers; `QFGC30SS1F005 through 1F1103F537 through` is a model and two ranges. Both ends of a range have one shape:
 * the beginning is cut from what stands before it, the end from what follows. What is left over must be the next cell;
 * what fits none of this stays whole.
 */
export function unglueRangeEnds(tokens: readonly Token[]): Token[] {
  if (!tokens.some(({ lower }) => through.test(lower))) return [...tokens];
  const parted: Token[] = [];
  tokens.forEach((token, at) => {
    const end = endCut(token, parted, tokens.slice(at + 1, at + 4));
    if (end !== null) parted.push(part(token, 0, end));
    const rest = end === null ? token : part(token, end, token.text.length);
    const start = startCut(rest, tokens, at);
    if (start === null) parted.push(rest);
    else parted.push(part(rest, 0, start), part(rest, start, rest.text.length));
  });
  return parted;
}

/** Where the beginning of a range begins, after another cell: its end, behind "through", has its shape. */
function startCut({ text, kind }: Token, tokens: readonly Token[], at: number): number | null {
  const end = tokens[at + 2]?.text ?? "";
  if (kind !== "code" || text.length > 60 || !through.test(tokens[at + 1]?.lower ?? "")) return null;
  const [, digits = "", letters = ""] = /^(\d{6,})([A-Z]{2,5})\d{1,5}$/.exec(text) ?? [];
  if (digits !== "" && end.startsWith(letters)) return digits.length;
  const plain = plainCut(text, end, tokens);
  if (plain !== null) return plain;
  const cuts = [...text].flatMap((_, cut) => (isBeginning(text, cut, end) ? [cut] : []));
  return cuts.length === 1 ? (cuts[0] ?? null) : null;
}

/**
 * `QX-2001201 through 1252QX-300...`: plain numbers behind models. The end, glued to the next model, shows how long they are;
 * so does that of another row whose model begins alike.
 */
function plainCut(text: string, end: string, tokens: readonly Token[]): number | null {
  const [, head = ""] = /^([A-Z]{1,5}-?)\d{4,}$/.exec(text) ?? [];
  if (head === "") return null;
  const glued = new RegExp(`^(\\d{3,8})${head}\\d`);
  const shown = glued.exec(end)?.[1] ?? tokens.map((token) => glued.exec(token.text)?.[1]).find((digits) => digits?.length === end.length);
  const cut = shown === undefined ? 0 : text.length - shown.length;
  return cut > head.length ? cut : null;
}

/** Letters among the digits of both, so that only one cut fits, and a code of letters and digits before. */
function isBeginning(text: string, cut: number, end: string): boolean {
  const start = text.slice(cut);
  const before = text.slice(0, cut);
  if (start.length < shortest || start.length > end.length || !/[A-Z]/.test(start)) return false;
  return /^[A-Z]{2,5}-?\d+[A-Z\d]*$/.test(before) && shapeOf(start) === shapeOf(end.slice(0, start.length));
}

/** Where the end of a range ends and the next cell begins. */
function endCut(token: Token, before: readonly Token[], after: readonly Token[]): number | null {
  const first = before[before.length - 2]?.text ?? "";
  const isEnd = through.test(before[before.length - 1]?.lower ?? "") && token.kind === "code" && hasDigit(first);
  if (!isEnd || first.length < 2 || first.length + 3 > token.text.length || first.length > 24) return null;
  const end = token.text.slice(0, first.length);
  const rest = token.text.slice(first.length);
  if (shapeOf(end) !== shapeOf(first) || !/\d$/.test(first)) return null;
  if (/^\d{3,}$/.test(first) && /^[A-Z]{1,5}-?\d{4,}$/.test(rest)) return first.length;
  if (first.length >= shortest && (/^[A-Z]{2,5}-?\d/.test(rest) || shapeOf(rest) === shapeOf(first) || /^[A-Z]{4,}$/.test(rest)))
    return /^\d+$/.test(first + rest) ? null : first.length;
  const next = after.map(({ text }) => /^\d{5,}/.exec(text)?.[0] ?? "").find((digits) => digits !== "");
  return /^\d{5,}$/.test(rest) && !/^\d+$/.test(first) && rest.length === next?.length ? first.length : null;
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
    kind: /^\d+$/.test(text) ? "number" : hasDigit(text) ? "code" : "capitals",
  };
}
