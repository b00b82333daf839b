import { namedBrands, printedBrands, shownBrands } from "./brand-cues";
import { firmName, nameKey, shortFirmName } from "./brand-names";
import type { Notice } from "./notice";
import type { Passage } from "./passage";
import { plainCapitals } from "./plain-capitals";
import { leadingNames, openingPhrases, smallWords } from "./product-phrase";
import { isProductWord } from "./product-words";
import { firmInProse, namesBeforeProduct } from "./prose-brands";
import { tableBrands } from "./table-brands";
import { titleParts } from "./title-parts";

/**
 * What a consumer would read on the product. In this order: brand fields; brands that the text names as such; a name that
 * the text says is printed there; the name that the product's words begin with, shared with a firm's where one agrees;
 * the firm itself.
 */
export function brandsOf(notice: Notice, description: Passage): string[] {
  const brands = brandsRead(notice, description);
  return distinct([...brands, ...shortForms(brands, `${notice.title} ${description.text}`)]);
}

/** `GO` beside `Grand Ostrel`, where the text uses both: either may stand on the product. */
function shortForms(brands: readonly string[], text: string): string[] {
  return brands
    .filter((brand) => /^(?:\p{Lu}\p{Ll}+\s){1,3}\p{Lu}\p{Ll}+$/u.test(brand))
    .map((brand) => brand.replace(/\p{Ll}+\s?/gu, ""))
    .filter((short) => !plainCapitals.has(short) && new RegExp(`(?<![\\p{L}\\p{N}-])${short}(?![\\p{L}\\p{N}-])`, "u").test(text));
}

function brandsRead(notice: Notice, description: Passage): string[] {
  if (notice.statedBrands.length > 0) return distinct(notice.statedBrands);
  const named = namedBrands([description.clean, ...notice.productNames].join(". "));
  if (named.length > 0) return distinct([...firmBefore(named, notice, description), ...named]);
  const columns = tableBrands(description.clean);
  if (columns.length > 1) return distinct(columns);
  const title = titleParts(notice.title);
  const firms = firmsOf(notice, title.firms);
  const productMakers = notice.makers.filter((maker) => !isFirm(maker));
  const phrases = [title.product, ...notice.productNames, ...productMakers];
  const printed = printedBrands(description.clean, [...phrases, ...firms]);
  if (printed.length > 0) return distinct(printed);
  const opened = openingPhrases(description.clean);
  const shortFirms = firms.map(shortFirmName).filter((firm) => firm.includes(" "));
  const whole =
    shortFirms.find((firm) => phrases.some((phrase) => beginsWith(phrase, firm))) ??
    shortFirms.find((firm) => !isProductWord(firm.split(" ").at(-1) ?? "") && opened.some((phrase) => beginsWith(`${phrase} `, firm)));
  const small = smallWords(description.clean);
  if (whole !== undefined) return distinct(withOthers(whole, phrases, small));
  const names = (texts: readonly string[]) => texts.map((phrase) => (isAllSmall(phrase) ? [] : leadingNames(phrase, small)));
  const own = names(phrases);
  const beside = own.every((list) => list.length === 0) ? namesBeforeProduct(description.clean) : [];
  if (beside.length > 0 && beside.every((name) => withFirm(name, firms) === null)) return distinct(beside);
  const lists = { published: own, opened: names(opened.filter((phrase) => !isPart(phrase, notice))) };
  const lead = besideLead(agreed(lists, firms, description.text), description.clean);
  if (lead.length > 0)
    return distinct(ofFirm(lead, { firms: title.firms, notice, description }), [
      notice.title,
      ...notice.makers,
      ...firms,
      description.text,
    ]);
  const shown = shownBrands(description.clean);
  if (shown.length > 0) return distinct(shown);
  const firm = firms[0] ?? firmInProse(description.clean);
  return firm === undefined ? [] : [bareFirm(firm)];
}

/** `Larkfield` of "Larkfield and Corvane Toasters": the names that a phrase sets beside the firm's are brands as well. */
function withOthers(firm: string, phrases: readonly string[], small: ReadonlySet<string>): readonly string[] {
  const lists = phrases.map((phrase) => leadingNames(phrase, small));
  return lists.find((list) => list.length > 1 && nameKey(list[0] ?? "") === nameKey(firm)) ?? [firm];
}

/** One name of a row of three or more that the text sets before the product: the others are brands as well. */
function besideLead(lead: readonly string[], clean: string): readonly string[] {
  const row = lead.length === 1 ? namesBeforeProduct(clean) : [];
  return row.length >= 3 && row.some((name) => nameKey(name) === nameKey(lead[0] ?? "")) ? row : lead;
}

/** "Larkfield Corsair fans", where the text names the brand Corsair and the firm is Larkfield: both are read on the product. */
function firmBefore(named: readonly string[], notice: Notice, description: Passage): string[] {
  const [only = ""] = named;
  if (named.length !== 1) return [];
  const key = nameKey(only);
  const phrases = openingPhrases(description.clean).filter((phrase) => nameKey(phrase).indexOf(key) > 0);
  const firms = phrases.length === 0 ? [] : firmsOf(notice, titleParts(notice.title).firms);
  return phrases
    .map((phrase) => withFirm(phrase, firms) ?? "")
    .filter((firm) => nameKey(firm).length > 1 && !nameKey(only).startsWith(nameKey(firm)))
    .slice(0, 1);
}

/** "Ranges with Tavish Compressors": Tavish makes a part. */
function isPart(phrase: string, notice: Notice): boolean {
  const [first = ""] = phrase.split(/\s+/);
  return [notice.title, ...notice.productNames].some((text) => new RegExp(`\\bwith\\s${literal(first)}(?![\\p{L}])`, "u").test(text));
}

interface Lead {
  /** Firms of the title. */
  readonly firms: readonly string[];
  readonly notice: Notice;
  readonly description: Passage;
}

/** A name that the text writes right after the firm that recalls is the firm's line of goods; the firm is the brand. */
function ofFirm(lead: readonly string[], { firms, notice, description }: Lead): readonly string[] {
  const [name = ""] = lead;
  const firm = shortFirmName(firms[0] ?? "");
  if (lead.length !== 1 || firms.length !== 1 || nameKey(firm).length < 2 || withFirm(name, firms) !== null) return lead;
  const owned = new RegExp(`(?<![\\p{L}])${literal(firm)}(?:[’']s)?\\W{1,3}(?:brand\\s)?${literal(name)}(?![\\p{L}])`, "iu");
  return owned.test(description.text.replace(/[®™]/g, "")) || owned.test(notice.title) ? [firm] : lead;
}

/** A phrase in small letters only, such as `step stools`, says what it is and begins with no name. */
function isAllSmall(phrase: string): boolean {
  return !/\p{Lu}/u.test(phrase);
}

function beginsWith(phrase: string, firm: string): boolean {
  return phrase.toLowerCase().startsWith(`${firm.toLowerCase()} `);
}

function firmsOf(notice: Notice, titled: readonly string[]): string[] {
  const fields = [...notice.makers.filter(isFirm), ...notice.importers, ...notice.distributors].map(firmName);
  return [...titled, ...fields].filter((name) => nameKey(name).length > 1);
}

/** A maker's field that holds a firm, not (as in some lists) the product: it has a legal form or a place. */
function isFirm(maker: string): boolean {
  return (
    firmName(maker) !== maker.trim() || maker.trim().split(/\s+/).length === 1 || /^\p{Lu}[\p{L}-]+,\s\p{Lu}[\p{L}. ]+$/u.test(maker.trim())
  );
}

/**
 * The names that the phrases begin with. A firm whose name begins alike decides first; then several names of one phrase;
 * else what several phrases have in common.
 */
function agreed(phrases: Phrases, firms: readonly string[], text: string): readonly string[] {
  const lists = [...phrases.published, ...phrases.opened].filter((list) => list.length > 0);
  const lines = lists.find((list) => list.length > 1 && list.every((name) => isLineOfFirm(name, firms)));
  if (lines) return lines;
  const alike = lists.filter(([name = ""]) => withFirm(name, firms) !== null);
  const single =
    alike.find((list) => list.length === 1) ??
    (alike[0]?.every((name) => name.split(/\s+/).length <= 3) ? undefined : alike[0]?.slice(0, 1));
  if (single) return [withFirm(single[0] ?? "", firms) ?? ""];
  const several = [...alike, ...phrases.published].find((list) => list.length > 1);
  const family = lists.find((list) => list.length === 1 && several !== undefined && isStartOf(list[0] ?? "", several[0] ?? ""));
  if (family) return family;
  if (several) return several.map((name) => withFirm(name, firms) ?? name);
  const [first, ...rest] = lists;
  if (!first) return [];
  return [
    aloneInText(
      rest.reduce((common, [name = ""]) => sharedStart(common, name) || common, first[0] ?? ""),
      text,
    ),
  ];
}

/** `Larkfield Corsair` where the text also says `Larkfield` without the second word: the first word is the brand. */
function aloneInText(name: string, text: string): string {
  const [first = "", second] = name.split(/\s+/);
  if (second === undefined || first.length < 3 || /[&+]/.test(second)) return name;
  if (name.split(/\s+/).length === 2 && standsBeforeProduct(second, first, text)) return second;
  return new RegExp(`(?<![\\p{L}])${literal(first)}(?![\\p{L}’'-])(?!\\W{1,3}${literal(second.replace(/s$/, ""))})`, "iu").test(text)
    ? first
    : name;
}

/** `Tavish` of `Larkfield Tavish`, where the text also has "these Tavish dishwashers" without the seller before it. */
function standsBeforeProduct(name: string, before: string, text: string): boolean {
  const alone = new RegExp(`(?<!${literal(before)}\\W{1,3})(?<![\\p{L}-])${literal(name)}\\s(\\p{Ll}[\\p{L}-]+)`, "gu");
  return [...text.matchAll(alone)].some(
    (match) => isProductWord(match[1] ?? "") && !/^(?:and|or|with|for|in|of|to|from|the|a|by|at)$/.test(match[1] ?? ""),
  );
}

interface Phrases {
  /** Of title, product names and makers' fields that hold the product. */
  readonly published: readonly (readonly string[])[];
  /** Of the description's openings. */
  readonly opened: readonly (readonly string[])[];
}

/** What a shop adds to its own name for its house brands. */
const houseLine = /^\s(?:Basics|Essentials|Elite)\b/;

/** The words that a name has in common with the beginning of a firm's; null where no firm begins alike. */
function withFirm(name: string, firms: readonly string[]): string | null {
  const shared = firms.map((firm) => sharedStart(name, firm)).sort((a, b) => b.length - a.length)[0] ?? "";
  const line = houseLine.exec(name.slice(shared.length))?.[0] ?? "";
  return nameKey(shared).length > 1 ? shared + line : null;
}

/** `Larkfield Regent`, where the firm is Larkfield: a line of goods with its own name. */
function isLineOfFirm(name: string, firms: readonly string[]): boolean {
  const firm = withFirm(name, firms);
  return firm !== null && isStartOf(firm, name);
}

/** `Larkfield` of `Larkfield Corsair Pro`: whole words, and not all of them. */
function isStartOf(start: string, name: string): boolean {
  return nameKey(start) !== nameKey(name) && nameKey(sharedStart(start, name)) === nameKey(start);
}

/** The words that two names begin with alike, as the first writes them. */
function sharedStart(one: string, other: string): string {
  const others = other.split(/\s+/);
  const shared: string[] = [];
  for (const [at, word] of one.split(/\s+/).entries()) {
    if (nameKey(word).replace(/s$/, "") !== nameKey(others[at] ?? "\n").replace(/s$/, "")) break;
    shared.push(word);
  }
  return shared.join(" ").replace(/[\s&+]+$/, "");
}

/** `Larkfield Range` -> `Larkfield`: the kind of goods after the name proper is dropped. */
function bareFirm(firm: string): string {
  const short = shortFirmName(firm);
  const words = short.split(/\s+/);
  const last = words[words.length - 1] ?? "";
  return words.length > 1 && /^(?:Ranges?|Appliances?)$/.test(last) ? words.slice(0, -1).join(" ") : short;
}

/** Without doubles, the agency's own name, and an owner's `'s` where the fields have the name without it. */
function distinct(names: readonly string[], sources: readonly string[] = []): string[] {
  const seen = new Set<string>(["", "cpsc"]);
  return names
    .map((name) =>
      sources.some((source) => new RegExp(`(?<!\\p{L})${literal(name.replace(/[’']s$/, ""))}(?![\\p{L}’'])`, "iu").test(source))
        ? name.replace(/[’']s$/, "")
        : name,
    )
    .filter((name) => {
      const key = nameKey(name);
      if (seen.has(key)) return false;
      seen.add(key);
      return true;
    });
}

function literal(text: string): string {
  return text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
}
