import { patternKey } from "@/lib/identity/code-pattern";
import { confusableKey, evidenceBits, modelKey } from "@/lib/identity/model-number";

/** One model statement of a notice, prepared for comparing. What every comparison asks stands first, close together in memory. */
export interface ModelPattern {
  /** Upper case, separators dropped, wildcards kept. */
  readonly key: string;
  /** The key with confusable characters folded; wildcards kept. */
  readonly folded: string;
  readonly isOpen: boolean;
  /** Whether the notice may list other models that continue this one; false is certain. */
  readonly mayHaveVariants: boolean;
  /** Evidence bits of the literal characters. */
  readonly bits: number;
  readonly printed: string;
  /** Literal characters before the first and after the last wildcard. */
  readonly beginning: string;
  readonly ending: string;
  /** The beginning with confusable characters folded. */
  readonly foldedBeginning: string;
}

/** Prepares a printed pattern; `null` when nothing literal is left of it. */
export function modelPattern(printed: string): ModelPattern | null {
  const key = patternKey(printed);
  const literal = modelKey(key);
  if (literal === "") return null;
  const isOpen = literal.length !== key.length;
  const beginning = /^[A-Z0-9]*/.exec(key)?.[0] ?? "";
  return {
    key,
    folded: confusableKey(key),
    isOpen,
    mayHaveVariants: true,
    bits: evidenceBits(literal),
    printed,
    beginning,
    foldedBeginning: confusableKey(beginning),
    ending: /[A-Z0-9]*$/.exec(key)?.[0] ?? "",
  };
}

/** Finds which of a notice's models may have variants. In the order of the keys one that continues another stands right behind it. */
export function withVariants(models: readonly ModelPattern[]): ModelPattern[] {
  const keys = models.map(({ key }) => key).sort();
  const continued = new Set(keys.filter((key, at) => keys[at + 1]?.startsWith(key)));
  return models.map((model) => ({ ...model, mayHaveVariants: continued.has(model.key) }));
}
