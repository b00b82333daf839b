import { fitPattern } from "@/lib/identity/code-pattern";
import { confusableKey, evidenceBits, modelKey } from "@/lib/identity/model-number";
import { oneEditBetween } from "@/lib/identity/one-edit";
import { tellingRest } from "./model-keys";
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
  "model.swapped_ending",
  "model.substituted",
  "model.suffix_missing",
  "model.different",
] as const;

export type ModelLevel = (typeof levelsBestFirst)[number];

/** Levels that say another model, however near. */
export const rejectingLevels: ReadonlySet<string> = new Set([
  "model.substituted",
  "model.added",
  "model.swapped_ending",
  "model.suffix_missing",
  "model.different",
]);
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

/** Whether what the reading goes on with after the listed model may be a suffix: set apart from it, or a letter or two behind a long number. */
function isSuffixBehind(reading: ModelReading, pattern: ModelPattern, settings: MatchingSettings): boolean {
  const { length } = pattern.key;
  const extra = reading.key.length - length;
  if (extra <= 0 || extra > settings.longestSuffix) return false;
  const isLetters = extra <= settings.longestGluedSuffix && /^[A-Z]+$/.test(reading.key.slice(length));
  return isSetApart(reading, length) || (isLetters && evidenceBits(reading.key.slice(0, length)) >= settings.slipModelBits);
}

/** Whether the reading is this model with a suffix. */
export function mayBeSuffix(reading: ModelReading, pattern: ModelPattern, settings: MatchingSettings): boolean {
  return reading.folded.startsWith(pattern.folded) && isSuffixBehind(reading, pattern, settings);
}

function suffixLevel(reading: ModelReading, pattern: ModelPattern, settings: MatchingSettings): ModelLevel | null {
  const extra = reading.key.length - pattern.key.length;
  if (extra > 0 && reading.folded.startsWith(pattern.folded))
    return isSuffixBehind(reading, pattern, settings) ? "model.suffix_added" : null;
  return extra < -1 && pattern.folded.startsWith(reading.folded) ? "model.suffix_missing" : null;
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
  const mayGoOn = !pattern.key.includes("*") && isSuffixBehind(reading, pattern, settings);
  const goesOn = mayGoOn && fitPattern(pattern.key, reading.key.slice(0, pattern.key.length)) !== "none";
  return goesOn ? "model.suffix_added" : beginningSlip(reading, pattern);
}

/** A slip within the literal beginning of a pattern, as when `BA-1207` is read for `AB-12##`. */
function beginningSlip({ key, folded }: ModelReading, pattern: ModelPattern): ModelLevel {
  const beginning = pattern.foldedBeginning;
  let at = 0;
  while (at < beginning.length && folded[at] === beginning[at]) at++;
  const head = key.slice(0, at);
  if (at > 0 && folded[at] === beginning[at - 1] && fits(pattern, head + key.slice(at + 1))) return "model.doubled";
  if (at === beginning.length) return "model.different";
  const isSwapped = key[at + 1] === pattern.beginning[at] && key[at] === pattern.beginning[at + 1];
  if (isSwapped && fits(pattern, `${head}${key[at + 1]}${key[at]}${key.slice(at + 2)}`)) return "model.swapped";
  const isTold = !pattern.key.endsWith("*") || at + tellingRest <= beginning.length;
  return isTold && fits(pattern, `${head}${pattern.beginning[at]}${key.slice(at)}`) ? "model.dropped" : "model.different";
}

function fits(pattern: ModelPattern, meant: string): boolean {
  return fitPattern(pattern.key, meant) !== "none";
}

/** The level of one reading beside one listed model. */
function compareModel(reading: ModelReading, pattern: ModelPattern, settings: MatchingSettings): ModelLevel {
  if (pattern.isOpen) return compareOpen(reading, pattern, settings);
  if (reading.key === pattern.key) return "model.exact";
  if (reading.folded === pattern.folded) return "model.confusable";
  const suffix = suffixLevel(reading, pattern, settings);
  if (suffix) return suffix;
  return slipLevel(reading, pattern);
}

/** One slip as printed: a confused character beside a dropped, doubled or swapped one makes two. */
function slipLevel(reading: ModelReading, pattern: ModelPattern): ModelLevel {
  const slip = oneEditBetween(reading.folded, pattern.folded);
  if (slip === "more" || slip === "none") return "model.different";
  if (slip === "substituted" || slip === "added") return slipLevels[slip];
  if (oneEditBetween(reading.key, pattern.key) !== slip) return "model.different";
  return slip === "swapped" && isEndingSwapped(reading.key, pattern.key) ? "model.swapped_ending" : slipLevels[slip];
}

/** Two digits swapped at the end of a number: the other order is a number of its own, as makers count them on. */
function isEndingSwapped(read: string, meant: string): boolean {
  return read.at(-1) !== meant.at(-1) && /\d\d$/.test(read);
}

const ranks = Object.fromEntries(levelsBestFirst.map((level, rank) => [level, rank])) as Readonly<Record<ModelLevel, number>>;

/**
 * Whether the notice lists variants of this base with suffixes of their own and so means only those: several, or one that is a
 * number where the reading's suffix is a number as long.
 */
function spellsSuffixesOut(
  { reading, base }: { readonly reading: ModelReading; readonly base: ModelPattern },
  listed: readonly ModelPattern[],
  settings: MatchingSettings,
): boolean {
  if (!base.mayHaveVariants) return false;
  const { length } = base.key;
  const variants = listed.filter((other) => other !== base && other.beginning.length > length && other.key.startsWith(base.key));
  if (variants.length >= settings.spelledOutSuffixes) return true;
  const isNumber = (key: string): boolean => /^\d+$/.test(key.slice(length));
  return isNumber(reading.key) && variants.some(({ key }) => key.length === reading.key.length && isNumber(key));
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
      if (level === "model.suffix_added" && spellsSuffixesOut({ reading, base: pattern }, listed, settings)) level = "model.different";
      const better = best === null || ranks[level] < ranks[best.level] || (level === best.level && isPreferred(pattern, best.pattern));
      if (better) best = { level, pattern, read: reading.printed };
    }
  }
  return best;
}

function isPreferred(left: ModelPattern, right: ModelPattern): boolean {
  return left.key.length !== right.key.length ? left.key.length > right.key.length : left.key < right.key;
}
