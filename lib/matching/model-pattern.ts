import { patternKey } from "@/lib/identity/code-pattern";
import { confusableKey, evidenceBits, modelKey } from "@/lib/identity/model-number";

/** One model statement of a notice, prepared for comparing. */
export interface ModelPattern {
  readonly printed: string;
  /** Upper case, separators dropped, wildcards kept. */
  readonly key: string;
  /** The key with confusable characters folded; wildcards kept. */
  readonly folded: string;
  readonly isOpen: boolean;
  /** Literal characters before the first and after the last wildcard. */
  readonly beginning: string;
  readonly ending: string;
  /** The beginning with confusable characters folded. */
  readonly foldedBeginning: string;
  /** Evidence bits of the literal characters. */
  readonly bits: number;
}

/** Prepares a printed pattern; `null` when nothing literal is left of it. */
export function modelPattern(printed: string): ModelPattern | null {
  const key = patternKey(printed);
  const literal = modelKey(key);
  if (literal === "") return null;
  const isOpen = literal.length !== key.length;
  const beginning = /^[A-Z0-9]*/.exec(key)?.[0] ?? "";
  return {
    printed,
    key,
    folded: confusableKey(key),
    isOpen,
    beginning,
    foldedBeginning: confusableKey(beginning),
    ending: /[A-Z0-9]*$/.exec(key)?.[0] ?? "",
    bits: evidenceBits(literal),
  };
}
