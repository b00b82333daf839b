import type { CodeItem } from "./code-item";
import { fitsSlot, isStrongCode } from "./code-shape";
import { lowerAt, type Slot } from "./cues";
import type { Operator } from "./operators";
import { hasDigit, type Token } from "./token";

/** Where the reading of a list stands. */
export interface CodeWalk {
  readonly tokens: readonly Token[];
  readonly slot: Slot;
  readonly items: CodeItem[];
  readonly start: number;
  /** The cue says that numbers follow, so that `2010` may be one. */
  readonly numbered: boolean;
  at: number;
  operator: Operator;
  excluded: boolean;
  /** The exception was begun inside brackets, with which it ends. */
  excludedInBrackets: boolean;
  /** Cues passed since the last value. */
  cues: number;
  /** Open brackets since the cue. */
  depth: number;
  /** Plain words since the cue or the last value. */
  idle: number;
  quoted: boolean;
}

/** "example", "e.g.". */
export function isExampleWord(token: Token): boolean {
  return token.lower === "example" || token.lower === "e.g";
}

/** Letters as long as the value before, one row of a list ended and the next begun without a comma: `EB, FB AC, BC`. */
function isInRowOfLetters(walk: CodeWalk): boolean {
  const token = walk.tokens[walk.at] as Token;
  const last = walk.items[walk.items.length - 1];
  const comma = lowerAt(walk.tokens, walk.at - 1) === "," || lowerAt(walk.tokens, walk.at + 1) === ",";
  if (/^(?:AND|OR|TO|IN|ON|OF|NO)$/.test(token.text)) return false;
  return walk.slot !== "model" && comma && token.text.length <= 3 && last?.from.length === token.text.length && !hasDigit(last.from);
}

/** `QBR Industries, Inc.`: capitals right before a capitalised word begin a name. */
function isPartOfName({ tokens, at, slot, quoted }: CodeWalk): boolean {
  return slot === "model" && !quoted && /^[A-Z][a-z]{3,}$/.test(tokens[at + 1]?.text ?? "");
}

/** A sentence or heading in capitals: its words are no codes. */
function standsAmongCapitals(walk: CodeWalk): boolean {
  if (isInRowOfLetters(walk)) return false;
  const before = walk.tokens[walk.at - 1];
  const after = walk.tokens[walk.at + 1];
  return before?.kind === "capitals" || after?.kind === "capitals";
}

/** `("652" date code, for example, ...`, `(1816 means week 16 of 2018)`: the value itself is the example. */
function isExampleItself(walk: CodeWalk): boolean {
  if (/^(?:means?|represents?|indicates?|denotes?|stands|would|=)$/.test(lowerAt(walk.tokens, walk.at + 1))) return true;
  const ahead = walk.tokens.slice(walk.at + 1, walk.at + 7);
  const end = ahead.findIndex((token) => token.kind === "stop" || token.text === "(" || token.kind === "code" || token.kind === "number");
  return ahead.slice(0, end < 0 ? undefined : end).some(isExampleWord);
}

/** Whether the token at the walk's place is a value of the list. */
export function canTake(walk: CodeWalk, token: Token): boolean {
  if (walk.items.length === 0 && walk.depth > 0 && isExampleItself(walk)) return false;
  if (token.kind === "date" && (!walk.numbered || (walk.depth > 0 && walk.items.length > 0))) return false;
  if (token.kind === "capitals" && standsAmongCapitals(walk)) return false;
  const affix = walk.operator === "begins" || walk.operator === "ends" || walk.operator === "contains";
  const isRowLetters = token.kind === "capitals" && isInRowOfLetters(walk);
  if (!isRowLetters && !fitsSlot(token, walk.slot, affix)) return false;
  if (token.kind === "capitals" && lowerAt(walk.tokens, walk.at + 1) === "(" && walk.tokens[walk.at + 2]?.kind === "code") return false;
  if (token.kind === "capitals" && isPartOfName(walk)) return false;
  if (token.kind === "capitals" && !affix && walk.items.some((item) => hasDigit(item.from))) return false;
  const direct = walk.idle === 0 || walk.quoted || (token.kind === "measure" && /^(?:are|is|:)$/.test(lowerAt(walk.tokens, walk.at - 1)));
  if (token.kind === "code" && (isStrongCode(token) || direct)) return walk.items.length === 0 || walk.idle <= 6;
  if (token.kind === "number")
    return (
      (affix && walk.items.length === 0 && walk.idle <= 2) ||
      direct ||
      (walk.items.length === 0 ? walk.idle <= 12 && token.text.length >= 3 : /^(?:and|or|,)$/.test(lowerAt(walk.tokens, walk.at - 1)))
    );
  const printedHyphen = lowerAt(walk.tokens, walk.at - 1) === "-" && /^(?:,|and|or|of)$/.test(lowerAt(walk.tokens, walk.at - 2));
  return (
    direct &&
    (walk.items.length === 0 ||
      printedHyphen ||
      isRowLetters ||
      /^(?:and|or|,|\/|&|;|"|“|\(|either)$/.test(lowerAt(walk.tokens, walk.at - 1)) ||
      walk.operator !== "exact")
  );
}
