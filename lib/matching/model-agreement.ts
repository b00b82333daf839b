import { fitPattern } from "@/lib/identity/code-pattern";
import { confusableKey, modelKey } from "@/lib/identity/model-number";
import { oneEditBetween } from "@/lib/identity/one-edit";
import type { ModelPattern } from "./model-pattern";
import type { MatchingSettings } from "./settings";

/** Levels of a model number beside one listed model, best first. */
const levelsBestFirst = [
  "model.exact",
  "model.pattern",
  "model.confusable",
  "model.pattern_confusable",
  "model.in_text",
  "model.suffix_added",
  "model.doubled",
  "model.swapped",
  "model.dropped",
  "model.added",
  "model.substituted",
  "model.suffix_missing",
  "model.different",
] as const;

export type ModelLevel = (typeof levelsBestFirst)[number];

/** The best agreement of an appliance's model with a notice's list. */
export interface ModelAgreement {
  readonly level: ModelLevel;
  /** The listed model it rests on. */
  readonly pattern: ModelPattern;
  /** The model as it was read, printed form. */
  readonly read: string;
}

/** A model number as read off an appliance, prepared for comparing. */
export interface ModelReading {
  readonly printed: string;
  readonly key: string;
  readonly folded: string;
}

export function modelReading(printed: string): ModelReading {
  const key = modelKey(printed);
  return { printed, key, folded: confusableKey(key) };
}

/** Whether the text sets what follows the first `length` key characters apart: by a separator, or by going from digit to letter or letter to digit. */
function isSetApart(reading: ModelReading, length: number): boolean {
  const last = reading.key[length - 1] ?? "";
  const next = reading.key[length] ?? "";
  if (/\d/.test(last) !== /\d/.test(next)) return true;
  let seen = 0;
  for (const character of reading.printed) {
    if (/[\p{L}\p{N}]/u.test(character)) seen++;
    else if (seen === length) return true;
    if (seen > length) return false;
  }
  return false;
}

function suffixLevel(reading: ModelReading, pattern: ModelPattern, settings: MatchingSettings): ModelLevel | null {
  const extra = reading.key.length - pattern.key.length;
  if (extra > 0 && reading.folded.startsWith(pattern.folded)) {
    return extra <= settings.longestSuffix && isSetApart(reading, pattern.key.length) ? "model.suffix_added" : null;
  }
  return extra < 0 && pattern.folded.startsWith(reading.folded) ? "model.suffix_missing" : null;
}

const slipLevels = {
  substituted: "model.substituted",
  swapped: "model.swapped",
  dropped: "model.dropped",
  doubled: "model.doubled",
  added: "model.added",
} as const;

/** A model beside a pattern with wildcards. One of fixed length, such as `AB-12##`, may also go on with a suffix. */
function compareOpen(reading: ModelReading, pattern: ModelPattern, settings: MatchingSettings): ModelLevel {
  const fit = fitPattern(pattern.key, reading.key);
  if (fit !== "none") return fit === "exact" ? "model.pattern" : "model.pattern_confusable";
  const extra = reading.key.length - pattern.key.length;
  const mayGoOn = !pattern.key.includes("*") && extra > 0 && extra <= settings.longestSuffix;
  const goesOn = mayGoOn && fitPattern(pattern.key, reading.key.slice(0, pattern.key.length)) !== "none";
  return goesOn && isSetApart(reading, pattern.key.length) ? "model.suffix_added" : "model.different";
}

/** The level of one reading beside one listed model. */
function compareModel(reading: ModelReading, pattern: ModelPattern, settings: MatchingSettings): ModelLevel {
  if (pattern.isOpen) return compareOpen(reading, pattern, settings);
  if (reading.key === pattern.key) return "model.exact";
  if (reading.folded === pattern.folded) return "model.confusable";
  const suffix = suffixLevel(reading, pattern, settings);
  if (suffix) return suffix;
  const slip = oneEditBetween(reading.folded, pattern.folded);
  return slip === "more" || slip === "none" ? "model.different" : slipLevels[slip];
}

const ranks = Object.fromEntries(levelsBestFirst.map((level, rank) => [level, rank])) as Readonly<Record<ModelLevel, number>>;

/** Whether the notice lists variants of this base with suffixes of their own, and so means only those. */
function spellsSuffixesOut(base: ModelPattern, patterns: readonly ModelPattern[], settings: MatchingSettings): boolean {
  const variants = patterns.filter((other) => other !== base && other.beginning.length > base.key.length && other.key.startsWith(base.key));
  return variants.length >= settings.spelledOutSuffixes;
}

export interface ModelsToCompare {
  readonly readings: readonly ModelReading[];
  /** The listed models to compare with. */
  readonly patterns: readonly ModelPattern[];
  /** All models that the notice lists. */
  readonly listed: readonly ModelPattern[];
}

/** The best level over all readings and listed models; ties go to the listed model that sorts first, so order says nothing. */
export function bestModelAgreement({ readings, patterns, listed }: ModelsToCompare, settings: MatchingSettings): ModelAgreement | null {
  let best: ModelAgreement | null = null;
  for (const reading of readings) {
    for (const pattern of patterns) {
      let level = compareModel(reading, pattern, settings);
      if (level === "model.suffix_added" && spellsSuffixesOut(pattern, listed, settings)) level = "model.different";
      const better = best === null || ranks[level] < ranks[best.level] || (level === best.level && isPreferred(pattern, best.pattern));
      if (better) best = { level, pattern, read: reading.printed };
    }
  }
  return best;
}

function isPreferred(left: ModelPattern, right: ModelPattern): boolean {
  return left.key.length !== right.key.length ? left.key.length > right.key.length : left.key < right.key;
}
