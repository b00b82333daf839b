import { nameKey } from "./brand-names";

/** A name as brands are written: capitalised words, joined by "&", "and" only inside a known pair. */
const word = "(?:(?<![\\w’'.+&/-])[A-Z][\\w’'.+&/-]{0,40}|(?<![\\w’'.+&/-])[a-z]{1,8}[A-Z][\\w’'+&-]{0,40}|&|\\+|by|of(?=\\s[A-Z]))";
const name = `${word}(?:\\s${word}){0,4}`;
const list = `${name}(?:(?:,\\s(?:and\\s|or\\s)?|\\s(?:and|or)\\s)${name}){0,15}`;
const cues: readonly RegExp[] = [
  // "sold under the brand names A, B and C"
  new RegExp(`\\bbrand(?:s|\\snames?)?\\s?(?:of|:|,|are|is|include|including)?\\s?["“]?(${list})["”]?`, "g"),
  // "under the A and B brands", "the A brand name"
  new RegExp(`\\b(?:under|the|with|and|The|bearing)\\s(?:the\\s)?["“]?(${list})["”]?\\s(?:brand|brands|trademarks?|labels?)\\b`, "g"),
  // "A-branded", "A brand kettles"
  new RegExp(`(${list})[-\\s](?:branded|brand)\\b`, "g"),
  new RegExp(`\\btrademarks\\sinclude\\s(${list})`, "g"),
];
/** `"LARKFIELD" is printed on the front`: what stands on the product, where the title or maker knows that name. */
const printed =
  /["“]([^"“”]{2,40}?)[,.]?["”](?:\s(?:brand\sname|name|logo|and\s["“][^"“”]{1,60}["”]))?,?\s(?:and\s(?:the\s)?(?:model|product|brand)[\w\s,]{0,40})?\s?(?:is|are|appears?|can\sbe)\b/g;
const never =
  /^(?:Only|The|This|All|Both|Brand|Brands|Product|Model|Models|Made|Serial|Description|Name|Location|Item|Color|Colors|Various|Other|Recalled|These|They|In|On|No|A|An|Each|UL|Number|Numbers|Logo|Names?|It|For|CPSC|Size|Style|Consumers|Units?)$/;

/** Brands that the text names as such, as it writes them. */
export function statedBrands(clean: string, sources: readonly string[]): string[] {
  const found: string[] = [];
  for (const cue of cues) for (const match of clean.matchAll(cue)) found.push(...namesOf(match[1] ?? ""));
  const known = sources.map(nameKey).join(" ");
  for (const match of clean.matchAll(printed)) {
    const text = (match[1] ?? "").trim();
    if (nameKey(text).length > 1 && known.includes(nameKey(text)) && !/\d{2}|^(?:model|made)/i.test(text))
      found.push(spelledAs(text, sources));
  }
  return found.map(trimmed).filter((one) => one !== "" && !never.test(one));
}

function namesOf(text: string): string[] {
  return text
    .split(/,\s(?:and\s|or\s)?|\s(?:and|or)\s/)
    .map((part) => part.replace(/[.'’,]+$/, "").replace(/[-\s]?brand(?:ed)?$/i, ""))
    .filter((part) => part !== "");
}

/** `LARKFIELD` printed, `Larkfield` in the title: the title's way of writing. */
function spelledAs(printedName: string, sources: readonly string[]): string {
  const escaped = printedName.replace(/[^\p{L}\p{N}]+/gu, "[^\\p{L}\\p{N}]*");
  if (escaped === "") return printedName;
  const hit = sources
    .map((source) => new RegExp(`(?<![\\p{L}\\p{N}])${escaped}(?![\\p{L}\\p{N}])`, "iu").exec(source)?.[0])
    .find((one) => one !== undefined);
  return hit ?? printedName;
}

function trimmed(name: string): string {
  return name
    .replace(/^(?:the|The|certain|All|all|This|Both|Only|by|of|&|\+)\s+/g, "")
    .replace(/\s+(?:by|of|&|\+)$/g, "")
    .trim();
}
