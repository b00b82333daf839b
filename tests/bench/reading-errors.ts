import type { ApplianceFacts } from "@/lib/identity/appliance-facts";
import type { Random } from "./random";

/** Kinds of typing and reading errors; `clean` when a record has none. */
export type ErrorKind =
  | "separator"
  | "case"
  | "confused"
  | "swapped"
  | "dropped"
  | "doubled"
  | "digit"
  | "suffix"
  | "brand missing"
  | "brand alias"
  | "brand typo"
  | "category missing"
  | "model in text"
  | "made unknown";

/** How often each error happens to a record at level 1; level k multiplies those that are errors. */
const rates: Readonly<Record<ErrorKind, number>> = {
  separator: 0.52,
  case: 0.3,
  confused: 0.08,
  swapped: 0.02,
  dropped: 0.015,
  doubled: 0.01,
  digit: 0.015,
  suffix: 0.06,
  "brand missing": 0.07,
  "brand alias": 0.1,
  "brand typo": 0.04,
  "category missing": 0.08,
  "model in text": 0.03,
  "made unknown": 0.65,
};

const confusedWith: Readonly<Record<string, string>> = {
  O: "0",
  "0": "O",
  I: "1",
  "1": "I",
  L: "1",
  S: "5",
  "5": "S",
  B: "8",
  "8": "B",
  Z: "2",
  "2": "Z",
  G: "6",
  "6": "G",
};

function at(text: string, place: number, replacement: string, length = 1): string {
  return text.slice(0, place) + replacement + text.slice(place + length);
}

function confuse(random: Random, model: string): string {
  const places = [...model].flatMap((character, place) => (confusedWith[character] ? [place] : []));
  if (places.length === 0) return model;
  const place = random.pick(places);
  return at(model, place, confusedWith[model[place] ?? ""] ?? "");
}

function wrongDigit(random: Random, model: string): string {
  const places = [...model].flatMap((character, place) => (/\d/.test(character) ? [place] : []));
  if (places.length === 0) return model;
  const place = random.pick(places);
  return at(model, place, String((Number(model[place]) + 1 + random.below(9)) % 10));
}

function looseSeparator(random: Random, model: string): string {
  if (model.includes("-")) return model.replace("-", random.pick(["", " ", " - ", ".", "--"]));
  const place = 1 + random.below(model.length - 1);
  return random.chance(0.14) ? at(model, place, "-", 0) : model;
}

const edits: readonly (readonly [ErrorKind, (random: Random, model: string) => string])[] = [
  ["confused", confuse],
  [
    "swapped",
    (random, model) => {
      const place = random.below(model.length - 1);
      return at(model, place, `${model[place + 1]}${model[place]}`, 2);
    },
  ],
  ["dropped", (random, model) => at(model, random.below(model.length), "")],
  [
    "doubled",
    (random, model) => {
      const place = random.below(model.length);
      return at(model, place, model[place] ?? "", 0);
    },
  ],
  ["digit", wrongDigit],
  ["suffix", (random, model) => model + random.pick(["-BK", "W", " US", "-EU", "SS"])],
  ["separator", looseSeparator],
  ["case", (_random, model) => model.toLowerCase()],
];

function typo(random: Random, brand: string): string {
  const place = 1 + random.below(brand.length - 1);
  return random.chance(0.5) ? at(brand, place, "") : at(brand, place, brand[place] ?? "", 0);
}

function alias(random: Random, brand: string): string {
  return random.pick([
    `${brand} Inc`,
    brand.toUpperCase(),
    `${brand} (R)`,
    brand.includes(" ") ? (brand.split(" ")[0] ?? brand) : `${brand} Ltd.`,
  ]);
}

/** A record as it is typed or read off a plate, with the errors that befell it. */
export interface CorruptedRecord {
  readonly facts: ApplianceFacts;
  readonly errors: readonly ErrorKind[];
}

/** Applies the errors of a level to a clean record. */
export function corrupt(random: Random, clean: ApplianceFacts, level: number): CorruptedRecord {
  const errors: ErrorKind[] = [];
  const happens = (kind: ErrorKind): boolean => {
    const isUnread = kind === "made unknown" || kind === "case" || kind === "separator";
    const happened = random.chance(isUnread && level > 0 ? rates[kind] : rates[kind] * level);
    if (happened) errors.push(kind);
    return happened;
  };
  let { model, brand, labelText } = clean;
  for (const [kind, edit] of edits) if (happens(kind) && model !== null) model = edit(random, model);
  if (happens("brand missing")) brand = null;
  else if (brand !== null && happens("brand typo")) brand = typo(random, brand);
  else if (brand !== null && happens("brand alias")) brand = alias(random, brand);
  if (model !== null && happens("model in text")) {
    labelText = `rated 120V 60Hz ${model} 1200W`;
    model = null;
  }
  const category = happens("category missing") ? null : clean.category;
  const made = happens("made unknown") ? null : clean.made;
  return { facts: { ...clean, model, brand, labelText, category, made }, errors };
}
