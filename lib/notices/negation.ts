import type { Token } from "./token";

/** A stretch of tokens whose values are said not to be covered. */
export interface NegatedClause {
  readonly from: number;
  readonly to: number;
  /** Only under a condition ("with a green sticker", "made after ..."): no model as such is excluded. */
  readonly conditional: boolean;
}

const negated =
  /\b(?:(?:is|are|was|were)\s+not\s+(?:(?:being|a|an|any|currently|also|considered|believed|known|to|be)\s+){0,4}(?:included|affected|involved|part|subject|recalled|covered|impacted|under|among|within|in\s+(?:the|this)\s+(?:scope|recall))\b|not\s+(?:included|affected|involved|recalled|covered|impacted)|(?:does|do|did)\s+not\s+(?:include|involve|affect|apply|cover|impact)|not\s+recalled\s*:|(?:is|are|were|was)\s+(?:excluded|exempt)\b|(?:is|are|was|were)n.t\s+(?:(?:being|a|any)\s+)?(?:included|affected|involved|part|subject|recalled|covered|impacted)|neither\b[^.;]{0,120}\b(?:is|are)\s+(?:included|affected|involved|part|subject|recalled|covered)|(?:do|does)\s+not\s+(?:need|require)\b[^.;]{0,30}\b(?:action|repairs?|service|return(?:ed)?)|(?:is|are|remains?)\s+safe\s+to\s+(?:use|continue)|(?:is|are|remains?)\s+unaffected|incorrect\s+(?:model|serial|item|part|date)?\s*(?:numbers?|codes?)|no\s+(?:other|units?|models?|products?|machines?|appliances?|items?)\s+[^.;]{0,80}(?:are|is)\s+(?:included|affected|involved|recalled|subject|part))/i;
/** Without one of these words nothing is said to be left out. */
const mayNegate =
  /\bnot\b|n.t\s|\bneither\b|\bexcluded\b|\bexempt\b|\bunaffected\b|\bincorrect|\bsafe\s+to\b|\bno\s+(?:other|units?|models?|products?|machines?|appliances?|items?)\b/i;
const positive = /\b(?:not\s+all|not\s+only|not\s+limited)\b/i;
const condition =
  /\b(?:without|that\s+have|which\s+have|that\s+has|whose|if|marked|different|other|not\s+in|outside|manufactured|made|produced|sold|purchased|date|serial|sticker|already|repaired|additional|removable|with\s+(?:the|an?)\s+\w+)\b/i;

/** Clauses of a text that say what is not covered. A clause ends at a full stop, a semicolon, or "but". */
export function negatedClauses(clean: string, tokens: readonly Token[]): NegatedClause[] {
  const clauses: NegatedClause[] = [];
  if (!mayNegate.test(clean)) return clauses;
  let from = 0;
  for (let at = 0; at <= tokens.length; at++) {
    const token = tokens[at];
    if (token && token.kind !== "stop" && token.text !== ";" && token.lower !== "but" && token.lower !== "however") continue;
    const first = tokens[from];
    const last = tokens[at - 1];
    if (first && last && at > from) {
      const text = clean.slice(first.start, last.end);
      if (negated.test(text) && !positive.test(text))
        clauses.push({ from: fromVerb(text, tokens, from, at), to: at, conditional: condition.test(text) });
    }
    from = at + 1;
  }
  return clauses;
}

/** "This recall involves A and does not include B": only what follows the verb is excluded. */
function fromVerb(text: string, tokens: readonly Token[], from: number, to: number): number {
  if (!/\b(?:does|do|did)\s+not\s+(?:include|involve|affect|apply|cover|impact)\b|\bnot\s+recalled\s*:/i.test(text)) return from;
  for (let at = from; at < to; at++) if (/^not$/.test(tokens[at]?.lower ?? "")) return at;
  return from;
}
