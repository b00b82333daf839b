import type { Token } from "./token";

/** A stretch of tokens that speaks of another recall or of what is not on the product: its codes say nothing about this one. */
export interface Aside {
  readonly from: number;
  readonly to: number;
}

/** "The original recall in May involved ...", "previously recalled models", "was recalled in June 2011", "replacements for ...". */
const ofAnotherRecall =
  /\b(?:original|previous|earlier|initial|prior|first|past)\s+(?:[A-Z]?\w+\s+\d{4}\s+)?recall\b|\b(?:were|was|been|had\s+been)\s+(?:previously\s+)?recalled\s+(?:in|on|earlier|previously)\b|\b(?:previously|originally|earlier)\s+(?:recalled|announced)\b|\brecalled\s+in\s+\p{Lu}\w+\s+(?:\d{1,2},\s+)?\d{4}|\breplacements?\s+for\s+(?:the\s+)?(?:recalled\s+)?models?\b/iu;
/** The sentence says of the same products that they are in this recall. */
const ofThisOne =
  /\bthis\s+(?:expanded\s+)?(?:recall|expansion)\b|\b(?:recall\s+)?expansion\s+(?:involves|includes|adds)\b|\b(?:are|is)\s+(?:also\s+|now\s+)?(?:included|being\s+recalled|affected|involved|part)\b|\(previously\s+recalled\)|\bin\s+addition\s+to\b|\bas\s+well\s+as\b/i;

/** Without one of these words no sentence speaks of another recall. */
const mayTell =
  /original|previous|earlier|initial|prior\s|past\s|first\s+recall|(?:been|were|was)\s+(?:previously\s+)?recalled|recalled\s+(?:in|on)\s|replacements?\s/i;

/** Sentences about another recall, of which nothing is said to be in this one. */
export function earlierRecalls(clean: string, tokens: readonly Token[]): Aside[] {
  const asides: Aside[] = [];
  if (!mayTell.test(clean)) return asides;
  let from = 0;
  for (let at = 0; at <= tokens.length; at++) {
    if (tokens[at] && tokens[at]?.kind !== "stop") continue;
    const first = tokens[from];
    const last = tokens[at - 1];
    if (first && last && at > from) {
      const text = clean.slice(first.start, Math.min(last.end, first.start + 1_000));
      if (ofAnotherRecall.test(text) && !ofThisOne.test(text)) asides.push({ from, to: at });
    }
    from = at + 1;
  }
  return asides;
}
