import { nameKey } from "./brand-names";
import type { CodeItem } from "./code-item";
import { isShopCode, isStrongCode, printedCode } from "./code-shape";
import type { Draft } from "./draft";
import { negatedClauses } from "./negation";
import { numberedLettersAt } from "./numbered-letters";
import type { Passage } from "./passage";
import { isProductWord } from "./product-words";
import type { Token } from "./token";

/** Codes that no heading or word calls a model: printed on the product between quotation marks, or in the title. */
const printing =
  /\b(?:located|plate|baseplate|reads?|bears?|printed|etched|stamped|embossed|engraved|appears?|label|labeled|molded|imprinted|marked|written)\b/;

/** `a label which reads: Larkfield, QS334-AF`, `the KG12 kettle models`: not quoted, but said to be on the product or a model. */
export function findReadCodes(passage: Passage, tokens: readonly Token[], draft: Draft): void {
  tokens.forEach((token, at) => {
    if (
      !isStrongCode(token) ||
      isShopCode(token.text) ||
      !/^[A-Z]/.test(token.text) ||
      /[a-z]/.test(token.text) ||
      token.text.includes(" ")
    )
      return;
    const before = passage.clean.slice(Math.max(0, token.start - 100), token.start);
    const after = tokens.slice(at + 1, at + 4).map((next) => next.lower);
    const isStamped =
      /^(?:is|are)$/.test(after[0] ?? "") &&
      printing.test(after[1] ?? "") &&
      /^(?:numbers?|codes?|or|and|,)$/.test(tokens[at - 1]?.lower ?? "");
    const isSeries =
      after[0] === "series" &&
      token.text.length >= 4 &&
      /^(?:involves?|includes?|covers?|all|the|recalled|and|or|,|\p{Lu}\S+)$/u.test(tokens[at - 1]?.text.replace(/^The$/, "the") ?? "all");
    const isListed = /\b(?:following|included|involved|recalled)[^.]{0,40}:\s*(?:[A-Z\d][\w-]*,?\s(?:and\s|or\s)?)*$/.test(before);
    const isKnownAs = /\b(?:known|identified|marketed|labeled)\sas\s(?:the\s)?(?:[A-Z\d][\w-]*,?\s(?:and\s|or\s)?(?:the\s)?)*$/.test(
      before,
    );
    const isBetween =
      /^\p{Lu}\p{L}+$/u.test(tokens[at - 1]?.text ?? "") &&
      isProductWord(after[0] ?? "a") &&
      /^\p{Ll}{4}/u.test(tokens[at + 1]?.text ?? "") &&
      token.text.length >= 4;
    if (
      isStamped ||
      isSeries ||
      isListed ||
      isKnownAs ||
      isBetween ||
      /\breads?:[^.]*$/.test(before) ||
      (/\p{Ll}/u.test(after[0] ?? "") && after.slice(0, 3).includes("models"))
    )
      take(passage, tokens, at, draft);
  });
}

/** "This recall involves the Larkfield QT500 and QT510 heaters (QT520)": codes among the words for the product, or in brackets after them. */
export function findSubjectCodes(passage: Passage, tokens: readonly Token[], draft: Draft): void {
  for (let at = 1; at < tokens.length; at++) {
    if (tokens[at - 1]?.lower !== "recall" || !/^(?:involves|includes|covers)$/.test(tokens[at]?.lower ?? "")) continue;
    let small = 0;
    let depth = 0;
    for (let place = at + 1; place < Math.min(tokens.length, at + 25); place++) {
      const token = tokens[place] as Token;
      if (token.kind === "stop" || small > 4) break;
      if (token.text === "(") depth += 1;
      else if (token.text === ")") depth -= 1;
      else if (isNamedCode(token) && (small === 0 || depth > 0)) take(passage, tokens, place, draft);
      else if (depth === 0 && /^\p{Ll}/u.test(token.text) && !/^(?:the|and|or|all|certain|both|brand|branded|only)$/.test(token.lower))
        small += 1;
    }
  }
}

/** Capitals and at least two digits, of five characters or more. */
function isNamedCode(token: Token): boolean {
  return isStrongCode(token) && !isShopCode(token.text) && token.text.length >= 5 && /^[A-Z](?=.*\d.*\d)[A-Z\d/-]+$/.test(token.text);
}

/** "The newer AB-25 fans are not involved": codes before the product's word where the sentence says that they are not covered. */
export function findExcludedCodes({ passage, tokens, draft }: CodeSearch): void {
  const clauses = negatedClauses(passage.clean, tokens).filter((clause) => !clause.conditional);
  for (const { from, to } of clauses)
    for (let at = from; at < to; at++) {
      const token = tokens[at] as Token;
      const noun = tokens[at + 1]?.lower ?? "";
      const isNamed =
        isStrongCode(token) && /^[A-Z]/.test(token.text) && (noun === "model" || noun === "models" || isProductWord(noun || "a"));
      if (!isNamed || !/^\p{Ll}{4}/u.test(noun) || draft.models.some((one) => one.item.token === at)) continue;
      const item: CodeItem = {
        from: printedCode(token.text),
        to: null,
        operator: "exact",
        excluded: true,
        start: token.start,
        end: token.end,
        token: at,
      };
      draft.models.push({ passage, item, evidence: "weak", excluded: true, conditional: false, row: null });
    }
}

interface CodeSearch {
  readonly passage: Passage;
  readonly tokens: readonly Token[];
  readonly draft: Draft;
}

export function findPrintedCodes(passage: Passage, tokens: readonly Token[], title: string, draft: Draft): void {
  tokens.forEach((token, at) => {
    if (!isAtQuote(tokens, at) || token.kind !== "code" || isShopCode(token.text) || token.text.length < 4) return;
    if (nameKey(title).includes(nameKey(token.text))) return;
    if (/^(?:id|battery|batteries|prototype)$/.test(tokens[at - 2]?.lower ?? "")) return;
    const around = passage.clean.slice(Math.max(0, token.start - 120), token.end + 160);
    if (isCoordinated(tokens, at)) takeQuotedNeighbour(passage, tokens, at, draft);
    if ((printing.test(around) && isStrongCode(token)) || isCoordinated(tokens, at)) take(passage, tokens, at, draft);
  });
}

/** At the beginning or end of a quotation, or of one of the lines that dots part in it. */
function isAtQuote(tokens: readonly Token[], at: number): boolean {
  const edges = [tokens[at - 1], tokens[at + 1], tokens[at + 1]?.kind === "stop" ? tokens[at + 2] : undefined];
  return edges.some((edge) => edge?.kind === "quote" || edge?.text === "…");
}

/** `"Plain" and "Plain-60" kettles`: quoted names side by side, of which one has a number, are models. */
function isCoordinated(tokens: readonly Token[], at: number): boolean {
  return (
    tokens[at - 1]?.kind === "quote" &&
    /^(?:and|or|,)$/.test(tokens[at - 2]?.lower ?? "") &&
    tokens[at - 3]?.kind === "quote" &&
    tokens[at - 5]?.kind === "quote" &&
    /^[a-z]/.test(tokens[at + 2]?.text ?? "")
  );
}

function takeQuotedNeighbour(passage: Passage, tokens: readonly Token[], at: number, draft: Draft): void {
  const before = tokens[at - 4];
  const named = tokens[at]?.lower.startsWith(before?.lower ?? "?") ?? false;
  if (before && named) take(passage, tokens, at - 4, draft);
}

/** A code among the title's or product name's words: `AB-250 Juice Extractors`, `642-2150Q Drain Covers`, `QDC 1, 2 and 3 Coffeemakers`. */
export function findNamedCodes(passage: Passage, tokens: readonly Token[], draft: Draft): void {
  tokens.forEach((token, at) => {
    const numbered = numberedLettersAt(tokens, at);
    if (numbered) for (const from of numbered.codes) takeAs(passage, token, { from, end: numbered.end, at }, draft);
    if (!isStrongCode(token) || isShopCode(token.text) || token.text.includes(" ")) return;
    const beginsWithDigit = /^(?=.*\d.*\d.*\d.*\d)\d{2,}-\d{2,}[A-Z]{1,3}$/.test(token.text);
    if (beginsWithDigit || (/^[A-Z]/.test(token.text) && /\d{2}/.test(token.text))) take(passage, tokens, at, draft);
  });
}

function takeAs(passage: Passage, token: Token, code: { from: string; end: number; at: number }, draft: Draft): void {
  const item: CodeItem = {
    from: code.from,
    to: null,
    operator: "exact",
    excluded: false,
    start: token.start,
    end: code.end,
    token: code.at,
  };
  draft.models.push({ passage, item, evidence: "weak", excluded: false, conditional: false, row: null });
}

function take(passage: Passage, tokens: readonly Token[], at: number, draft: Draft): void {
  const token = tokens[at];
  if (!token) return;
  const operator = tokens[at + 1]?.lower === "series" ? "begins" : "exact";
  const item: CodeItem = {
    from: printedCode(token.text),
    to: null,
    operator,
    excluded: false,
    start: token.start,
    end: token.end,
    token: at,
  };
  draft.models.push({ passage, item, evidence: "weak", excluded: false, conditional: false, row: null });
}
