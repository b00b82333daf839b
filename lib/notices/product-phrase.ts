import { nameKey } from "./brand-names";
import { isProductWord } from "./product-words";

/** "This recall involves (certain, all) NAME products": where the product's words begin. */
const opening =
  /\b(?:recall(?:\sexpansion)?\s(?:also\s)?(?:only\s)?(?:involves|includes|covers|is\sfor|affects)|[Tt]he\srecalled|involved\sin\sthis\srecall\sare)\s(?:(?:the|all|certain|only|two|three|four|five|six|various|some|models?|units|of|about|both|white,|model\syears?(?:\s[\d,-]+|\sand)+|\d[\d,]*|\S*\d\S*\d\S*)\s){0,6}["“]?((?:[\p{Lu}&+][\p{L}\p{N}’'.&+-]*,?\s?(?:and\s)?){1,8})/gu;

/** The phrases of a description that begin with the product's name, capitals only. */
export function openingPhrases(clean: string): string[] {
  return [...clean.matchAll(opening)]
    .map((match) =>
      (match[1] ?? "")
        .replace(/\s+and\s*$/, "")
        .replace(/[’']s(?=\s|$)(?!\s\p{Lu}\p{Ll}+\s\p{Lu})/u, "")
        .trim(),
    )
    .filter((start) => start !== "");
}

/** Words that a text writes with a small letter: they are no names there. */
export function smallWords(text: string): ReadonlySet<string> {
  return new Set(text.match(/(?<![\p{L}\p{N}’'-])\p{Ll}[\p{L}-]+/gu) ?? []);
}

/**
 * The names that a product phrase begins with: its words up to the first that says what the product is.
 * `Larkfield and Corvane Steam Kettles` -> Larkfield, Corvane.
 */
export function leadingNames(phrase: string, small: ReadonlySet<string>): string[] {
  const names: string[][] = [[]];
  const words = phrase
    .replace(/^(?:(?:models?\s+)?[A-Z-]*\d[A-Z\d-]*\s+)+(?=\p{Lu})/u, "")
    .replace(/[®™©]/g, " ")
    .replace(/TM\b/g, " ")
    .replace(/([^\s])-branded\b/gi, "$1")
    .split(/\s+/);
  for (const [at, word] of words.entries()) {
    const current = names[names.length - 1] as string[];
    if (/^(?:and|or|\+)$/.test(word) && current.length > 0) names.push([]);
    else if (current.length > 0 && /^[A-Z]{2,4}-[A-Z\d]{1,3}$/.test(word)) break;
    else if (
      current.length > 0 &&
      /^Sports$/.test(word) &&
      !/^(?:bottle|bra|water|drink|car|utility|vehicle|net|ball|watch|camera)/i.test(words[at + 1] ?? "")
    )
      current.push(word);
    else if (isName(word, current, small) || (/^\p{Lu}\p{L}+$/u.test(word) && words[at + 1] === "&")) {
      current.push(word.replace(/,$/, ""));
      if (word.endsWith(",")) names.push([]);
    } else break;
  }
  return names.map((name) => name.join(" ").replace(/[\s&+.,]+$/, "")).filter((name) => nameKey(name).length > 1);
}

function isName(word: string, before: readonly string[], small: ReadonlySet<string>): boolean {
  const bare = word.replace(/[,.]$/, "");
  if (/^[&+]$/.test(bare)) return before.length > 0;
  if (/^["“”(]/.test(bare) || !/^[\p{L}]/u.test(bare) || /\d{2}/.test(bare)) return false;
  if (before.length === 0 && /^\p{Ll}/u.test(bare) && !isProductWord(bare)) return true;
  if (/^(?:Mr|Dr|St|Mrs|General|American|Royal)\.?$/.test(before[before.length - 1] ?? "")) return true;
  if (/[’']s$/.test(before[before.length - 1] ?? "") && /^(?:Essentials?|Basics|Choice|Own|Best|Mark|Pride)$/.test(bare)) return true;
  if (before[before.length - 1] === "&" || before[before.length - 1] === "+") return true;
  const lower = bare.toLowerCase();
  if (before.length > 0 && /^(?:pro|plus|max|mini|magic|super|mega)$/.test(lower)) return false;
  return (
    !isProductWord(bare) &&
    !small.has(lower) &&
    !small.has(lower.replace(/s$/, "")) &&
    !small.has(`${lower}s`) &&
    !/^(?:brand|model|series|collection|branded|certain|model|replaces?|issues?|announces?|voluntarily|will|warns?|reach|recommends?|some|announces?|announced|voluntarily|hazard)$/i.test(
      bare,
    )
  );
}
