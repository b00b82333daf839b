import { fitPattern } from "@/lib/identity/code-pattern";
import type { MakerAgreement } from "@/lib/identity/maker";
import type { ApplianceReading } from "./appliance-reading";
import type { CoveredNotice } from "./covered-notice";
import type { AgreeingMakers } from "./maker-index";
import { bestModelAgreement, type ModelAgreement, mayBeSuffix, rejectingLevels } from "./model-agreement";
import type { ModelPattern } from "./model-pattern";
import { isMakerNamed } from "./named-maker";
import { compareProducts, type ProductAgreement, type ProductName } from "./product-kind";
import type { MatchingSettings } from "./settings";
import { compareWindows, noWindows, type WindowOutcome } from "./window-evidence";

/** `named`: not among the brands read from the notice, but its text speaks of it. */
export type BrandAgreement = MakerAgreement | "named" | "missing" | "not_stated";

/** What the comparison of one appliance with one notice found, field by field; grading and wording follow from it. */
export interface Findings {
  /** `null` when either side names no model. */
  readonly model: ModelAgreement | null;
  /** The excluded pattern that fits; `isUnclear` when only in one reading of confused characters, or up to a suffix that the notice does not mention. */
  readonly exclusion: { readonly printed: string; readonly isUnclear: boolean; readonly isVariant?: true } | null;
  readonly brand: BrandAgreement;
  readonly product: ProductAgreement;
  readonly windows: WindowOutcome;
  readonly hasSameUpc: boolean;
}

const makerRank: Readonly<Record<MakerAgreement, number>> = { same: 0, alias: 1, part: 2, near: 3, other: 4 };

/** The best agreement of the appliance's maker with some that notices name: the ids from `start` to before `end`. */
export function bestMaker(found: AgreeingMakers, makers: ArrayLike<number>, start: number, end: number): MakerAgreement {
  let best: MakerAgreement = "other";
  for (let at = start; at < end; at++) {
    const agreement = found.get(makers[at] as number);
    if (agreement !== undefined && makerRank[agreement] < makerRank[best]) best = agreement;
  }
  return best;
}

/** A maker that agrees with none of those the notice names. */
export function withoutMakers(brand: string, notice: CoveredNotice): BrandAgreement {
  if (isMakerNamed(brand, notice)) return "named";
  return notice.makerIds.length === 0 ? "not_stated" : "other";
}

/** The best agreement of the appliance's maker with those the notice names. */
export function compareBrand(brand: string | null, found: AgreeingMakers | null, notice: CoveredNotice): BrandAgreement {
  const { makerIds } = notice;
  if (brand === null || found === null) return makerIds.length === 0 ? "not_stated" : "missing";
  const best = bestMaker(found, makerIds, 0, makerIds.length);
  return best === "other" ? withoutMakers(brand, notice) : best;
}

function mentions(text: string, phrase: string): boolean {
  return phrase !== "" && (text.includes(` ${phrase} `) || text.includes(` ${phrase}s `));
}

/** A kind as a person wrote it, or without the words that do not change it: `electric toaster` where the text has toasters. */
function isMentioned(text: string, { phrase, words }: ProductName): boolean {
  return mentions(text, phrase) || mentions(text, words.join(" "));
}

/** Words that name no kind of product. */
const namelessKinds = new Set("appliance,device,equipment,item,machine,misc,miscellaneous,other,product,unit".split(","));

/** Products by name; where the names say nothing, whether the notice's own text speaks of the category. */
export function compareProduct(category: ProductName | null, notice: CoveredNotice): ProductAgreement {
  if (category === null || category.phrase === "") return "unknown";
  const agreement = compareProducts(category, notice.products);
  if (agreement === "same" || agreement === "related") return agreement;
  if (category.words.every((word) => namelessKinds.has(word))) return "unknown";
  if (isMentioned(notice.titleWords, category)) return "related";
  return category.kind === null && isMentioned(notice.textWords, category) ? "related" : agreement;
}

/** Whether the model is the excluded one with a suffix, and listed by no more than a pattern. */
function isVariantOf(pattern: ModelPattern, appliance: ApplianceReading, settings: MatchingSettings): boolean {
  return !pattern.isOpen && appliance.models.some((reading) => mayBeSuffix(reading, pattern, settings));
}

/** An exclusion counts unless the model is listed more exactly than it is excluded. */
function findExclusion({ appliance, notice, model }: Compared, settings: MatchingSettings): Findings["exclusion"] {
  const isListedByName = model !== null && !model.pattern.isOpen;
  for (const pattern of notice.exclude) {
    if (!isListedByName && isVariantOf(pattern, appliance, settings)) return { printed: pattern.printed, isUnclear: true, isVariant: true };
    const fits = appliance.models.map((reading) => fitPattern(pattern.key, reading.key));
    if (fits.includes("exact")) return { printed: pattern.printed, isUnclear: false };
    if (!fits.includes("confusable")) continue;
    const isListedExactly = model?.level === "model.exact" || model?.level === "model.pattern";
    return { printed: pattern.printed, isUnclear: isListedExactly };
  }
  return null;
}

const sureLevels: ReadonlySet<string> = new Set(["model.exact", "model.confusable", "model.pattern", "model.pattern_confusable"]);

/**
 * Compares the models alone; `null` when either side names none. `raised` may narrow the notice's models to those that an
 * index raised; the others are plainly different.
 */
export function compareModels(
  appliance: ApplianceReading,
  notice: CoveredNotice,
  settings: MatchingSettings,
  raised: readonly ModelPattern[] = notice.include,
): ModelAgreement | null {
  if (!notice.isListing || appliance.models.length === 0) return null;
  const best = bestModelAgreement({ readings: appliance.models, patterns: raised, listed: notice.include }, settings);
  if (!appliance.areFromText || best === null) return best;
  if (sureLevels.has(best.level)) return { ...best, level: "model.in_text" };
  return rejectingLevels.has(best.level) ? null : best;
}

export interface Compared {
  readonly appliance: ApplianceReading;
  readonly notice: CoveredNotice;
  readonly brand: BrandAgreement;
  readonly product: ProductAgreement;
  /** What `compareModels` found. */
  readonly model: ModelAgreement | null;
}

/** Compares field by field. */
export function compareFields(compared: Compared, settings: MatchingSettings): Findings {
  const { appliance, notice, brand, product, model } = compared;
  return {
    model,
    exclusion: notice.hasExclusions ? findExclusion(compared, settings) : null,
    brand,
    product,
    windows: notice.hasWindows ? compareWindows(appliance, notice, model) : noWindows,
    hasSameUpc: appliance.gtin !== null && notice.gtins.has(appliance.gtin),
  };
}
