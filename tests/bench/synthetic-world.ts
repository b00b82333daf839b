import type { NoticeToIndex } from "@/lib/matching/covered-notice";
import type { Coverage } from "@/lib/notices/coverage";
import { Random } from "./random";

/**
 * An invented world of makers, model families and notices with the statistics of real lists: 30 % of notices name no
 * model, the others a geometric list of about five (93 % exact, 5 % beginnings, 1 % wildcards, 1 % ranges); 6 % name two
 * brands, 6 % of those with an open pattern exclude something, 35 % have a manufacture window. Members of a family differ in
 * their last two or three signs, so neighbours of a listed model are common and about 4 % of a registry are truly recalled.
 */
export interface Family {
  readonly brand: number;
  readonly kind: string;
  /** `A` any letter, `0` any digit, others stand for themselves; the variable places come last. */
  readonly fixed: string;
  readonly variable: string;
}

export interface World {
  readonly brands: readonly string[];
  readonly families: readonly Family[];
  readonly familiesOfBrand: readonly (readonly number[])[];
  readonly notices: readonly SyntheticNotice[];
}

export interface SyntheticNotice {
  readonly toIndex: NoticeToIndex;
  readonly brandIds: readonly number[];
  readonly familyIds: readonly number[];
  readonly kind: string;
}

const kinds =
  "space heater,refrigerator,microwave oven,toaster,kettle,coffee maker,vacuum cleaner,hair dryer,desk lamp,ceiling fan,box fan,dehumidifier,air conditioner,television,monitor,printer,power strip,blender,pressure cooker,iron,dishwasher,air fryer".split(
    ",",
  );
const templates = "AA-00|00,AAA00|00,AA-0000|00,000-00|0A,AAA-00|00,A000|00A,AA00|00,AAA00|000,00-0|000,AAAA0|00".split(",");
const syllables = "bra,vel,tor,min,ost,qui,lan,dre,fen,gar,hul,jor,kes,lum,mor,nar,pel,rin,sov,tul,ver,wyn,zor,dak".split(",");
const letters = "ABCDEFGHJKLMNPQRSTUVWXYZ";

function brandName(random: Random, at: number): string {
  const name = Array.from({ length: 2 + random.below(2) }, () => random.pick(syllables)).join("");
  const capital = name[0]?.toUpperCase() + name.slice(1) + syllables[at % syllables.length];
  return random.chance(0.2) ? `${capital} ${random.pick(["Home", "Electric", "Works", "Crest"])}` : capital;
}

/** Fills a template's letters and digits. */
export function filled(random: Random, template: string): string {
  return [...template].map((sign) => (sign === "A" ? random.pick([...letters]) : sign === "0" ? String(random.below(10)) : sign)).join("");
}

function makeFamily(random: Random, brands: number): Family {
  const [fixed = "", variable = ""] = random.pick(templates).split("|");
  return { brand: random.zipf(brands), kind: random.pick(kinds), fixed: filled(random, fixed), variable };
}

export function memberOf(random: Random, family: Family): string {
  return family.fixed + filled(random, family.variable);
}

/** The members from one to a later one that differ in the last sign, as a notice's range of models is understood: one by one. */
function rangeOf(random: Random, family: Family): string[] {
  const signs = family.variable.endsWith("A") ? letters : "0123456789";
  const head = family.fixed + filled(random, family.variable.slice(0, -1));
  const first = random.below(signs.length - 2);
  return [...signs.slice(first, first + 2 + random.below(4))].map((sign) => head + sign);
}

function statementOf(random: Random, family: Family): string[] {
  const draw = random.next();
  if (draw < 0.93) return [memberOf(random, family)];
  if (draw < 0.98) return [`${family.fixed}${filled(random, family.variable.slice(0, -1))}*`];
  return draw < 0.99 ? [`${family.fixed}${family.variable.replaceAll("0", "#").replaceAll("A", "@")}`] : rangeOf(random, family);
}

function exclusionOf(random: Random, pattern: string): string[] {
  const open = pattern.search(/[*#@]/);
  return open < 0 || !random.chance(0.06)
    ? []
    : [`${pattern.slice(0, open)}${random.below(10)}${pattern.length - open > 1 ? pattern.slice(open + 1) : "*"}`];
}

function madeWindow(random: Random): Coverage["made"] {
  if (!random.chance(0.35)) return [];
  const year = 2008 + random.below(15);
  return [{ from: `${year}-0${1 + random.below(9)}-01`, to: `${year + 1 + random.below(2)}-0${1 + random.below(9)}-28` }];
}

function makeNotice(random: Random, world: Omit<World, "notices">, at: number): SyntheticNotice {
  const first = random.below(world.families.length);
  const family = world.families[first] as Family;
  const ofBrand = world.familiesOfBrand[family.brand] ?? [first];
  const hasModels = !random.chance(0.3);
  const familyIds = hasModels ? [first, ...(random.chance(0.3) ? [random.pick(ofBrand)] : [])] : [first];
  const count = hasModels ? random.geometric(5) : 0;
  const include = Array.from({ length: count }, () => statementOf(random, world.families[random.pick(familyIds)] as Family)).flat();
  const brandIds = [family.brand, ...(random.chance(0.06) ? [random.below(world.brands.length)] : [])];
  const coverage: Coverage = {
    notice: `S-${at}`,
    brands: brandIds.map((id) => world.brands[id] ?? ""),
    products: [...new Set(familyIds.map((id) => world.families[id]?.kind ?? ""))],
    models: {
      stated: hasModels ? "listed" : "none",
      include: [...new Set(include)],
      exclude: include.flatMap((pattern) => exclusionOf(random, pattern)),
    },
    serials: [],
    dateCodes: [],
    made: hasModels ? madeWindow(random) : [],
    upcs: [],
    spans: [],
  };
  return { toIndex: { key: coverage.notice, coverage, notice: { title: "", description: "" } }, brandIds, familyIds, kind: family.kind };
}

export interface WorldSize {
  readonly brands: number;
  readonly families: number;
  readonly notices: number;
  readonly seed: number;
}

/** Builds the world; more notices of the same seed begin with the same ones. */
export function makeWorld({ brands: brandCount, families: familyCount, notices: noticeCount, seed }: WorldSize): World {
  const random = new Random(seed);
  const brands = Array.from({ length: brandCount }, (_, at) => brandName(random, at));
  const families = Array.from({ length: familyCount }, () => makeFamily(random, brandCount));
  const familiesOfBrand: number[][] = brands.map(() => []);
  for (const [id, family] of families.entries()) familiesOfBrand[family.brand]?.push(id);
  const world = { brands, families, familiesOfBrand };
  return { ...world, notices: Array.from({ length: noticeCount }, (_, at) => makeNotice(random, world, at)) };
}
