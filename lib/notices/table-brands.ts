import { isProductWord } from "./product-words";

const heading = /\bBrands?(?:\sNames?)?\s{1,3}Model\b/;
/** Up to four capitalised words right before a code. */
const beforeCode = /((?:\p{Lu}(?:[\p{L}&’'-]+|\p{Ll}{3,20}\d{1,2})\s{1,3}){1,4})(?=(?=[A-Z\d-]*\d)[A-Z\d][A-Z\d-]{3,}\b)/gu;
const noBrand =
  /^(?:Model|Models|Number|Numbers|No|Serial|Begins?|With|Side|Bottom|Top|Back|Front|Location|Description|Date|Code|Series|Brand|Name|From|To|And|Or|Up|Plain)$/i;

/**
 * The brands of a flattened table that has a column for them: the last capitalised words before a code that say neither
 * what the product is nor where the label sits. `Brand Model No. Tavish QD100 Side Disposer Ostrel QD200` -> Tavish, Ostrel.
 */
export function tableBrands(clean: string): string[] {
  const text = clean.replace(/\s+/g, " ");
  const start = heading.exec(text)?.index;
  if (start === undefined) return [];
  const found: string[] = [];
  for (const match of text.slice(start, start + 20_000).matchAll(beforeCode)) {
    const words = (match[1] ?? "").trim().split(/\s+/);
    if (followsCode(text, start + match.index) && !words.some((word) => noBrand.test(word)) && !isProductWord(words.at(-1) ?? "")) {
      found.push(words.join(" "));
      continue;
    }
    let from = words.length;
    while (from > 0 && isOwn(words[from - 1] ?? "")) from -= 1;
    const own = words.slice(from);
    if (own.length > 0) found.push(...(found.length === 0 && own.length > 2 ? own : [own.join(" ")]));
  }
  return [...new Set(found)];
}

/** Right after a code of the row before, all the words are the name. */
function followsCode(text: string, at: number): boolean {
  return /(?<![\w/])(?=[A-Z\d-]*\d)(?=[A-Z\d-]*[A-Z])[A-Z\d-]{2,}\s$/.test(text.slice(Math.max(0, at - 40), at));
}

/** Not capitals alone: those are codes and their parts. */
function isOwn(word: string): boolean {
  return !isProductWord(word) && !noBrand.test(word) && /\p{Ll}/u.test(word);
}
