import { hasDigit, type Token } from "./token";

/** What the values after a cue are. `made` dates of manufacture; `sold` dates that say nothing about manufacture. */
export type Slot = "model" | "serial" | "dateCode" | "upc" | "made" | "sold" | "brand";

export interface Cue {
  readonly slot: Slot;
  /** Index of the first token after the cue. */
  readonly next: number;
  /** "model number", "serial no.", "SKU": the text says that a number or code follows. */
  readonly numbered: boolean;
  /** "model name": a name, not a number. */
  readonly named: boolean;
}

const numberWords = new Set([
  "code's",
  "code’s",
  "number's",
  "number’s",
  "number",
  "numbers",
  "no",
  "nos",
  "no.",
  "nos.",
  "#",
  "code",
  "codes",
  "#s",
  "num",
  "num.",
]);
const nameWords = new Set(["name", "names"]);
/** Nouns that need a "number", "no." or code after them before they stand for a model. */
const modelNouns = new Set([
  "style",
  "styles",
  "item",
  "items",
  "part",
  "parts",
  "product",
  "catalog",
  "catalogue",
  "reference",
  "stock",
  "article",
  "mid",
  "mo",
  "mo.",
  "identification",
  "identifier",
  "type",
  "unit",
  "set",
  "mod",
  "mod.",
  "ref",
  "ref.",
  "products",
  "sku",
  "skus",
  "sku#",
  "item#",
  "model#",
]);
const serialNouns = new Set(["serial", "serials", "s/n", "sn", "vin", "vins", "ser"]);
const codeNouns = new Set([
  "date",
  "batch",
  "lot",
  "production",
  "series",
  "manufacturing",
  "manufacture",
  "manufacturer",
  "run",
  "dating",
  "dates",
  "tracker",
  "lots",
  "tracking",
  "week",
]);
const madeWords = new Set(["manufactured", "produced", "built", "made", "fabricated"]);
const soldWords = new Set([
  "sold",
  "shipped",
  "purchased",
  "distributed",
  "available",
  "bought",
  "ordered",
  "placed",
  "imported",
  "delivered",
  "installed",
  "received",
  "leased",
]);

/** The cue that begins at a token, if one does. */
export function cueAt(tokens: readonly Token[], at: number): Cue | null {
  const word = tokens[at]?.lower ?? "";
  if (word === "model" || word === "models" || word === "model's") return modelCue(tokens, at);
  if (serialNouns.has(word)) return serialCue(tokens, at);
  if (word === "upc" || word === "upcs" || word === "gtin" || word === "ean" || word === "upc#")
    return cue("upc", skipNumberWords(tokens, at + 1), true);
  if (word === "barcode" && numberWords.has(lowerAt(tokens, at + 1))) return cue("upc", skipNumberWords(tokens, at + 1), true);
  if (codeNouns.has(word)) return codeCue(tokens, at);
  if (/^codes?$/.test(word) && isCounted(tokens, at)) return cue("dateCode", at + 1, true);
  if (word === "code" && /^(?:numbers?|nos?\.?)$/.test(lowerAt(tokens, at + 1)))
    return cue("dateCode", skipNumberWords(tokens, at + 1), true);
  if (modelNouns.has(word)) return nounCue(tokens, at);
  if (word === "made" && /^(?:jointly|publicly|available|public|aware|possible|an?|the|to|up|clear|known)$/.test(lowerAt(tokens, at + 1)))
    return null;
  if (madeWords.has(word)) return cue("made", at + 1, false);
  if (soldWords.has(word)) return cue("sold", at + 1, false);
  return null;
}

/** "one of the following two-letter codes:", "a four-digit code of 2417": told by their length, and not a colour's. */
function isCounted(tokens: readonly Token[], at: number): boolean {
  const next = tokens[at + 1];
  const follows = /^(?::|of|is|are)$/.test(next?.lower ?? "") ? tokens[at + 2] : next;
  const isLead = /^(?:two|three|four|five|six|seven|eight|[2-8])-(?:letter|digit|character|number)$/.test(lowerAt(tokens, at - 1));
  return isLead && (isCodeLike(follows) || follows?.kind === "quote") && !/^(?:model|item|followed)$/.test(lowerAt(tokens, at - 2));
}

function modelCue(tokens: readonly Token[], at: number): Cue | null {
  const next = lowerAt(tokens, at + 1);
  if (next === "year" || next === "years" || next === "of") return next === "of" ? null : cue("sold", at + 2, false);
  if (tokens[at]?.lower === "model's" && nameWords.has(next)) return { slot: "model", next: at + 2, numbered: false, named: true };
  if (nameWords.has(next) && /^(?:and|or)$/.test(lowerAt(tokens, at + 2)) && numberWords.has(lowerAt(tokens, at + 3)))
    return cue("model", skipNumberWords(tokens, at + 3), true);
  if (nameWords.has(next)) return { slot: "model", next: at + 2, numbered: false, named: true };
  if (next === "and" && serialNouns.has(lowerAt(tokens, at + 2))) return null;
  if (next === "type" && !numberWords.has(lowerAt(tokens, at + 2))) return { slot: "model", next: at + 2, numbered: false, named: false };
  const after = skipNumberWords(tokens, at + 1);
  return { slot: "model", next: after, numbered: after > at + 1, named: false };
}

function serialCue(tokens: readonly Token[], at: number): Cue | null {
  const next = lowerAt(tokens, at + 1);
  if (next === "and" && /^models?$/.test(lowerAt(tokens, at + 2))) return null;
  if (next === "plate" || next === "tag") return null;
  const after = skipNumberWords(tokens, at + 1);
  const alone = tokens[at]?.lower === "sn" || tokens[at]?.lower === "ser";
  return alone && after === at + 1 ? null : cue("serial", after, true);
}

function codeCue(tokens: readonly Token[], at: number): Cue | null {
  const word = lowerAt(tokens, at);
  const next = lowerAt(tokens, at + 1);
  if (word === "week" || word === "tracking") return null;
  if (
    (word === "date" && next === "manufactured") ||
    (word === "date" && next === "of" && /^(?:manufacture|production|manufacturing)$/.test(lowerAt(tokens, at + 2)))
  ) {
    return cue("made", at + (next === "of" ? 3 : 2), true);
  }
  if (/^(?:manufacture|manufacturing|production|manufacturer)$/.test(word) && /^dates?$/.test(next)) {
    return numberWords.has(lowerAt(tokens, at + 2)) && /^codes?$/.test(lowerAt(tokens, at + 2))
      ? cue("dateCode", at + 3, true)
      : cue("made", at + 2, true);
  }
  if (/^(?:lot|batch|date)$/.test(next) && /^(?:manufacturing|manufacture|production)$/.test(word))
    return cue("dateCode", skipNumberWords(tokens, at + 2), true);
  if (numberWords.has(next) || (next === "date" && numberWords.has(lowerAt(tokens, at + 2)))) {
    if (word === "manufacturer" && next !== "date") return null;
    return cue("dateCode", skipNumberWords(tokens, next === "date" ? at + 2 : at + 1), true);
  }
  return (word === "lot" || word === "lots" || word === "batch") && isCodeLike(tokens[at + 1]) ? cue("dateCode", at + 1, true) : null;
}

function nounCue(tokens: readonly Token[], at: number): Cue | null {
  const word = lowerAt(tokens, at);
  const next = lowerAt(tokens, at + 1);
  if (next === "name" || next === "names") return null;
  if (word === "type" && /^(?:number|numbers|no|nos)$/.test(next)) return cue("model", skipNumberWords(tokens, at + 1), true);
  if (word === "type") return isTypeNumber(tokens[at + 1]) ? cue("model", at + 1, true) : null;
  const own = /^sku/.test(word) || word === "mid" || word.endsWith("#");
  if (numberWords.has(next) || own) return cue("model", skipNumberWords(tokens, at + 1), true);
  if (
    (word === "style" || word === "styles" || word === "item") &&
    (isCodeLike(tokens[at + 1]) || (next === ":" && isCodeLike(tokens[at + 2])))
  )
    return cue("model", at + 1, true);
  if (word === "identifier") return cue("model", at + 1, true);
  return null;
}

/** `type 8215`, `type KD-12`; not `Type 1`, `type A`, `type 120`. */
function isTypeNumber(token: Token | undefined): boolean {
  return token !== undefined && ((token.kind === "number" && token.text.length >= 4) || (token.kind === "code" && token.text.length >= 4));
}

function isCodeLike(token: Token | undefined): boolean {
  return (
    token !== undefined &&
    (token.kind === "code" || token.kind === "number" || token.kind === "capitals" || (token.text.startsWith("#") && hasDigit(token.text)))
  );
}

function cue(slot: Slot, next: number, numbered: boolean): Cue {
  return { slot, next, numbered, named: false };
}

function skipNumberWords(tokens: readonly Token[], from: number): number {
  let at = from;
  while (
    numberWords.has(lowerAt(tokens, at)) ||
    (lowerAt(tokens, at) === "(" && lowerAt(tokens, at + 1) === "s" && lowerAt(tokens, at + 2) === ")")
  ) {
    at += lowerAt(tokens, at) === "(" ? 3 : 1;
  }
  if (at > from && tokens[at]?.kind === "stop" && isCodeLike(tokens[at + 1])) at += 1;
  return at;
}

export function lowerAt(tokens: readonly Token[], at: number): string {
  return tokens[at]?.lower ?? "";
}
