import { confusableKey } from "./model-number";
import { isWithinOneEdit, oneEditBetween } from "./one-edit";

/** Words that say what kind of firm it is, not which; dropped from the end of a name. */
const legalForms = new Set(
  "AB AG AS BV CIE CO COMPANY CORP CORPORATION GMBH INC INCORPORATED KG LIMITED LLC LLP LP LTD MFG NV OY PLC PTE PTY SA SARL SAS SL SPA SRL".split(
    " ",
  ),
);
/** Words that many makers share, so that they distinguish none. */
export const sharedMakerWords: ReadonlySet<string> = new Set(
  "AIR AMERICA AMERICAN APPLIANCE APPLIANCES AUDIO BRAND BRANDS COMFORT DESIGN DIRECT ELECTRIC ELECTRICAL ELECTRONICS ENTERPRISES GLOBAL GROUP HOLDINGS HOME HOMES HOUSEWARES INDUSTRIAL INDUSTRIES INTERNATIONAL KITCHEN LIGHTING LIGHTS MANUFACTURING NORTH PRODUCTS SYSTEMS TECHNOLOGIES TECHNOLOGY THE TOOLS TRADING USA WORLD".split(
    " ",
  ),
);

/** Names of one maker that belong together, such as a house brand and its short form; an administrator's data. */
export type MakerAliases = readonly (readonly string[])[];

/** How two maker names agree. `part`: one name is the other with more words. `near`: one slip of the pen or eye apart. */
export type MakerAgreement = "same" | "alias" | "part" | "near" | "other";

/** The words of a maker's name: upper case, accents folded, registration marks, punctuation and legal forms dropped. */
export function makerWords(name: string): string[] {
  const bare = name
    .replace(/\((?:r|tm|c|sm)\)|[®™©℠]/giu, " ")
    .normalize("NFKD")
    .replace(/\p{M}+/gu, "")
    .toUpperCase()
    .replace(/['’.]/g, "")
    .replace(/&/g, " AND ");
  const words = bare.split(/[^\p{L}\p{N}]+/u).filter((word) => word !== "");
  while (words.length > 1 && legalForms.has(words.at(-1) ?? "")) words.pop();
  return words;
}

/** One string for every way of writing a maker's name: `Acme, Inc.`, `ACME (R)` and `Ac-me` are all `ACME`. */
export function makerKey(name: string): string {
  return makerWords(name).join("");
}

/** Whether every word of `fewer` stands at the start of, or is distinctive and among, the words of `more`. */
function isPartOf(fewer: readonly string[], more: readonly string[]): boolean {
  if (fewer.length === 0 || fewer.length >= more.length) return false;
  const distinctive = fewer.some((word) => !sharedMakerWords.has(word) && word.length > 1);
  if (!distinctive) return false;
  if (fewer.every((word, at) => word === more[at])) return true;
  return fewer.join("").length >= 4 && fewer.every((word) => more.includes(word));
}

/** The words run together, without those that many makers share, unless nothing else is left. */
export function distinctiveMakerKey(words: readonly string[]): string {
  const own = words.filter((word) => !sharedMakerWords.has(word));
  return (own.length > 0 ? own : words).join("");
}

/** Short names are one letter from each other by nature; below this length none may differ. */
const shortestNearName = 5;
/** What is left of a name that lost a letter. */
const shortestCutName = 3;

/** A key pressed twice or not at all, which seldom makes another maker's name even of a short one. */
function isMistyped(read: string, meant: string): boolean {
  const slip = oneEditBetween(read, meant);
  return slip === "doubled" || (slip === "dropped" && read.length >= shortestCutName);
}

function isNear(left: string, right: string): boolean {
  if (left.length === right.length && confusableKey(left) === confusableKey(right)) return true;
  if (isMistyped(left, right) || isMistyped(right, left)) return true;
  if (Math.max(left.length, right.length) < shortestNearName || Math.min(left.length, right.length) < shortestNearName - 1) return false;
  return isWithinOneEdit(left, right);
}

function areAliases(left: string, right: string, aliases: MakerAliases): boolean {
  return aliases.some((group) => {
    const keys = group.map(makerKey);
    return keys.includes(left) && keys.includes(right);
  });
}

/** Compares two maker names. Symmetric. */
export function compareMakers(left: string, right: string, aliases: MakerAliases = []): MakerAgreement {
  const leftWords = makerWords(left);
  const rightWords = makerWords(right);
  const leftKey = leftWords.join("");
  const rightKey = rightWords.join("");
  if (leftKey === rightKey) return "same";
  if (areAliases(leftKey, rightKey, aliases)) return "alias";
  if (isPartOf(leftWords, rightWords) || isPartOf(rightWords, leftWords)) return "part";
  if (distinctiveMakerKey(leftWords) === distinctiveMakerKey(rightWords)) return "part";
  return isNear(leftKey, rightKey) ? "near" : "other";
}
