import { confusableKey, evidenceBits } from "@/lib/identity/model-number";
import { oneEditBetween } from "@/lib/identity/one-edit";
import type { PairRecord } from "./pair-record";
import { overlapBand, signBand, titleBands, type WordWeights } from "./pair-title";

function folded(key: string): string {
  return confusableKey(key).replace(/^0+/, "");
}

const isLong = (key: string): boolean => evidenceBits(key) >= 8.8;

function contains(left: string, right: string): boolean {
  const [short, long] = left.length <= right.length ? [left, right] : [right, left];
  return isLong(short) && short.length * 2 >= long.length && (long.startsWith(short) || long.endsWith(short));
}

function isNear(left: string, right: string): boolean {
  let head = 0;
  while (head < left.length && left[head] === right[head]) head++;
  return head >= Math.max(left.length, right.length) * 0.6 || oneEditBetween(left, right) !== "more";
}

/** How a number is built: runs of letters and of digits. A maker's and a dealer's numbers of one product differ in this. */
function buildOf(key: string): string {
  return key.replace(/[A-Z]+/g, "A").replace(/[0-9]+/g, "0");
}

/** Two numbers that have nothing in common; less is said against by two that are built differently. */
function otherNumber(left: string, right: string): string {
  if (isNear(left, right)) return "near";
  return buildOf(left) === buildOf(right) ? "far" : "far, built otherwise";
}

/** One side's model beside the other side's title. */
function inTitle(model: string, other: PairRecord): "whole" | "part" | null {
  if (model === "" || !isLong(model)) return null;
  if (other.runs.has(model)) return "whole";
  const isPart = other.codes.some((code) => code !== model && contains(code, model));
  return isPart ? "part" : null;
}

/** A code that more records than this have names what the product goes with, such as a telephone, not the product. */
const rarestShared = 6;

/** The named level of the models and codes of two records. */
function modelLevel(left: PairRecord, right: PairRecord, weights: WordWeights): string {
  const a = left.model;
  const b = right.model;
  if (a !== "" && a === b) return "equal";
  if (a !== "" && b !== "" && folded(a) === folded(b)) return "confusable";
  if (left.name !== "" && left.name === right.name) return "equal name";
  const found = [inTitle(a, right), inTitle(b, left)];
  const hasBoth = a !== "" && b !== "";
  if (hasBoth && contains(a, b)) return found.includes("whole") ? "contained, in title" : "contained";
  if (found.includes("whole")) return hasBoth ? "in title, other model" : "in title";
  const shared = left.codes.filter((code) => right.codes.includes(code) && (weights.get(code) ?? 9) >= rarestShared);
  if (shared.some((code) => evidenceBits(code) >= 11)) return hasBoth ? "shared code, other model" : "shared code";
  if (found.includes("part")) return hasBoth ? "part of a code, other model" : "part of a code";
  if (hasBoth) return otherNumber(a, b);
  if (a === "" && b === "") return left.codes.length > 0 && right.codes.length > 0 ? "no models, other codes" : "none";
  const silent = a === "" ? left : right;
  return silent.codes.some((code) => code !== silent.stockCode && evidenceBits(code) >= 11) ? "one-sided, other code" : "one-sided";
}

const groups: Readonly<Record<string, string>> = {
  equal: "sure",
  confusable: "sure",
  "equal name": "sure",
  "in title": "sure",
  "contained, in title": "sure",
  contained: "variant",
  "in title, other model": "variant",
  "shared code": "variant",
  "shared code, other model": "variant",
  "part of a code": "variant",
  "part of a code, other model": "variant",
  near: "conflict",
  far: "conflict",
  "far, built otherwise": "conflict",
  "one-sided, other code": "conflict",
  "no models, other codes": "open",
  none: "open",
  "one-sided": "open",
};

function brandLevel(left: PairRecord, right: PairRecord): string {
  const { brand: a } = left;
  const { brand: b } = right;
  if (a === "" && b === "") return "both missing";
  if (a !== "" && a === b) return "equal";
  const isIn = (brand: string, other: PairRecord): boolean => brand.length > 1 && other.runs.has(brand);
  if (a !== "" && b !== "" && (a.startsWith(b) || b.startsWith(a) || a.includes(b) || b.includes(a))) return "part";
  if (isIn(a, right) || isIn(b, left)) return "in title";
  if (a === "" || b === "") return "one missing";
  return oneEditBetween(a, b) !== "more" ? "near" : "conflict";
}

function colourLevel(left: PairRecord, right: PairRecord): string {
  if (left.colours.size === 0 && right.colours.size === 0) return "none";
  if (left.colours.size === 0 || right.colours.size === 0) return "one-sided";
  return [...left.colours].some((colour) => right.colours.has(colour)) ? "same" : "conflict";
}

function measureLevel(left: PairRecord, right: PairRecord): string {
  let agree = 0;
  let conflict = 0;
  for (const [unit, values] of left.measures) {
    const others = right.measures.get(unit);
    if (!others) continue;
    if ([...values].some((value) => others.has(value))) agree++;
    else conflict++;
  }
  return conflict > 0 ? (agree > 0 ? "mixed" : "conflict") : agree > 0 ? "agree" : "none";
}

function priceLevel({ price: a }: PairRecord, { price: b }: PairRecord): string {
  if (a === null || b === null || a <= 0 || b <= 0) return "missing";
  const ratio = Math.max(a, b) / Math.min(a, b);
  return ratio < 1.03 ? "equal" : ratio < 1.15 ? "close" : ratio < 1.6 ? "similar" : ratio < 2.6 ? "apart" : "far apart";
}

function relationLevel(left: PairRecord, right: PairRecord): string {
  const only =
    [...left.relations].filter((word) => !right.relations.has(word)).length +
    [...right.relations].filter((word) => !left.relations.has(word)).length;
  return only > 0 ? "one-sided" : left.relations.size > 0 ? "same" : "none";
}

function numberLevel(left: PairRecord, right: PairRecord): string {
  if (left.numbers.size === 0 || right.numbers.size === 0) return "none";
  const shared = [...left.numbers].filter((number) => right.numbers.has(number)).length;
  return shared === 0 ? "conflict" : shared * 2 >= Math.min(left.numbers.size, right.numbers.size) * 2 ? "same" : "some";
}

function categoryLevel(left: PairRecord, right: PairRecord): string {
  if (left.category.length === 0 || right.category.length === 0) return "missing";
  return left.category.some((word) => right.category.includes(word)) ? "shared" : "other";
}

/** The named levels of a pair, one a comparison; the score is the sum of their weights. */
export function pairLevels(left: PairRecord, right: PairRecord, weights: WordWeights): string[] {
  const model = modelLevel(left, right, weights);
  const group = groups[model] ?? "open";
  const agreeing = group === "conflict" || group === "open" ? "unsettled" : "agreeing";
  const { least, most, unshared, shared } = titleBands(left, right, weights);
  return [
    `model: ${model}`,
    `title of a ${group} model: ${overlapBand(left, right, weights)}`,
    `least shared: ${least}`,
    `most shared with ${agreeing} models: ${most}`,
    `rarest unshared with ${agreeing} models: ${unshared}`,
    `rarest shared with ${agreeing} models: ${shared}`,
    `signs shared with ${agreeing} models: ${signBand(left, right)}`,
    `brand: ${brandLevel(left, right)}`,
    `category: ${categoryLevel(left, right)}`,
    `colour of a ${group} model: ${colourLevel(left, right)}`,
    `measures with ${agreeing} models: ${measureLevel(left, right)}`,
    `numbers: ${numberLevel(left, right)}`,
    `price: ${priceLevel(left, right)}`,
    `relation: ${relationLevel(left, right)}`,
  ];
}
