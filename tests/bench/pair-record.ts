import { makerKey } from "@/lib/identity/maker";
import { evidenceBits, modelKey } from "@/lib/identity/model-number";

/** A product record prepared for comparing with another; made once, compared often. */
export interface PairRecord {
  readonly title: string;
  readonly brand: string;
  /** The model's key; empty where the field is empty or made of plain words. */
  readonly model: string;
  readonly price: number | null;
  /** The model field where it is one word of letters, a name; else empty. */
  readonly name: string;
  readonly category: readonly string[];
  /** Keys of one to four neighbouring words of the title, so that a code is found however it is spaced. */
  readonly runs: ReadonlySet<string>;
  /** Code-like words of the title. */
  readonly codes: readonly string[];
  /** The code at the end of a title that begins with `new-`: the dealer's own, which says nothing of the product; else `null`. */
  readonly stockCode: string | null;
  /** Every three neighbouring signs of the title. */
  readonly signs: ReadonlySet<string>;
  /** Other words of the title, endings dropped, without brand, colours and measures. */
  readonly words: readonly string[];
  readonly colours: ReadonlySet<string>;
  /** Values by unit, such as `gb` -> 16; pieces, inches and the like. */
  readonly measures: ReadonlyMap<string, ReadonlySet<number>>;
  readonly numbers: ReadonlySet<string>;
  readonly relations: ReadonlySet<string>;
}

const colourWords = new Set(
  "black white red blue green silver gray grey pink purple orange yellow brown gold beige clear ivory teal charcoal titanium chrome bronze cream navy burgundy magenta cyan tan violet lime graphite walnut cherry oak mahogany maple espresso".split(
    " ",
  ),
);
const sameColour: Readonly<Record<string, string>> = { grey: "gray", titanium: "silver", charcoal: "gray", graphite: "gray" };
const relationWords: Readonly<Record<string, string>> = {
  compatible: "compatible",
  remanufactured: "remanufactured",
  refurbished: "refurbished",
  replacement: "compatible",
  bundle: "bundle",
  kit: "kit",
  refill: "refill",
  refills: "refill",
};
const units: Readonly<Record<string, string>> = {
  gb: "gb",
  tb: "tb",
  mb: "mb",
  mp: "mp",
  megapixel: "mp",
  megapixels: "mp",
  inch: "in",
  inches: "in",
  in: "in",
  ft: "ft",
  feet: "ft",
  foot: "ft",
  mm: "mm",
  cm: "cm",
  ghz: "ghz",
  mhz: "mhz",
  w: "w",
  watt: "w",
  watts: "w",
  v: "v",
  volt: "v",
  oz: "oz",
  lb: "lb",
  lbs: "lb",
  pack: "pk",
  pk: "pk",
  pcs: "pk",
  piece: "pk",
  port: "port",
  ports: "port",
  button: "button",
  outlet: "outlet",
  outlets: "outlet",
  channel: "ch",
  ch: "ch",
  rpm: "rpm",
  mah: "mah",
  x: "x",
  yd: "yd",
  m: "m",
  sheets: "sheet",
  sheet: "sheet",
  box: "pk",
  pages: "page",
  page: "page",
  bit: "bit",
  minutes: "min",
  disc: "disc",
};

function stem(word: string): string {
  if (word.length > 5 && word.endsWith("ing")) return word.slice(0, -3);
  if (word.length > 4 && word.endsWith("ies")) return `${word.slice(0, -3)}y`;
  if (word.length > 4 && word.endsWith("es")) return word.slice(0, -2);
  return word.length > 3 && word.endsWith("s") && !word.endsWith("ss") ? word.slice(0, -1) : word;
}

function fieldsOf(text: string): Map<string, string> {
  const fields = new Map<string, string>();
  for (const part of text.split("COL ").slice(1)) {
    const [name = "", value = ""] = part.split(/ VAL ?/, 2);
    fields.set(name.trim(), value.trim());
  }
  return fields;
}

/** A code has a digit beside a letter, or four digits and more; a measure such as `16gb` is none. */
function isCode(word: string): boolean {
  const key = modelKey(word);
  if (key.length < 4 || !/\d/.test(key)) return false;
  if (
    /^\d+(?:\.\d+)?(?:gb|tb|mb|mp|in|inch|ft|mm|cm|ghz|mhz|w|v|oz|lb|pk|pack|ch|port|ports|rpm|mah|x|x\d+|p|bit|d|hz|k)?$/.test(word) &&
    key.length < 5
  )
    return false;
  return evidenceBits(key) >= 8.8;
}

function runsOf(words: readonly string[]): Set<string> {
  const runs = new Set<string>();
  for (let from = 0; from < words.length; from++) {
    let run = "";
    for (let to = from; to < Math.min(words.length, from + 4); to++) {
      run += modelKey(words[to] ?? "");
      if (run !== "") runs.add(run);
    }
  }
  return runs;
}

function signsOf(title: string): Set<string> {
  const text = ` ${title.replace(/[^a-z0-9]+/g, " ")} `;
  return new Set(Array.from({ length: Math.max(0, text.length - 2) }, (_, at) => text.slice(at, at + 3)));
}

function measuresOf(words: readonly string[]): Map<string, Set<number>> {
  const found = new Map<string, Set<number>>();
  const put = (value: number, unit: string): void => {
    const [amount, name] = unit === "tb" ? [value * 1000, "gb"] : [value, unit];
    found.set(name, (found.get(name) ?? new Set()).add(amount));
  };
  words.forEach((word, at) => {
    const glued = /^(\d+(?:\.\d+)?)-?([a-z]+)$/.exec(word);
    const unit = glued ? units[glued[2] ?? ""] : units[words[at + 1] ?? ""];
    if (glued && unit) put(Number(glued[1]), unit);
    else if (/^\d+(?:\.\d+)?$/.test(word) && unit) put(Number(word), unit);
  });
  return found;
}

/** The code without the maker's name before it. */
function withoutBrand(key: string, brand: string): string {
  const rest = brand.length > 1 && key.startsWith(brand) ? key.slice(brand.length) : key;
  return /\d/.test(rest) && rest.length >= 3 ? rest : key;
}

/** A model field made of plain words, or with a word for the colour behind, is reduced to its code. */
function modelOf(text: string): string {
  const coded = text.split(/\s+/).filter((word) => !colourWords.has(word) && !relationWords[word]);
  const key = modelKey(coded.join(""));
  return /\d/.test(key) && key.length >= 3 ? key : "";
}

/** A model field of one word of letters only, which is a name. */
function nameOf(text: string): string {
  const word = text.trim();
  return /^[a-z-]{4,}$/.test(word) && !colourWords.has(word) ? modelKey(word) : "";
}

function categoryWords(text: string): string[] {
  const words = text.split(/[^a-z]+/).filter((word) => word.length > 2);
  return [...new Set(words.map(stem))];
}

/** Reads `COL name VAL value ...`. */
export function pairRecord(text: string): PairRecord {
  const fields = fieldsOf(text);
  const title = fields.get("title") ?? "";
  const words = title.split(/[^a-z0-9.\-&]+/).filter((word) => /[a-z0-9]/.test(word));
  const spaced = words.flatMap((word) => (isCode(word) ? [word] : word.split("-"))).filter((word) => word !== "");
  const brand = makerKey((fields.get("brand") ?? "").replace(/^new-/, ""));
  const price = Number.parseFloat(fields.get("price") ?? "");
  const pieces = title.split(/[^a-z0-9.]+/).filter((word) => word !== "");
  const plain = spaced.filter((word) => !isCode(word) && !colourWords.has(word) && /[a-z]{2}/.test(word) && !/^\d/.test(word));
  return {
    title,
    brand,
    model: withoutBrand(modelOf(fields.get("modelno") ?? ""), brand),
    name: nameOf(fields.get("modelno") ?? ""),
    category: categoryWords(fields.get("category") ?? ""),
    price: Number.isFinite(price) ? price : null,
    runs: runsOf(pieces),
    codes: [...new Set(words.filter(isCode).map(modelKey))],
    stockCode: title.startsWith("new-") && isCode(words.at(-1) ?? "") ? modelKey(words.at(-1) ?? "") : null,
    signs: signsOf(title),
    words: [...new Set(plain.map(stem))].filter((word) => word.length > 1 && word !== "new" && !brand.toLowerCase().includes(word)),
    colours: new Set(
      [...pieces, ...(fields.get("modelno") ?? "").split(/[^a-z]+/)]
        .filter((word) => colourWords.has(word))
        .map((word) => sameColour[word] ?? word),
    ),
    measures: measuresOf(pieces),
    numbers: new Set(pieces.filter((word) => /^\d+(?:\.\d+)?$/.test(word))),
    relations: new Set(pieces.flatMap((word) => relationWords[word] ?? [])),
  };
}
