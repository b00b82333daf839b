import type { ComparedField, Reason } from "./candidate";
import type { BrandAgreement, Findings } from "./findings";
import type { Graded } from "./grade";
import type { ProductAgreement } from "./product-kind";
import type { LevelName, MatchingSettings } from "./settings";
import { statedWindows, type WindowEvidence } from "./window-evidence";

type Draft = Omit<Reason, "weight" | "field">;

function rounded(weight: number): number {
  return Math.round(weight * 100) / 100;
}

const modelSentences: Readonly<Record<string, (read: string, listed: string) => string>> = {
  "model.exact": (read) => `Model ${read} is listed.`,
  "model.pattern": (read, listed) => `Model ${read} is one of ${listed}.`,
  "model.confusable": (read, listed) => `Model ${read} is ${listed} with characters that plates confuse.`,
  "model.pattern_confusable": (read, listed) => `Model ${read} is one of ${listed} once confused characters are read the other way.`,
  "model.in_text": (read, listed) => `The plate's text holds ${read}, which the notice lists as ${listed}.`,
  "model.suffix_added": (read, listed) => `Model ${read} is ${listed} with a suffix that the notice does not mention.`,
  "model.swapped": (read, listed) => `Model ${read} is ${listed} with two neighbours swapped.`,
  "model.dropped": (read, listed) => `Model ${read} is ${listed} with one character missing.`,
  "model.doubled": (read, listed) => `Model ${read} is ${listed} with one character doubled.`,
  "model.added": (read, listed) => `Model ${read} is not listed; ${listed} has one character less.`,
  "model.swapped_ending": (read, listed) => `Model ${read} is not listed; ${listed} ends in the same two digits the other way round.`,
  "model.substituted": (read, listed) => `Model ${read} is not listed; the nearest, ${listed}, differs in one character.`,
  "model.suffix_missing": (read, listed) => `Model ${read} is not listed; ${listed} goes on after it.`,
  "model.different": (read) => `Model ${read} is not listed.`,
};

function listOf(patterns: readonly { readonly printed: string }[]): string {
  return patterns.map(({ printed }) => printed).join(", ");
}

function modelReason({ findings, appliance, notice }: Graded): Draft {
  const { model } = findings;
  if (model !== null) {
    const sentence = modelSentences[model.level]?.(model.read, model.pattern.printed) ?? "";
    const inNotice = model.level === "model.different" ? listOf(notice.include) : model.pattern.printed;
    return { level: model.level, onAppliance: model.read, inNotice, sentence };
  }
  const { stated } = notice.coverage.models;
  const onAppliance = appliance.facts.model;
  if (stated === "all") return { level: "model.all", onAppliance, inNotice: "all models", sentence: "The notice covers all models." };
  if (stated === "none" || notice.include.length === 0) {
    return { level: "model.none_stated", onAppliance, inNotice: null, sentence: "The notice names no model." };
  }
  const level = appliance.models.length > 0 ? "model.different" : "model.missing";
  const missing = onAppliance === null ? "The appliance's model is not known." : `Model ${onAppliance} is only partly read.`;
  const sentence = level === "model.missing" ? missing : "No code on the plate is listed.";
  return { level, onAppliance, inNotice: listOf(notice.include), sentence };
}

const brandSentences: Readonly<Record<BrandAgreement, (brand: string, named: string) => string>> = {
  same: (brand) => `Maker ${brand} is the notice's.`,
  alias: (brand, named) => `Maker ${brand} and ${named} are one maker.`,
  part: (brand, named) => `Maker ${brand} and ${named} share the name.`,
  near: (brand, named) => `Maker ${brand} is one slip from ${named}.`,
  named: (brand) => `The notice's text names ${brand}.`,
  missing: () => "The appliance's maker is not known.",
  not_stated: () => "The notice names no maker.",
  other: (brand, named) => `Maker ${brand} is not ${named}.`,
};

function brandReason({ findings, appliance, notice }: Graded): Draft {
  const { brand } = findings;
  const onAppliance = appliance.facts.brand;
  const named = notice.coverage.brands.join(", ");
  return {
    level: `brand.${brand}`,
    onAppliance,
    inNotice: named === "" ? null : named,
    sentence: brandSentences[brand](onAppliance ?? "", named),
  };
}

const productSentences: Readonly<Record<ProductAgreement, (category: string, named: string) => string>> = {
  same: (category) => `The product, ${category}, is the notice's.`,
  related: (category) => `The product, ${category}, may be the notice's.`,
  unknown: () => "The kind of product does not help.",
  different: (category, named) => `The product, ${category}, is another than ${named}.`,
};

function productReason({ findings, appliance, notice }: Graded): Draft {
  const { product } = findings;
  const onAppliance = appliance.facts.category;
  const named = notice.coverage.products.join(", ");
  return {
    level: `product.${product}`,
    onAppliance,
    inNotice: named === "" ? null : named,
    sentence: productSentences[product](onAppliance ?? "", named),
  };
}

const fieldWords = { serial: "Serial number", dateCode: "Date code", made: "Date of manufacture" } as const;

function windowSentence({ field, place, value, reading }: WindowEvidence, stated: string): string {
  const name = fieldWords[field];
  const how = reading === null ? "" : ` (${reading})`;
  if (value === null) return `${name} is not known; the notice covers ${stated}.`;
  if (place === "inside") return `${name} ${value} is within ${stated}${how}.`;
  if (place === "outside") return `${name} ${value} is outside ${stated}${how}.`;
  if (place === "overlap") return `${name} ${value} is only partly within ${stated}.`;
  return `${name} ${value} cannot be placed against ${stated}${how}.`;
}

function weighed(settings: MatchingSettings, field: ComparedField, draft: Draft, bits = 0): Reason {
  return { field, ...draft, weight: rounded(bits + settings.levels[draft.level as LevelName].weight) };
}

function exclusionReason({ appliance }: Graded, { printed, isUnclear, isVariant }: NonNullable<Findings["exclusion"]>): Draft {
  const level = isUnclear ? "exclusion.unclear" : "exclusion.excluded";
  const unclear = isVariant ? "of which this may be a variant" : "which this may be once confused characters are read the other way";
  const how = isUnclear ? `, ${unclear}` : "";
  return { level, onAppliance: appliance.facts.model, inNotice: printed, sentence: `The notice excludes ${printed}${how}.` };
}

function windowReason(evidence: WindowEvidence): Draft {
  const { field, place, value } = evidence;
  const stated = statedWindows(evidence);
  return { level: `${field}.${place}`, onAppliance: value, inNotice: stated, sentence: windowSentence(evidence, stated) };
}

/** Every reason with its weight; the score is the sum of these weights. */
export function reasonsOf(graded: Graded): Reason[] {
  const { findings, settings } = graded;
  const reasons = [
    weighed(settings, "model", modelReason(graded), findings.model?.pattern.bits ?? 0),
    weighed(settings, "brand", brandReason(graded)),
    weighed(settings, "product", productReason(graded)),
  ];
  if (findings.exclusion) reasons.push(weighed(settings, "exclusion", exclusionReason(graded, findings.exclusion)));
  for (const evidence of findings.windows.evidence) reasons.push(weighed(settings, evidence.field, windowReason(evidence)));
  if (findings.hasSameUpc) {
    const { upc } = graded.appliance.facts;
    reasons.push(
      weighed(settings, "upc", { level: "upc.same", onAppliance: upc, inNotice: upc, sentence: `Product number ${upc} is listed.` }),
    );
  }
  return reasons;
}

/** The sum of the printed weights. */
export function scoreOf(reasons: readonly Reason[]): number {
  let sum = 0;
  for (const { weight } of reasons) sum += weight;
  return rounded(sum);
}
