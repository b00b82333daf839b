import type { CodeItem } from "./code-list";
import { isShopCode, isStrongCode, printedCode } from "./code-shape";
import type { Draft } from "./draft";
import type { Passage } from "./passage";
import type { Token } from "./token";

/** Codes that no heading or word calls a model: printed on the product between quotation marks, or in the title. */
const printing = /\b(?:printed|etched|stamped|embossed|engraved|appears?|label|labeled|molded|imprinted|marked|written)\b/;

export function findPrintedCodes(passage: Passage, tokens: readonly Token[], draft: Draft): void {
  tokens.forEach((token, at) => {
    const quoted = tokens[at - 1]?.kind === "quote" || tokens[at + 1]?.kind === "quote";
    if (!quoted || !isStrongCode(token) || isShopCode(token.text) || token.text.length < 4) return;
    if (/^(?:id|battery|batteries|prototype)$/.test(tokens[at - 2]?.lower ?? "")) return;
    const around = passage.clean.slice(Math.max(0, token.start - 120), token.end + 160);
    if (printing.test(around)) take(passage, token, at, draft);
  });
}

/** A code among the title's or product name's words: `AB-250 Juice Extractors`. */
export function findNamedCodes(passage: Passage, tokens: readonly Token[], draft: Draft): void {
  tokens.forEach((token, at) => {
    if (!isStrongCode(token) || isShopCode(token.text) || !/^[A-Z]/.test(token.text) || !/\d{2}/.test(token.text)) return;
    take(passage, token, at, draft);
  });
}

function take(passage: Passage, token: Token, at: number, draft: Draft): void {
  const item: CodeItem = {
    from: printedCode(token.text),
    to: null,
    operator: "exact",
    excluded: false,
    start: token.start,
    end: token.end,
    token: at,
  };
  draft.models.push({ passage, item, evidence: "weak", excluded: false, conditional: false, row: null });
}
