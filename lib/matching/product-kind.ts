import { looseWords, productKinds } from "./product-words";

/** How two product names agree. `related`: one is a wider word for the other, or the notice's text mentions it. `unknown`: one side says nothing. */
export type ProductAgreement = "same" | "related" | "different" | "unknown";

/** A product name for comparing: its kind where the words are known, and its words with endings dropped. */
export interface ProductName {
  readonly kind: string | null;
  readonly words: readonly string[];
  /** The name in lower case with single blanks, for finding it in a text. */
  readonly phrase: string;
}

/** Singular of an English noun, well enough for comparing: `batteries`, `torchieres`, `washes`, `glasses`, `lights`. */
function singular(word: string): string {
  if (word.length <= 3 || word.endsWith("ss") || word.endsWith("us")) return word;
  if (word.endsWith("ies")) return `${word.slice(0, -3)}y`;
  if (/(?:ch|sh|x|ss)es$/.test(word)) return word.slice(0, -2);
  return word.endsWith("s") ? word.slice(0, -1) : word;
}

function wordsOf(text: string): string[] {
  const head = text.toLowerCase().split(/\b(?:with|for|from|sold|by|that|which|including)\b|[(,;:]/)[0] ?? "";
  return head
    .split(/[^a-z0-9]+/)
    .filter((word) => word !== "")
    .map(singular);
}

const kindOfPhrase = new Map<string, string>(
  productKinds.flatMap((phrases) => phrases.map((phrase) => [wordsOf(phrase).join(" "), phrases[0] ?? phrase] as const)),
);

/** The kind that the longest run of words at the end of the name stands for; the end, since an English noun's head comes last. */
function kindOf(words: readonly string[]): string | null {
  for (let end = words.length; end > Math.max(0, words.length - 2); end--) {
    for (let from = 0; from < end; from++) {
      const kind = kindOfPhrase.get(words.slice(from, end).join(" "));
      if (kind !== undefined) return kind;
    }
  }
  return null;
}

const names = new Map<string, ProductName>();
const mostNames = 20_000;

/** Reads a product name; remembered, since a registry repeats few of them. */
export function productName(text: string): ProductName {
  const known = names.get(text);
  if (known) return known;
  const words = wordsOf(text);
  const tight = words.filter((word) => !looseWords.has(word));
  const name = {
    kind: kindOf(words),
    words: tight.length > 0 ? tight : words,
    phrase: text
      .toLowerCase()
      .split(/[^a-z0-9]+/)
      .join(" ")
      .trim(),
  };
  if (names.size >= mostNames) names.clear();
  names.set(text, name);
  return name;
}

function areSameWords(left: readonly string[], right: readonly string[]): boolean {
  return left.length === right.length && left.every((word) => right.includes(word));
}

function compareNames(left: ProductName, right: ProductName): ProductAgreement {
  if (left.kind !== null && left.kind === right.kind) return "same";
  if (areSameWords(left.words, right.words)) return "same";
  const [fewer, more] = left.words.length <= right.words.length ? [left.words, right.words] : [right.words, left.words];
  const isWider = fewer.length > 0 && fewer.every((word) => more.includes(word)) && fewer.at(-1) === more.at(-1);
  if (left.kind !== null && right.kind !== null) return isWider ? "related" : "different";
  const haveSameHead = left.words.at(-1) !== undefined && left.words.at(-1) === right.words.at(-1);
  return isWider || haveSameHead ? "related" : "different";
}

const rank: Readonly<Record<ProductAgreement, number>> = { same: 3, related: 2, unknown: 1, different: 0 };

/** The best agreement of an appliance's category with the products a notice names. */
export function compareProducts(category: ProductName, products: readonly ProductName[]): ProductAgreement {
  if (category.words.length === 0 || products.length === 0) return "unknown";
  let best: ProductAgreement = "different";
  for (const product of products) {
    const agreement = compareNames(category, product);
    if (rank[agreement] > rank[best]) best = agreement;
  }
  return best;
}
