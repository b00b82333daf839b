import { makerKey } from "@/lib/identity/maker";
import type { ComparedField, Reason } from "./candidate";
import type { Graded } from "./grade";
import type { LevelName } from "./settings";
import type { WindowEvidence } from "./window-evidence";

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
  "model.substituted": (read, listed) => `Model ${read} is not listed; the nearest, ${listed}, differs in one character.`,
  "model.suffix_missing": (read, listed) => `Model ${read} is not listed; ${listed} goes on after it.`,
  "model.different": (read) => `Model ${read} is not listed.`,
};

function modelReason({ findings, appliance, notice }: Graded): { draft: Draft; bits: number } {
  const { model } = findings;
  if (model !== null) {
    const sentence = modelSentences[model.level]?.(model.read, model.pattern.printed) ?? "";
    const inNotice = model.level === "model.different" ? notice.include.map(({ printed }) => printed).join(", ") : model.pattern.printed;
    return { draft: { level: model.level, onAppliance: model.read, inNotice, sentence }, bits: model.pattern.bits };
  }
  const { stated } = notice.coverage.models;
  const onAppliance = appliance.facts.model;
  const plain = (level: LevelName, inNotice: string | null, sentence: string) => ({
    draft: { level, onAppliance, inNotice, sentence },
    bits: 0,
  });
  if (stated === "all") return plain("model.all", "all models", "The notice covers all models.");
  if (stated === "none" || notice.include.length === 0) return plain("model.none_stated", null, "The notice names no model.");
  return plain("model.missing", notice.include.map(({ printed }) => printed).join(", "), "The appliance's model is not known.");
}

function brandReason({ findings, appliance, notice }: Graded): Draft {
  const { brand } = findings;
  const onAppliance = appliance.facts.brand;
  const named = notice.coverage.brands;
  const inNotice = named.length > 0 ? named.join(", ") : null;
  const nearest = named.find((name) => onAppliance !== null && makerKey(name) === makerKey(onAppliance)) ?? inNotice;
  const sentences: Readonly<Record<typeof brand, string>> = {
    same: `Maker ${onAppliance} is the notice's.`,
    alias: `Maker ${onAppliance} and ${inNotice} are one maker.`,
    part: `Maker ${onAppliance} and ${inNotice} share the name.`,
    near: `Maker ${onAppliance} is one slip from ${inNotice}.`,
    named: `The notice's text names ${onAppliance}.`,
    missing: "The appliance's maker is not known.",
    not_stated: "The notice names no maker.",
    other: `Maker ${onAppliance} is not ${inNotice}.`,
  };
  return { level: `brand.${brand}`, onAppliance, inNotice: brand === "same" ? nearest : inNotice, sentence: sentences[brand] };
}

function productReason({ findings, appliance, notice }: Graded): Draft {
  const { product } = findings;
  const onAppliance = appliance.facts.category;
  const inNotice = notice.coverage.products.length > 0 ? notice.coverage.products.join(", ") : null;
  const sentences: Readonly<Record<typeof product, string>> = {
    same: `The product, ${onAppliance}, is the notice's.`,
    related: `The product, ${onAppliance}, may be the notice's.`,
    unknown: "The kind of product does not help.",
    different: `The product, ${onAppliance}, is another than ${inNotice}.`,
  };
  return { level: `product.${product}`, onAppliance, inNotice, sentence: sentences[product] };
}

const fieldWords = { serial: "Serial number", dateCode: "Date code", made: "Date of manufacture" } as const;

function windowSentence({ field, place, value, stated, reading }: WindowEvidence): string {
  const name = fieldWords[field];
  const how = reading === null ? "" : ` (${reading})`;
  if (value === null) return `${name} is not known; the notice covers ${stated}.`;
  if (place === "inside") return `${name} ${value} is within ${stated}${how}.`;
  if (place === "outside") return `${name} ${value} is outside ${stated}${how}.`;
  if (place === "overlap") return `${name} ${value} is only partly within ${stated}.`;
  return `${name} ${value} cannot be placed against ${stated}${how}.`;
}

/** Every reason with its weight; the score is the sum of these weights. */
export function reasonsOf(graded: Graded): Reason[] {
  const { findings, settings } = graded;
  const reason = (field: ComparedField, draft: Draft, bits = 0): Reason => ({
    field,
    ...draft,
    weight: rounded(bits + settings.levels[draft.level as LevelName].weight),
  });
  const model = modelReason(graded);
  const reasons = [
    reason("model", model.draft, model.bits),
    reason("brand", brandReason(graded)),
    reason("product", productReason(graded)),
  ];
  if (findings.exclusion) {
    const { printed, isUnclear } = findings.exclusion;
    const level = isUnclear ? "exclusion.unclear" : "exclusion.excluded";
    const sentence = isUnclear
      ? `The notice excludes ${printed}, which this may be once confused characters are read the other way.`
      : `The notice excludes ${printed}.`;
    reasons.push(reason("exclusion", { level, onAppliance: graded.appliance.facts.model, inNotice: printed, sentence }));
  }
  for (const evidence of findings.windows.evidence) {
    const draft = {
      level: `${evidence.field}.${evidence.place}`,
      onAppliance: evidence.value,
      inNotice: evidence.stated,
      sentence: windowSentence(evidence),
    };
    reasons.push(reason(evidence.field, draft));
  }
  if (findings.hasSameUpc) {
    const { upc } = graded.appliance.facts;
    reasons.push(reason("upc", { level: "upc.same", onAppliance: upc, inNotice: upc, sentence: `Product number ${upc} is listed.` }));
  }
  return reasons;
}

/** The sum of the printed weights. */
export function scoreOf(reasons: readonly Reason[]): number {
  return rounded(reasons.reduce((sum, { weight }) => sum + weight, 0));
}
