import { lowerAt } from "./cues";
import type { Token } from "./token";

/** What a column of a flattened table holds; `other` are names, colours, sizes. */
export type Column = "model" | "serial" | "dateCode" | "upc" | "made" | "other";

export interface TableHeader {
  readonly columns: readonly Column[];
  /** The heading says that the values are beginnings ("Model No. begins:"). */
  readonly begins: boolean;
  /** "serial numbers MUST end with". */
  readonly ends: boolean;
  readonly next: number;
}

const headingWord =
  /^(?:models?|numbers?|no|nos|no\.|#|serial|codes?|upcs?|skus?|dates?|range|ranges|brand|brands|name|names|product|products|description|size|sizes|manufactured|manufacture|sold|item|items|colors?|style|series|location|begins?|beginning|starting|starts?|with|must|and|from|to|first|last|recalled|type|types|unit|units|packaging|dimensions|catalog|part|lot|batch|of|six|entries|mustbegin|end|number\(s\)|quantity|capacity|finish|wattage|year|subject|recall|pattern|harness|refrigerator|range\(s\)|production|numbers\(s\)|quantities|\(|\)|s|:|\/|…|model\/item)$/;
const columnWord: readonly (readonly [RegExp, Column])[] = [
  [/^(?:serial)$/, "serial"],
  [/^(?:upcs?)$/, "upc"],
  [/^(?:models?|skus?|catalog|model\/item)$/, "model"],
  [/^(?:lot|batch)$/, "dateCode"],
  [/^(?:manufactured|manufacture|production)$/, "made"],
  [
    /^(?:brand|brands|description|colors?|sizes?|name|names|location|packaging|dimensions|capacity|finish|wattage|quantity|year|pattern|harness)$/,
    "other",
  ],
];

/**
 * The headings of a table that begin at a token: two or more columns, of which one at least identifies, and then a cell.
 * Headings are capitalised; a sentence about "model and serial numbers" is none.
 */
export function tableHeaderAt(tokens: readonly Token[], from: number): TableHeader | null {
  const first = tokens[from];
  if (!first || !/^[A-Z]/.test(first.text) || !headingWord.test(first.lower)) return null;
  const columns: Column[] = [];
  let begins = false;
  let ends = false;
  let at = from;
  for (; at < tokens.length && at < from + 40; at++) {
    const word = lowerAt(tokens, at);
    if (!headingWord.test(word)) break;
    if (/^(?:begins?|beginning|starting|starts?|mustbegin|first)$/.test(word) && columns.length > 0)
      begins ||= lowerAt(tokens, at) !== "first";
    ends ||= word === "end";
    addColumn(columns, tokens, at);
  }
  const identifying = columns.filter((column) => column !== "other");
  if (identifying.length === 0 || columns.length < 2 || !startsCell(tokens, at)) return null;
  return { columns, begins, ends, next: at };
}

function addColumn(columns: Column[], tokens: readonly Token[], at: number): void {
  const word = lowerAt(tokens, at);
  const next = lowerAt(tokens, at + 1);
  if (/^(?:item|style|part|product|stock|type|catalog)$/.test(word) && /^(?:numbers?|no|nos|#|codes?)$/.test(next)) columns.push("model");
  else if (word === "date" || word === "dates") columns.push(/^(?:codes?)$/.test(next) ? "dateCode" : "made");
  else if (word === "product" || word === "products" || word === "style") columns.push("other");
  else {
    const column = columnWord.find(([words]) => words.test(word))?.[1];
    const repeated = column === "other" && columns[columns.length - 1] === "model" && /^names?$/.test(word);
    if (column === "made" && /^(?:dates?)$/.test(next)) return;
    if (repeated) columns[columns.length - 1] = "other";
    else if (column !== undefined) columns.push(column);
  }
}

/** After the headings a cell begins: not a small-letter word of a sentence. */
function startsCell(tokens: readonly Token[], at: number): boolean {
  const next = tokens[at];
  return next !== undefined && next.kind !== "stop" && !/^[a-z]/.test(next.text);
}
