import { nameKey } from "./brand-names";
import { isProductWord } from "./product-words";

/** A name as brands are written: capitalised words, "&" and "by" between them. A full stop only inside a word, after a title or after initials. */
const capital =
  "(?<![\\p{L}\\p{N}’'.&+/-])(?:(?:Mr|Dr|Mrs|St)\\.|(?:\\p{Lu}\\.\\s?){2,3}(?=\\s?\\p{Lu}\\p{L})|\\p{Lu}(?:[\\p{L}\\p{N}’'&+/-]|\\.(?=\\p{L})){0,40}|(?!(?:[kmMG](?:W|V|A|Hz|Ah|VA|Wh)|dB)(?!\\p{L}))\\p{Ll}{1,8}\\p{Lu}[\\p{L}\\p{N}’'&+-]{0,40})";
const name = `${capital}(?:\\s(?:${capital}|&|\\+|by(?=\\s\\p{Lu})|of(?=\\s\\p{Lu}))){0,4}(?:\\s\\d{1,2}(?=["”]))?`;
/** A brand that is written small, in the middle of a list: "Tavish, little oven, Ostrel". */
const small = "\\p{Ll}[\\p{L}’'-]+(?:\\s\\p{Ll}[\\p{L}’'-]+)?(?=,\\s\\p{Lu})";
/** Names joined by commas, "and" or "or": the source of a regular expression. */
export const nameList = `${name}(?:["”]?(?:\\s{0,3}[,;]["”]?\\s(?:and\\s|or\\s)?|\\s{1,3}(?:and|or)\\s)["“]?(?:${name}|${small})["”]?){0,80}`;
const cues: readonly RegExp[] = [
  // "sold under the brand names A, B and C", "brand names, including A"
  new RegExp(`\\bbrand(?:s|\\snames?)\\s?(?:of|:|,|are|is|include|,?\\sincluding)?\\s?["“]?(${nameList})["”]?`, "gu"),
  new RegExp(`\\b[Bb]rand(?:\\sname)?\\s?:?\\s?["“](${nameList})[,.]?["”]`, "gu"),
  new RegExp(`["“]Brand:\\s(${name})`, "gu"),
  // "under the A and B brands", "the A brand name"
  new RegExp(`\\b(?:under|the|with|and|The|bearing|either)\\s(?:the\\s)?["“]?(${nameList})["”]?\\s{1,3}(?:brands?|trademarks?)\\b`, "gu"),
  // "A-branded", "A brand kettles", "A-brand"
  new RegExp(`(${nameList})[-\\s]{1,3}[Bb]rand(?:ed)?\\b`, "gu"),
  new RegExp(`\\bunder\\sthe\\s(?:trade\\s)?names?\\s["“]?(${nameList})`, "gu"),
  new RegExp(`\\bbrand(?:\\sname)?,\\s["“]?(${name})["”]?,`, "gu"),
  new RegExp(`\\bbranded\\sas\\s["“]?(${nameList})`, "gu"),
  new RegExp(`\\btrademarks\\sinclude\\s(${nameList})`, "gu"),
];
/** "distributed as Woods Brand", "Estate Brand": one capitalised word before a capitalised "Brand", also a plain one. */
const singleBrand = /(?:\bas|\band|,)\s(\p{Lu}[\p{Ll}’'-]{2,20})\sBrand\b(?!\s(?:Name|New))/gu;
/** "the bébé brand", where the brand is written small. */
const smallBrand = /\b(?:of|the)\s(\p{Ll}[\p{L}’'&+-]{2,20})[-\s]brand(?:ed)?\s(?=\p{Ll})/gu;
const commonWord =
  /^(?:same|popular|store|house|own|private|major|well-known|leading|national|generic|any|this|that|other|others|recalled|new|unknown|following|different|various|off|name|name-|each|one|two|three|several|multiple|its|their|firm|company|manufacturer|original|specific|affected|listed|single|retail|global|international|certain|many|all|no|and|or)$/;
/** `"LARKFIELD" is printed on the front`: what stands on the product. */
const printed =
  /["“]([^"“”]{2,40}?)[,.]?["”](?=(?:(?:\s(?:brand\sname|name|logo))?,?\s(?:and|or)\s(?:the\s)?["“]?[^"“”.]{1,60}["”]?)?(?:\s(?:brand\sname|name|logo|trademark))?\s(?:is|are|appears?|can\sbe|was|in\s|on\sthe)\b)/gu;
const plainPrinted =
  /(?:\bThe\sbrand\sname\s|\bThe\s|\band\s|^|\.\s)(?!The\s)(\p{Lu}[\p{L}\p{N}’'&+ -]{1,30}?)\s(?:(?:logo|name|trademark|brand\sname)\s)?is\s(?:printed|written|embossed|engraved|stamped|displayed|located\son\sthe\s(?:front|top|side))/gu;
const never =
  /^(?:Only|The|This|All|Both|Brands?|Products?|Models?|Made|Serial|Description|Name|Location|Items?|Colors?|Various|Other|Recalled|These|They|In|On|No|An?|Each|UL|Numbers?|Logo|Names?|It|For|CPSC|Inc|Size|Style|Consumers|Units?|VIN|Some|New|Manufactured|Sold)$/i;

/** Brands that the text names as such, as it writes them. */
export function namedBrands(clean: string): string[] {
  if (!/brand|trademark|under the (?:trade )?names?\s/i.test(clean)) return [];
  const found: string[] = [];
  const plain = clean.replace(/\s{0,2}\([^()]{0,120}\)(?=[\s,;.]|$)/g, "");
  for (const cue of cues)
    for (const match of plain.matchAll(cue)) if (!/\sThe$/.test(match[1] ?? "")) found.push(...namedTogether(namesOf(match[1] ?? "")));
  if (found.length > 0) for (const match of plain.matchAll(singleBrand)) if (!never.test(match[1] ?? "")) found.push(match[1] ?? "");
  if (found.length === 0)
    for (const match of plain.matchAll(smallBrand))
      if (!isProductWord(match[1] ?? "") && !commonWord.test(match[1] ?? "")) found.push(match[1] ?? "");
  return found;
}

/** In a list also a plain word is a brand ("Corvane, Classic and Tavish"), in a short one only a single such word. */
function namedTogether(names: readonly string[]): string[] {
  const sure = usable(names);
  const plain = names.length - sure.length;
  const few = names.length === 3 && plain === 1 && names.every((one) => !/\s\S+\s/.test(one)) && !/s$/.test(names.at(-1) ?? "");
  if (!few && (names.length < 4 || plain > 2)) return sure;
  return names.map(trimmed).filter((one) => nameKey(one).length > 1 && !never.test(one) && !/\d{3}/.test(one));
}

/** Names that the text says are printed on the product and that title, product names or makers begin with. */
export function printedBrands(clean: string, phrases: readonly string[]): string[] {
  const found: string[] = [];
  for (const cue of [printed, plainPrinted]) {
    for (const match of clean.matchAll(cue)) {
      const text = (match[1] ?? "").replace(/[®™,.]/g, "").trim();
      const known = /\d{2}|^(?:model|made)/i.test(text) ? null : spelledAs(text, phrases);
      if (known !== null) found.push(known);
    }
  }
  return found.map(trimmed).filter((one) => nameKey(one).length > 1 && !never.test(one));
}

const logo = new RegExp(`\\b[Tt]he\\s["“]?(${name})["”]?\\s(?:logo|emblem)\\b`, "gu");
const besideModel = new RegExp(
  `["“](${name})["”]\\sand\\s(?:the\\s)?(?:model|serial|item)\\s(?:numbers?|name)\\s(?:is|are|can|appear)`,
  "gu",
);
/** Marks of laboratories, programmes and techniques. */
const mark = /^(?:UL|ETL|CSA|CE|NSF|FCC|Energy\sStar|ENERGY\sSTAR|Bluetooth|Wi-Fi|USB|Intertek|Made|Underwriters)/;

/** Names that only a logo or the label shows: "the Larkfield logo", "“Larkfield” and the model number are printed". */
export function shownBrands(clean: string): string[] {
  const found = [logo, besideModel].flatMap((cue) => [...clean.matchAll(cue)].map((match) => match[1] ?? ""));
  return usable(found).filter((one) => !mark.test(one));
}

function usable(names: readonly string[]): string[] {
  return names
    .map(trimmed)
    .filter(
      (one) =>
        nameKey(one).length > 1 &&
        !never.test(one) &&
        !/\d{3}|\b(?:Models?|Numbers?)$/.test(one) &&
        (isShortCapitals(one) || !one.split(/\s+/).every(isProductWord)),
    );
}

/** One word of short capitals may be a name though it is also a kind of thing; several or long ones say what the product is. */
function isShortCapitals(name: string): boolean {
  return /^\p{Lu}{2,4}$/u.test(name) && !/S$/.test(name);
}

function namesOf(text: string): string[] {
  return text
    .replace(/,(["”])/g, "$1,")
    .split(/\s*[,;]\s+(?:and\s|or\s)?|\s+(?:and|or)\s/)
    .map((part) =>
      part
        .replace(/["“”]/g, "")
        .replace(/[-.'’,]+$/, "")
        .replace(/[-\s]?brand(?:ed)?$/i, ""),
    )
    .filter((part) => part !== "");
}

/** `LARKFIELD` printed, `Larkfield` in the title: the title's way of writing, where a phrase or a part of one begins so. */
function spelledAs(printedName: string, phrases: readonly string[]): string | null {
  const parts = printedName.split(/[^\p{L}\p{N}]+/u).filter((part) => part !== "");
  if (parts.length === 0 || parts.join("").length < 2) return null;
  const source = parts.map((part) => part.replace(/[.*+?^${}()|[\]\\]/g, "\\$&")).join("[^\\p{L}\\p{N}]*");
  const start = new RegExp(`(?:^|\\band\\s|\\bor\\s|,\\s)(${source})(?![\\p{L}\\p{N}])`, "iu");
  if (/^\p{Lu}{2,4}$/u.test(printedName) && phrases.some((phrase) => initials(phrase, printedName.length) === printedName))
    return printedName;
  for (const phrase of phrases) {
    const hit = start.exec(phrase)?.[1];
    const rest = hit === undefined ? "" : phrase.slice(phrase.indexOf(hit) + hit.length);
    if (hit !== undefined && (/\p{L}{2}/u.test(rest) || !hit.split(/\s+/).every(isProductWord))) return hit;
  }
  return null;
}

/** `Grand Ostrel Toasters` -> `GO`: a logo may show the first letters of a name. */
function initials(phrase: string, count: number): string {
  const words = phrase.split(/\s+/).slice(0, count);
  if (isProductWord(words[0] ?? "")) return "";
  return words.map((word) => word[0] ?? "").join("");
}

function trimmed(name: string): string {
  return name
    .replace(/^(?:\S*\d\S*\d\S*\s+)+(?=\p{Lu})/u, "")
    .replace(/^(?:the|The|certain|Certain|All|all|This|Both|Only|by|of|&|\+|Recalled)\s+/g, "")
    .replace(/^\S+[’']s\s+(?=\p{Lu})/u, (owner) => (/^\p{Lu}{2}/u.test(name.slice(owner.length)) ? "" : owner))
    .replace(/\s+(?:by|of|&|\+|The|Voluntarily)$/g, "")
    .trim();
}
