import type { ComparedField, Reason } from "@/lib/matching/candidate";

export const fieldNames: Readonly<Record<ComparedField, string>> = {
  brand: "Brand",
  model: "Model",
  product: "Kind",
  serial: "Serial",
  dateCode: "Date code",
  made: "Made",
  upc: "Product number",
  exclusion: "Exclusion",
};
const fieldOrder: readonly ComparedField[] = ["brand", "model", "product", "serial", "dateCode", "made", "upc", "exclusion"];

export interface Agreement {
  /** `?` is not known and says nothing; it is never a mark against. */
  readonly sign: "=" | "≈" | "?" | "≠";
  readonly words: string;
}

const known: Readonly<Record<string, Agreement>> = {
  same: { sign: "=", words: "same" },
  exact: { sign: "=", words: "same, listed" },
  pattern: { sign: "=", words: "fits the listed form" },
  inside: { sign: "=", words: "inside" },
  all: { sign: "=", words: "all are covered" },
  alias: { sign: "=", words: "the same maker" },
  confusable: { sign: "≈", words: "same, characters confused" },
  pattern_confusable: { sign: "≈", words: "fits, characters confused" },
  part: { sign: "≈", words: "close" },
  near: { sign: "≈", words: "one slip apart" },
  related: { sign: "≈", words: "close" },
  suffix_added: { sign: "≈", words: "listed, with a suffix" },
  swapped: { sign: "≈", words: "two swapped" },
  dropped: { sign: "≈", words: "one missing" },
  doubled: { sign: "≈", words: "one doubled" },
  in_text: { sign: "≈", words: "in the plate's text" },
  overlap: { sign: "?", words: "partly inside" },
  unclear: { sign: "?", words: "decides" },
  different: { sign: "≠", words: "different" },
  other: { sign: "≠", words: "another" },
  outside: { sign: "≠", words: "outside" },
  excluded: { sign: "≠", words: "left out" },
  swapped_ending: { sign: "≠", words: "last two swapped" },
  substituted: { sign: "≠", words: "one differs" },
  added: { sign: "≠", words: "one more" },
  suffix_missing: { sign: "≠", words: "cut short" },
};

/** How a field agrees. What is missing on either side is "not known", which is not the same as different. */
export function agreementOf({ level, weight }: Reason): Agreement {
  const named = known[level.split(".")[1] ?? ""];
  if (named) return named;
  if (weight === 0) return { sign: "?", words: "not known" };
  return weight > 0 ? { sign: "≈", words: "close" } : { sign: "≠", words: "different" };
}

export interface Weight {
  /** Boxes out of four. */
  readonly boxes: number;
  readonly isAgainst: boolean;
  readonly words: string;
}

const howMuch = ["", "a little ", "", "strongly ", "very strongly "];
/** Bits from which one, two, three and four boxes are filled. */
const boxBits = [0.01, 2, 5, 12];
/** Bits against from which a field rules out alone: the lightest of such levels, a made window missed. */
const rulingBits = -12;

/** A weight in boxes and words. */
export function weightOf({ weight }: Reason): Weight {
  const boxes = boxBits.filter((bits) => Math.abs(weight) >= bits).length;
  if (boxes === 0) return { boxes, isAgainst: false, words: "says nothing" };
  const isAgainst = weight < 0;
  if (weight <= rulingBits) return { boxes, isAgainst, words: "rules it out" };
  return { boxes, isAgainst, words: `speaks ${howMuch[boxes]}${isAgainst ? "against it" : "for it"}` };
}

/** Reasons in the order that a label is read. */
export function inFieldOrder(reasons: readonly Reason[]): Reason[] {
  return [...reasons].sort((a, b) => fieldOrder.indexOf(a.field) - fieldOrder.indexOf(b.field));
}
