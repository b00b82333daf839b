import type { Chance } from "./chance";
import { families, otherMakers } from "./makers";
import { describeCase, type Hazard, hazards, headline, type RecallCase } from "./recall-prose";

const count = 120;

/** Notices without any identifier and goods without a plug stand in real lists too; nothing of them may be lost. */
const goods: readonly { title: string; product: string; text: string }[] = [
  {
    title: "Step Stools Due to Fall Hazard",
    product: "step stools",
    text: "This recall involves folding step stools with two steps sold in red and gray.",
  },
  {
    title: "Rocking Horses Due to Tip-Over Hazard",
    product: "rocking horses",
    text: "This recall involves wooden rocking horses sold under item number 40-2217.",
  },
  {
    title: "String Lights Due to Shock Hazard",
    product: "string lights",
    text: "This recall involves outdoor string lights with 25 bulbs. If you own these lights, call the firm to learn whether yours are included.",
  },
  {
    title: "Glass Storage Jars Due to Laceration Hazard",
    product: "storage jars",
    text: "This recall involves 1.5-liter glass storage jars sold in sets of three. UPC 012345678905 is printed on the package.",
  },
];

interface Record {
  readonly number: string;
  readonly date: string;
  readonly title: string;
  readonly description: string;
  readonly product: string;
  readonly maker: string;
  readonly hazard: string;
}

const remedies = [
  "Consumers should immediately stop using the recalled product, unplug it and contact the firm for a full refund.",
  "Consumers should immediately stop using the recalled product and contact the firm for a free repair kit.",
  "Consumers should unplug the product, cut the cord and send a photo to the firm to receive a free replacement.",
];

function makeCase(i: number, chance: Chance): RecallCase {
  const family = families[i % families.length] ?? chance.pick(families);
  // Every second notice concerns models that stand in the buildings; the others are neighbours of theirs.
  const known = chance.happens(0.14);
  const pool = known ? [...family.models] : family.models.map((model) => neighbour(model, chance));
  const models = known ? [chance.pick(pool)] : pool.slice(0, chance.whole(1, Math.max(1, pool.length - 1)));
  const spared = pool.find((model) => !models.includes(model));
  return {
    family,
    models,
    window: known
      ? chance.pick(["serial", "date code", "made", "made", "all units"])
      : chance.pick(["none", "none", "serial", "date code", "made"]),
    hazard: chance.pick(hazards),
    ...(spared && chance.happens(0.3) ? { excluded: spared } : {}),
  };
}

/** A model of the same shape that no appliance here has: two of its digits differ. */
function neighbour(model: string, chance: Chance): string {
  const digits = [...model].flatMap((character, at) => (/\d/.test(character) ? [at] : []));
  const changed = new Set([chance.pick(digits), chance.pick(digits)]);
  return [...model].map((character, at) => (changed.has(at) ? String((Number(character) + 3) % 10) : character)).join("");
}

function electrical(i: number, number: string, date: string, chance: Chance): Record {
  const recall = makeCase(i, chance);
  const product = recall.family.category;
  return {
    number,
    date,
    title: headline(recall),
    description: describeCase(recall, chance),
    product,
    maker: recall.family.maker,
    hazard: recall.hazard.text(product),
  };
}

function other(number: string, date: string, chance: Chance): Record {
  const good = chance.pick(goods);
  const maker = chance.pick(otherMakers);
  const hazard: Hazard = chance.pick(hazards);
  return {
    number,
    date,
    title: `${maker} Recalls ${good.title}`,
    description: good.text,
    product: good.product,
    maker,
    hazard: hazard.text(good.product),
  };
}

function dayBefore(today: string, days: number): string {
  return new Date(Date.parse(`${today}T00:00:00Z`) - days * 86_400_000).toISOString().slice(0, 10);
}

function asPublished(record: Record, i: number, chance: Chance): object {
  const { number, date, title, description, product, maker, hazard } = record;
  return {
    RecallID: 700_000 + i,
    RecallNumber: number,
    RecallDate: `${date}T00:00:00`,
    Description: description,
    URL: `https://recalls.example/${number}`,
    Title: title,
    ConsumerContact: `${maker} toll-free at 800-555-01${String(chance.whole(10, 99))} from 9 a.m. to 5 p.m. ET Monday through Friday.`,
    LastPublishDate: `${date}T00:00:00`,
    Products: [
      {
        Name: product,
        Description: "",
        Model: "",
        Type: "",
        CategoryID: "",
        NumberOfUnits: `About ${chance.whole(2, 90)},${chance.pick(["000", "400", "700"])}`,
      },
    ],
    Inconjunctions: [],
    Images: [],
    Injuries: [{ Name: chance.pick(["None reported", "The firm has received 14 reports of overheating, including two of minor burns."]) }],
    Manufacturers: [{ Name: `${maker} Inc.`, CompanyID: "" }],
    Retailers: [
      { Name: `Stores nationwide and online from March 2021 through May 2024 for about $${chance.whole(20, 400)}.`, CompanyID: "" },
    ],
    Importers: [],
    Distributors: [],
    SoldAtLabel: null,
    ManufacturerCountries: [],
    ProductUPCs: [],
    Hazards: [{ Name: hazard, HazardType: "", HazardTypeID: "" }],
    Remedies: [{ Name: chance.pick(remedies) }],
    RemedyOptions: [],
  };
}

/** The invented recall list in the record shape of the US web service: 120 notices, the newest first. `today` is `YYYY-MM-DD`. */
export function recallListJson(today: string, chance: Chance): string {
  const records = Array.from({ length: count }, (_, i) => {
    const date = dayBefore(today, i * 9 + chance.whole(0, 8));
    const number = `${date.slice(2, 4)}-${String(900 - i)}`;
    const record = i % 5 === 4 ? other(number, date, chance) : electrical(i, number, date, chance);
    return asPublished(record, i, chance);
  });
  return JSON.stringify(records, null, 1);
}
