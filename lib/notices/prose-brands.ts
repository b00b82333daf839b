import { nameList } from "./brand-cues";
import { nameKey } from "./brand-names";
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
