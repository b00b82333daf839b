import { nameList } from "./brand-cues";
import { firmName, nameKey } from "./brand-names";
import { isProductWord } from "./product-words";

/** "installed in Larkfield, Tavish and Ostrel gas ranges", "for certain Larkfield and Corvane food processors". */
const beforeProduct = new RegExp(
  `\\b(?:installed\\sin|used\\sin|for\\scertain|involves|includes|covers|certain|some)\\s(?:the\\s|certain\\s)?(${nameList})\\s(\\p{Ll}[\\p{L}-]+)`,
  "gu",
);

/** Two or more names that the text sets side by side right before the product's words in small letters. */
export function namesBeforeProduct(clean: string): string[] {
  for (const match of clean.matchAll(beforeProduct)) {
    const names = (match[1] ?? "").split(/\s*,\s+(?:and\s|or\s)?|\s+(?:and|or)\s/).map((name) => nameProper(name.replace(/["“”]/g, "")));
    const areNames = names.every((name) => nameKey(name).length > 1 && !/\d/.test(name));
    if (names.length >= 2 && areNames && isProductWord(match[2] ?? "")) return names;
  }
  return [];
}

/** The words before the first that says what the product is. */
function nameProper(name: string): string {
  const words = name.trim().split(/\s+/);
  const end = words.findIndex(isProductWord);
  return words.slice(0, end < 0 ? undefined : end).join(" ");
}

/** "(CPSC) and Larkfield Company today announced", "Larkfield Corp. is voluntarily recalling": the firm, where only the text names it. */
const acting =
  /(?:\band|,|^|\.)\s{0,2}((?:\p{Lu}[\p{L}&’'-]+\s){1,3}(?:Company|Co\.|Corp\.|Corporation|Inc\.)),?\s(?:today\s)?(?:announced?|is\s(?:voluntarily\s)?(?:recalling|modifying|repairing)|announces)/u;

export function firmInProse(clean: string): string | undefined {
  const firm = acting.exec(clean.slice(0, 2_000))?.[1];
  return firm === undefined || /Commission/.test(firm) ? undefined : firmName(firm);
}
