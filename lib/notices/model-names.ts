import { nameKey } from "./brand-names";
import type { CodeItem } from "./code-item";
import { type Cue, lowerAt } from "./cues";
import { plainCapitals } from "./plain-capitals";
import type { Token } from "./token";

const small = /^(?:and|or|,|:|are|is|the|include|includes|included|following|in|this|recall|of|both|name|names|\(|"|“|”)$/;

/** Names that serve as models: quoted or capitalised right after "model(s)" or "model name(s)". */
export function modelNamesAfter(tokens: readonly Token[], cue: Cue): CodeItem[] {
  if (cue.numbered) return [];
  const names: CodeItem[] = [];
  let at = cue.next;
  let idle = 0;
  while (at < tokens.length && idle < 6 && names.length < 40) {
    const quoted = isQuote(tokens, at) ? quotedName(tokens, at) : null;
    const name = quoted ?? (cue.named ? plainName(tokens, at) : null);
    if (name) {
      names.push(name.item);
      at = name.next;
      idle = 0;
    } else if (small.test(lowerAt(tokens, at))) {
      at += 1;
      idle += 1;
    } else break;
  }
  return names;
}

/** `Aria`, `Brio Two`: up to three capitalised words after "model names", before a comma, "and" or a full stop. */
function plainName(tokens: readonly Token[], at: number): { item: CodeItem; next: number } | null {
  let end = at;
  while (end < at + 3 && /^[A-Z][a-z]+$/.test(tokens[end]?.text ?? "")) end += 1;
  const closed = tokens[end] === undefined || /^(?:,|and|or|\.|;|\()$/.test(tokens[end]?.text ?? "");
  const first = tokens[at];
  const last = tokens[end - 1];
  if (end === at || !closed || !first || !last) return null;
  const from = tokens
    .slice(at, end)
    .map((token) => token.text)
    .join(" ");
  return { item: { from, to: null, operator: "exact", excluded: false, start: first.start, end: last.end, token: at }, next: end };
}

function isQuote(tokens: readonly Token[], at: number): boolean {
  return tokens[at]?.kind === "quote";
}

/** `"Larkfield 2"`: up to four words between quotation marks. */
function quotedName(tokens: readonly Token[], at: number): { item: CodeItem; next: number } | null {
  const close = tokens.slice(at + 1, at + 7).findIndex((token) => token.kind === "quote");
  if (close < 1) return null;
  const inside = tokens
    .slice(at + 1, at + 1 + close)
    .filter((token) => !/^(?:[,.;:]|type|model)$/i.test(token.text) && token.kind !== "stop");
  const first = inside[0];
  const last = inside[inside.length - 1];
  if (!first || !last) return null;
  const from = inside.map((token) => token.text).join(" ");
  return {
    item: { from, to: null, operator: "exact", excluded: false, start: first.start, end: last.end, token: at + 1 },
    next: at + close + 2,
  };
}

/**
 * "the QVCGA model hot water boilers", "QSC, QVG and QCG models": capitals right before "model" that title, product
 * names and makers do not have, as a brand would be there.
 */
export function modelLettersBefore(tokens: readonly Token[], names: string): CodeItem[] {
  return tokens.flatMap((token, at) => {
    if (!/^models?$/.test(token.lower) || !/^\p{Ll}{3}/u.test(tokens[at + 1]?.text ?? "")) return [];
    const items: CodeItem[] = [];
    for (let place = at - 1; place > at - 20; place--) {
      const letters = tokens[place];
      if (letters?.kind === "capitals" && isLetterModel(letters, tokens[place - 1], names)) items.unshift(itemOf(letters, place));
      else if (items.length === 0 || !/^(?:,|and|or)$/.test(letters?.lower ?? "")) break;
    }
    return items;
  });
}

function isLetterModel({ text }: Token, before: Token | undefined, names: string): boolean {
  return /^[A-Z]{3,8}$/.test(text) && !plainCapitals.has(text) && before?.kind !== "capitals" && !names.includes(nameKey(text));
}

function itemOf({ text, start, end }: Token, token: number): CodeItem {
  return { from: text, to: null, operator: "exact", excluded: false, start, end, token };
}

/** `"Larkfield" model kettles`, `the Larkfield model`: a quoted name right before "model". */
export function modelNamesBefore(tokens: readonly Token[]): CodeItem[] {
  return tokens.flatMap((token, at) => {
    if (!/^models?$/.test(token.lower) || tokens[at - 1]?.kind !== "quote") return [];
    let open = at - 2;
    while (open > at - 8 && open >= 0 && tokens[open]?.kind !== "quote") open -= 1;
    const name = open >= 0 && tokens[open]?.kind === "quote" ? quotedName(tokens, open) : null;
    return name ? [name.item] : [];
  });
}
