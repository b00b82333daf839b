import { firmName, nameKey, shortFirmName } from "./brand-names";

/** "This recall involves (certain, all) NAME products": the capitalised words at the start of the product's phrase. */
const opening =
  /\b(?:recall(?:\sexpansion)?\s(?:also\s)?(?:only\s)?(?:involves|includes|covers|is\sfor|affects)|The\srecalled|involved\sin\sthis\srecall\sare)\s(?:(?:the|all|certain|only|two|three|four|five|six|various|some|models?|units|of|about|both|\d[\d,]*)\s)*((?:[A-Z&][\w’'.&+-]*\s?){1,6})/g;

/** The name that the product's words begin with, where one of the firms or the title's words know it. */
export function leadingName(clean: string, phrases: readonly string[], firms: readonly string[]): string[] {
  const starts = [...clean.matchAll(opening)].map((match) => (match[1] ?? "").trim()).filter((start) => start !== "");
  const candidates = [...starts, ...phrases.map((phrase) => phrase.trim())];
  for (const firm of firms) {
    const short = longestShared(shortFirmName(firm), candidates);
    if (short !== null) return [short];
  }
  for (const start of starts) {
    const shared = longestOf(phrases.map((phrase) => sharedWords(start, phrase)));
    if (shared.length > 0)
      return [
        shared
          .slice(0, brandLength(shared))
          .join(" ")
          .replace(/[’']s$/, ""),
      ];
  }
  return [];
}

/** The beginning of a firm's name that a product phrase begins with as well. */
function longestShared(firm: string, phrases: readonly string[]): string | null {
  const shared = longestOf(phrases.map((phrase) => sharedWords(firm, phrase)));
  if (shared.length === 0 || nameKey(shared.join("")).length < 2) return null;
  return shared.join(" ").replace(/[’']s$/, "");
}

function sharedWords(one: string, other: string): string[] {
  const ones = firmName(one).split(/\s+/);
  const others = other.split(/\s+/);
  const shared: string[] = [];
  for (let at = 0; at < ones.length; at++) {
    const word = ones[at] ?? "";
    const key = nameKey(word.replace(/[’']s$/, "").replace(/-branded$/, ""));
    if (key === "" && word !== "&") break;
    if (key !== nameKey((others[at] ?? "").replace(/[’']s$/, ""))) break;
    shared.push(word);
  }
  return shared;
}

function longestOf(lists: readonly string[][]): string[] {
  return lists.reduce((best, list) => (list.length > best.length ? list : best), []);
}

/** Brands of several words are joined by "&" or made of initials and a name; else the first word is the brand. */
function brandLength(words: readonly string[]): number {
  if (words[1] === "&" || words[1] === "and") return Math.min(3, words.length);
  return /^(?:The|Le|La|Mr\.?|Dr\.?|St\.?|Black|Big|Little|New|Magic|Hampton|Home|American|Martha|World)$/.test(words[0] ?? "")
    ? Math.min(2, words.length)
    : 1;
}
