import type { ApplianceReading } from "./appliance-reading";
import type { Ask, Grade } from "./candidate";
import type { CoveredNotice } from "./covered-notice";
import type { Findings } from "./findings";
import { rejectingLevels } from "./model-agreement";
import type { MatchingSettings } from "./settings";

/** A grade, and the field that would settle a `check_label`. */
export interface Verdict {
  readonly grade: Grade;
  readonly ask: Ask["field"] | null;
}

export interface Graded {
  readonly findings: Findings;
  readonly appliance: ApplianceReading;
  readonly notice: CoveredNotice;
  readonly settings: MatchingSettings;
}

const covered: Verdict = { grade: "covered", ask: null };
const likely: Verdict = { grade: "likely", ask: null };
const notCovered: Verdict = { grade: "not_covered", ask: null };
const check = (ask: Ask["field"]): Verdict => ({ grade: "check_label", ask });

const slipLevels = new Set(["model.swapped", "model.dropped", "model.doubled"]);
const confusedLevels = new Set(["model.confusable", "model.pattern_confusable"]);

const hasMaker = ({ brand }: Findings): boolean =>
  brand === "same" || brand === "alias" || brand === "part" || brand === "near" || brand === "named";
const fitsProduct = ({ product }: Findings): boolean => product === "same" || product === "related";

/** The window facts decide last: what else agrees is a claim only once they do. */
function withWindows({ findings }: Graded, otherwise: Verdict): Verdict {
  const { windows } = findings;
  if (windows.place !== "ask") return otherwise;
  const open = windows.evidence.filter(({ place }) => place !== "outside");
  if (open.length === 0) return check(findings.brand === "missing" ? "brand" : "model");
  return check(open.find(({ value }) => value !== null)?.field ?? open[0]?.field ?? "serial");
}

/** Another maker's name on the same model: a house brand or relabelled stock at most, and only where the number is long and the product the same. */
function gradeOtherMaker({ findings, settings }: Graded, bits: number): Verdict {
  const isSure = findings.model !== null && !slipLevels.has(findings.model.level) && findings.model.level !== "model.suffix_added";
  return isSure && bits >= settings.strongModelBits && findings.product === "same" ? check("brand") : notCovered;
}

/**
 * Whether another maker's name and another product rule a pair out already, whatever else is found: so they do where the notice lists
 * models and the product number is not its, by `gradeOtherMaker` and `gradeMissingModel`.
 */
export function isRuledOutByMaker({ brand, product }: Pick<Findings, "brand" | "product">): boolean {
  return brand === "other" && product !== "same";
}

/** A slip or a suffix without the maker's name: worth a look only for the notice's product. */
function gradeVariantWithoutMaker(graded: Graded, bits: number): Verdict {
  const { findings, settings } = graded;
  if (!fitsProduct(findings)) return notCovered;
  if (bits >= settings.strongModelBits) return withWindows(graded, check("model"));
  return findings.model?.level === "model.suffix_added" && bits >= settings.slipModelBits ? check(missingName(findings)) : notCovered;
}

const missingName = ({ brand }: Findings): "brand" | "product" => (brand === "missing" ? "brand" : "product");

/** The maker is not known, or the notice names none. A listed model is never ruled out by that blank. */
function gradeWithoutMaker(graded: Graded, bits: number): Verdict {
  const { findings, settings } = graded;
  const level = findings.model?.level ?? "model.different";
  if (findings.product === "different") return notCovered;
  if (findings.exclusion?.isUnclear) return check("model");
  if (slipLevels.has(level) || level === "model.suffix_added") return gradeVariantWithoutMaker(graded, bits);
  if (bits >= settings.strongModelBits) return withWindows(graded, likely);
  const leastBits = fitsProduct(findings) ? settings.leastModelBits : settings.slipModelBits;
  return findings.brand === "missing" || bits >= leastBits ? check(missingName(findings)) : notCovered;
}

function gradeWithMaker(graded: Graded, bits: number): Verdict {
  const { findings, settings } = graded;
  const level = findings.model?.level ?? "model.different";
  if (findings.exclusion?.isUnclear) return check("model");
  if (slipLevels.has(level)) return bits >= settings.slipModelBits && findings.product !== "different" ? check("model") : notCovered;
  if (findings.product === "unknown" && bits < settings.leastModelBits) return withWindows(graded, check("product"));
  if (level === "model.suffix_added") return findings.product !== "different" ? withWindows(graded, check("model")) : notCovered;
  if (findings.product === "different" && bits < settings.strongModelBits) return withWindows(graded, check("product"));
  const isPlain = !confusedLevels.has(level) || findings.brand !== "near";
  return withWindows(graded, findings.product !== "different" && level !== "model.in_text" && isPlain ? covered : likely);
}

function gradeMatchedModel(graded: Graded): Verdict {
  const { findings } = graded;
  const { model } = findings;
  if (model === null || rejectingLevels.has(model.level))
    return findings.hasSameUpc && findings.brand !== "other" ? check("model") : notCovered;
  const bits = model.pattern.bits;
  if (findings.hasSameUpc) return gradeWithMaker(graded, bits);
  if (findings.brand === "other") return gradeOtherMaker(graded, bits);
  return hasMaker(findings) ? gradeWithMaker(graded, bits) : gradeWithoutMaker(graded, bits);
}

/** The notice lists models and the appliance's is not known. */
function gradeMissingModel(graded: Graded): Verdict {
  const { findings } = graded;
  if (findings.hasSameUpc && findings.product !== "different") return withWindows(graded, likely);
  if (!hasMaker(findings) || !fitsProduct(findings)) return notCovered;
  return check("model");
}

/** The notice covers every model of the maker's product. */
function gradeAllModels(graded: Graded): Verdict {
  const { findings, appliance, notice } = graded;
  if (!hasMaker(findings) || findings.product === "different") return notCovered;
  if (findings.product === "unknown") return check("product");
  if (findings.exclusion?.isUnclear || (notice.exclude.length > 0 && appliance.models.length === 0)) return check("model");
  return withWindows(graded, findings.product === "same" && findings.brand !== "near" ? covered : likely);
}

/** The notice names no model: maker and product kind alone settle nothing, a serial number or date code inside its window does. */
function gradeNoModel(graded: Graded): Verdict {
  const { findings, appliance, notice } = graded;
  if (findings.hasSameUpc && findings.product !== "different") return withWindows(graded, likely);
  if (!hasMaker(findings) || findings.product === "different") return notCovered;
  if (findings.product === "unknown") return check("product");
  if (findings.windows.place === "ask") return withWindows(graded, likely);
  const isInside = findings.windows.evidence.some(
    ({ field, place }) => place === "inside" && (field !== "made" || findings.product === "same"),
  );
  if (isInside) return likely;
  return check(notice.gtins.size > 0 && appliance.gtin === null ? "upc" : "product");
}

/** Grades what was found. Rules, not a threshold: the score orders candidates, these rules say what may be claimed. */
export function grade(graded: Graded): Verdict {
  const { findings, appliance, notice } = graded;
  if (findings.exclusion && !findings.exclusion.isUnclear) return notCovered;
  if (findings.windows.place === "outside") return notCovered;
  if (notice.isListing) return appliance.models.length === 0 ? gradeMissingModel(graded) : gradeMatchedModel(graded);
  return notice.coverage.models.stated === "all" ? gradeAllModels(graded) : gradeNoModel(graded);
}
