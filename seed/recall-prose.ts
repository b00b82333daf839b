import type { Chance } from "./chance";
import type { Family } from "./makers";

/** What an invented notice is about, before it is put into words. */
export interface RecallCase {
  readonly family: Family;
  readonly models: readonly string[];
  /** Where the notice's window lies: year and week of the date code. */
  readonly window: "none" | "serial" | "date code" | "made" | "all units";
  readonly excluded?: string;
  readonly hazard: Hazard;
}

export interface Hazard {
  readonly name: string;
  readonly text: (product: string) => string;
}

export const hazards: readonly Hazard[] = [
  { name: "Fire Hazard", text: (product) => `The ${product} can overheat and ignite, posing a fire hazard.` },
  {
    name: "Fire and Burn Hazards",
    text: (product) => `The heating element of the ${product} can melt the housing, posing fire and burn hazards.`,
  },
  {
    name: "Shock Hazard",
    text: (product) => `The internal wiring of the ${product} can come loose and touch the metal housing, posing a shock hazard.`,
  },
  { name: "Burn Hazard", text: (product) => `The lid of the ${product} can open while hot contents are inside, posing a burn hazard.` },
  {
    name: "Fire and Shock Hazards",
    text: (product) => `The power cord of the ${product} can fray at the strain relief, posing fire and shock hazards.`,
  },
];

const plural = (category: string) => (category.endsWith("s") || category.endsWith("x") ? `${category}es` : `${category}s`);
const titleCase = (text: string) => text.replace(/\b\w/g, (letter) => letter.toUpperCase());

function listed(items: readonly string[], joiner: "and" | "or" = "and"): string {
  if (items.length < 2) return items.join("");
  return `${items.slice(0, -1).join(", ")}${items.length > 2 ? "," : ""} ${joiner} ${items[items.length - 1]}`;
}

/** The ways a regulator's writer names the models. */
function modelsSentence({ family, models }: RecallCase, chance: Chance): string {
  const products = plural(family.category);
  if (models.length === 1) {
    return chance.pick([
      `This recall involves ${family.maker} ${products} with model number ${models[0]}.`,
      `This recall involves model ${models[0]} ${family.maker} brand ${products}.`,
      `The recalled ${products} have the model number ${models[0]} printed on a silver label on the bottom.`,
    ]);
  }
  return chance.pick([
    `This recall involves ${family.maker} ${products} with model numbers ${listed(models)}.`,
    `This recall involves ${family.maker} ${products}. The following model numbers are included: ${models.join("; ")}.`,
    `This recall involves several models of ${family.maker} ${products}: model ${listed(models, "or")}.`,
    `The recall includes ${family.maker} brand ${products}, models ${listed(models)}, sold in black and white.`,
  ]);
}

function windowSentence({ family, window }: RecallCase, chance: Chance): string {
  const from = chance.whole(21, 23);
  const to = from + chance.whole(0, 1);
  const [fromWeek, toWeek] = [String(chance.whole(1, 20)).padStart(2, "0"), String(chance.whole(30, 52)).padStart(2, "0")];
  const letters = family.serialLetters;
  switch (window) {
    case "serial":
      return ` Only units with serial numbers from ${letters}${from}${fromWeek}-00001 through ${letters}${to}${toWeek}-99999 are included.`;
    case "date code":
      return ` The date code is in the format YYWW, where YY is the year and WW is the week of manufacture. Date codes between ${from}${fromWeek} and ${to}${toWeek} are included in this recall.`;
    case "made":
      return ` The ${plural(family.category)} were manufactured between January 20${from} and December 20${to}.`;
    case "all units":
      return ` All units of this model are included in the recall.`;
    case "none":
      return "";
  }
}

/** The description of a case in varied prose, with where the label is printed and, now and then, what is not included. */
export function describeCase(recall: RecallCase, chance: Chance): string {
  const label = chance.pick([
    "The model number is printed on the rating label on the back of the unit.",
    "The model and serial numbers can be found on the label on the underside.",
    `"${recall.family.maker}" is printed on the front.`,
    "The model number is located on a sticker near the power cord.",
  ]);
  const excluded = recall.excluded ? ` Model ${recall.excluded} is not included in this recall.` : "";
  return `${modelsSentence(recall, chance)}${windowSentence(recall, chance)} ${label}${excluded}`;
}

/** A headline in the regulator's manner. */
export function headline(recall: RecallCase): string {
  return `${recall.family.maker} Recalls ${titleCase(plural(recall.family.category))} Due to ${recall.hazard.name}`;
}
