import type { ApplianceFacts } from "@/lib/identity/appliance-facts";
import { toGtin14 } from "@/lib/identity/gtin";
import { makerKey } from "@/lib/identity/maker";
import { confusableKey, modelKey } from "@/lib/identity/model-number";
import { readPlateIdentity } from "@/lib/identity/plate-identity";
import { type ModelReading, modelReading } from "./model-agreement";
import { blankSign, type KeyScan, longestKey } from "./model-keys";
import { codesInText } from "./plate-codes";
import { type ProductName, productName } from "./product-kind";

/** An appliance prepared for comparing: what is known of it, with the plate's text filling the empty columns. */
export interface ApplianceReading {
  readonly facts: ApplianceFacts;
  /** The model as written, then the other codes the same text may mean. Empty when no model is known. */
  readonly models: readonly ModelReading[];
  /** The models are codes picked out of the plate's text, not named there as the model. */
  readonly areFromText: boolean;
  readonly category: ProductName | null;
  readonly gtin: string | null;
}

/** Empty columns filled from the plate's text; a column always goes before the text. */
function fillFromPlate(facts: ApplianceFacts): ApplianceFacts {
  const { labelText } = facts;
  if (labelText === null || (facts.brand !== null && facts.model !== null && facts.serial !== null && facts.dateCode !== null))
    return facts;
  const plate = readPlateIdentity(labelText);
  return {
    ...facts,
    brand: facts.brand ?? plate.brand,
    model: facts.model ?? plate.model,
    serial: facts.serial ?? plate.serial,
    dateCode: facts.dateCode ?? plate.dateCode,
  };
}

/** Whether the two may be one letter or digit of a key; sure only of letters and digits of ASCII that differ. */
function mayBeOneSign(left: number, right: number): boolean {
  return (left | 0x20) === (right | 0x20) || keySign[left] !== 1 || keySign[right] !== 1;
}

/** 1 for the letters and digits of ASCII. */
const keySign = Uint8Array.from({ length: 128 }, (_, code) => (/[A-Za-z0-9]/.test(String.fromCharCode(code)) ? 1 : 0));

/** Whether a code may begin with the maker's name, by the first two signs of both: no name is read for nearly any appliance. */
function mayBeginWithMaker(model: string, brand: string): boolean {
  if (model.length <= brand.length) return false;
  return mayBeOneSign(model.charCodeAt(0), brand.charCodeAt(0)) && mayBeOneSign(model.charCodeAt(1), brand.charCodeAt(1));
}

/** A code without the maker's name before it: `Acme X-100` of Acme is also `X-100`. */
function withoutMaker(model: string, brand: string | null): string | null {
  if (brand === null || !mayBeginWithMaker(model, brand) || model[0]?.toLowerCase() !== brand[0]?.toLowerCase()) return null;
  const maker = makerKey(brand);
  if (maker.length < 2 || !modelKey(model).startsWith(maker)) return null;
  let seen = 0;
  for (let at = 0; at < model.length; at++) {
    if (seen === maker.length) return /^[\s\-:/]/.test(model.slice(at)) ? model.slice(at) : null;
    if (/[\p{L}\p{N}]/u.test(model[at] ?? "")) seen++;
  }
  return null;
}

const shortestCode = 3;

/** Whether a text holds a sign that may stand between codes; one look at each character, since nearly every model passes here. */
function mayHoldSeveral(model: string): boolean {
  for (let at = 0; at < model.length; at++) {
    const code = model.charCodeAt(at);
    if (code === 0x20 || code === 0x2f || code === 0x2c || code === 0x3b || code === 0x28 || code === 0x29) return true;
  }
  return false;
}

const severalCodes = /[/,;()]| or /i;

/** What a model text may mean beside itself: the parts around a slash, comma or bracket, and the code without the maker's name. */
function otherModels(model: string, brand: string | null): string[] {
  const parts =
    mayHoldSeveral(model) && severalCodes.test(model)
      ? model.split(/[/,;()]|\bor\b/i).filter((part) => /\d/.test(part) && modelKey(part).length >= shortestCode)
      : [];
  const bare = withoutMaker(model, brand);
  return bare === null ? parts : [...parts, bare];
}

/** Everything in the facts that may be the appliance's model, the model as written first. `facts` as `fillFromPlate` gives them. */
function modelTexts(facts: ApplianceFacts): string[] {
  const { model, labelText } = facts;
  if (model === null) return labelText === null ? [] : codesInText(labelText, [facts.serial, facts.dateCode]);
  // `VH-12??`: what is only partly read is not known.
  if (model.includes("?")) return [];
  const others = otherModels(model, facts.brand);
  return others.length === 0 ? [model] : [model, ...others];
}

/**
 * Whether the model as written is all that an appliance is looked up by, as a scan of it tells: one plain code in its column, maker
 * known or nowhere to be read. Most appliances are, and need nothing prepared to be looked up. `scan` then holds the model.
 */
export function isPlainLookUp({ brand, model, labelText }: ApplianceFacts, scan: KeyScan): boolean {
  if (model === null || (brand === null && labelText !== null) || model.length > longestKey || !scan.read(model)) return false;
  if (scan.signs !== 0 && (scan.signs !== blankSign || severalCodes.test(model))) return false;
  return brand === null || !mayBeginWithMaker(model, brand) || withoutMaker(model, brand) === null;
}

/** What an appliance is looked up by. */
export interface LookUp {
  /** The facts, filled from the plate's text where the columns lack the maker or the model. */
  readonly facts: ApplianceFacts;
  readonly models: readonly string[];
  /** Whether the plate's text has been read into the facts. */
  readonly isFilled: boolean;
}

/** The look-up of an appliance that `isPlainLookUp`. */
export function plainLookUp(facts: ApplianceFacts): LookUp {
  return { facts, models: facts.model === null ? [] : [facts.model], isFilled: false };
}

/** What to look an appliance up by; the plate's text is read only where that needs it. */
export function lookUpOf(given: ApplianceFacts): LookUp {
  const isFilled = given.brand === null || given.model === null;
  const facts = isFilled ? fillFromPlate(given) : given;
  return { facts, models: modelTexts(facts), isFilled };
}

/**
 * The folded model where it alone is what an appliance is looked up by among listed models; `null` where the facts must be read: no
 * model in its column, several codes in it, or the maker's name before it. Kept with the appliance, so that a notice can ask for it.
 */
export function foldedModelOf(facts: ApplianceFacts): string | null {
  if (facts.model === null) return null;
  const { models } = lookUpOf(facts);
  const [model] = models;
  if (model === undefined || models.length > 1) return null;
  const key = confusableKey(modelKey(model));
  return key === "" ? null : key;
}

/** Prepares what was looked up for comparing. */
export function readingOf({ facts: known, models, isFilled }: LookUp): ApplianceReading {
  const facts = isFilled ? known : fillFromPlate(known);
  const readings: ModelReading[] = [];
  for (const model of models) {
    const reading = modelReading(model);
    if (reading.key !== "") readings.push(reading);
  }
  return {
    facts,
    models: readings,
    areFromText: facts.model === null && facts.labelText !== null,
    category: facts.category === null ? null : productName(facts.category),
    gtin: facts.upc === null ? null : toGtin14(facts.upc),
  };
}

/** Prepares an appliance's facts for comparing. */
export function readAppliance(given: ApplianceFacts): ApplianceReading {
  return readingOf(lookUpOf(given));
}
