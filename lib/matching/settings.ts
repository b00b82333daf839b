/**
 * Weights and limits of the comparison, in one place. A weight is a log2 likelihood ratio in bits; for a level of the
 * model it is added to the evidence bits of the agreeing key. Origins: `measured` on a synthetic registry of known
 * truth with typing and reading errors (tests/bench/crosscheck.ts rebuilds one), `Fellegi-Sunter` = log2(m/u) from the
 * agreement rates named there, `judgement` where neither applies.
 */
export interface LevelSetting {
  readonly weight: number;
  readonly origin: string;
}

const level = (weight: number, origin: string): LevelSetting => ({ weight, origin });

export const levelSettings = {
  "model.exact": level(0, "measured: of hits at this level 1170 true, 18 false"),
  "model.confusable": level(-0.5, "measured: 98 true, 0 false; as good as exact"),
  "model.pattern": level(-1, "measured: prefixes 488 true, 81 false (date unknown), wildcards 46 true, 8 false"),
  "model.pattern_confusable": level(-1.5, "as the pattern, less what a confused character costs"),
  "model.suffix_added": level(-5, "measured: 112 true, 35 false; asks"),
  "model.swapped": level(-8, "measured: 25 true, 34 false; asks"),
  "model.dropped": level(-8, "measured: 23 true, 39 false; asks"),
  "model.doubled": level(-7, "measured: 14 true, 33 false; asks; a doubled key is the likelier slip"),
  "model.added": level(-26, "judgement: hands drop and double characters, they seldom add another one; it is a neighbour"),
  "model.swapped_ending": level(-26, "measured: 3 true, 368 false; a neighbour"),
  "model.in_text": level(-3, "judgement: a code somewhere on the plate may be a part's"),
  "model.substituted": level(-26, "measured: 15 true, 6049 false; never more than a neighbour"),
  "model.suffix_missing": level(-26, "measured: 5 true, 32 false"),
  "model.different": level(-26, "judgement: the notice lists its models and this is none of them"),
  "model.missing": level(0, "missing is neutral"),
  "model.all": level(0, "the notice covers every model of the product"),
  "model.none_stated": level(0, "the notice names no model"),
  "exclusion.excluded": level(-40, "the notice says that it is not affected"),
  "exclusion.unclear": level(-10, "judgement: excluded in one reading of confused characters"),
  "brand.same": level(6.57, "Fellegi-Sunter: agrees 0.95 / 0.01"),
  "brand.alias": level(6.2, "judgement: an administrator's list says they are one maker"),
  "brand.part": level(5.5, "judgement: one name within the other"),
  "brand.near": level(5, "judgement: one slip apart, in names of five letters or more"),
  "brand.named": level(4.5, "judgement: the notice's text speaks of the maker without naming it as the brand"),
  "brand.missing": level(0, "missing is neutral"),
  "brand.not_stated": level(0, "missing is neutral"),
  "brand.other": level(-8, "judgement: house brands and relabelled products keep it from ruling out alone"),
  "product.same": level(3.3, "Fellegi-Sunter: agrees 0.8 / 0.08"),
  "product.related": level(1.5, "judgement: the wider word, or named in the notice's text"),
  "product.unknown": level(0, "missing is neutral"),
  "product.different": level(-4, "judgement: people name kinds loosely"),
  "serial.inside": level(4, "Fellegi-Sunter: agrees 0.8 / 0.05"),
  "serial.outside": level(-14, "judgement: outside in every reading"),
  "serial.unknown": level(0, "missing is neutral"),
  "dateCode.inside": level(4, "Fellegi-Sunter: agrees 0.8 / 0.05"),
  "dateCode.outside": level(-14, "judgement: outside in every reading"),
  "dateCode.unknown": level(0, "missing is neutral"),
  "made.inside": level(3, "Fellegi-Sunter: agrees 0.9 / 0.11"),
  "made.outside": level(-12, "judgement: all days that it may be lie outside"),
  "made.overlap": level(0, "a partly known date decides nothing"),
  "made.unknown": level(0, "missing is neutral"),
  "upc.same": level(20, "judgement: a GTIN names one product; kept below its 40 bits for relabelled stock"),
  "upc.other": level(0, "judgement: notices list only some of a product's numbers"),
} as const satisfies Readonly<Record<string, LevelSetting>>;

export type LevelName = keyof typeof levelSettings;

export interface MatchingSettings {
  readonly levels: Readonly<Record<LevelName, LevelSetting>>;
  /** Evidence bits from which a model number stands without its maker, or in spite of another maker. */
  readonly strongModelBits: number;
  /** Evidence bits from which a model with one slip is worth a look. */
  readonly slipModelBits: number;
  /** Evidence bits below which a model number says nothing without its maker. */
  readonly leastModelBits: number;
  /** Longest suffix that a variant of a listed model may carry. */
  readonly longestSuffix: number;
  /** Longest suffix of letters that may follow a letter without anything between. */
  readonly longestGluedSuffix: number;
  /** This many listed models that continue a base show that the notice spells its suffixes out. */
  readonly spelledOutSuffixes: number;
}

export const matchingSettings: MatchingSettings = {
  levels: levelSettings,
  strongModelBits: 15,
  slipModelBits: 12,
  leastModelBits: 8,
  longestSuffix: 5,
  longestGluedSuffix: 2,
  spelledOutSuffixes: 2,
};
