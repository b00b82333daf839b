import { issueTagCode } from "@/lib/identity/tag-code";
import { roomFor, type SeedOutlet } from "./buildings";
import type { Chance } from "./chance";
import { type Family, families } from "./makers";

/** One invented appliance as a surveyor would have written it down. */
export interface SeedAppliance {
  readonly tag: string;
  readonly family: Family;
  readonly model: string;
  readonly serial: string | null;
  /** Year and ISO week of manufacture, `YYWW`. */
  readonly dateCode: string;
  readonly place: SeedOutlet;
  /** 1 or 2, or null when it is not plugged in. */
  readonly receptacle: number | null;
  readonly brandAsRead: string;
  readonly modelAsRead: string;
  readonly madeKnown: boolean;
  readonly plateRead: boolean;
}

const perUnit = 22;

function pickFamily(chance: Chance): Family {
  let left = chance.next() * families.reduce((sum, family) => sum + family.share, 0);
  for (const family of families) {
    left -= family.share;
    if (left < 0) return family;
  }
  return chance.pick(families);
}

/** What reading a label does to a code: a dash lost, a letter taken for a digit, small letters. */
function asRead(code: string, chance: Chance): string {
  if (chance.happens(0.08)) return code.replaceAll("-", "");
  if (chance.happens(0.04)) return code.replace("0", "O");
  return chance.happens(0.05) ? code.toLowerCase() : code;
}

function brandAsRead(maker: string, chance: Chance): string {
  if (chance.happens(0.06)) return `${maker} Inc.`;
  return chance.happens(0.1) ? maker.toUpperCase() : maker;
}

/** Fills every unit with appliances, two a wall outlet at most, the rest kept in the unit. */
export function furnish(outlets: readonly SeedOutlet[], chance: Chance): SeedAppliance[] {
  const tags = new Set<string>();
  const byUnit = groupByUnit(outlets);
  return [...byUnit.values()].flatMap((unitOutlets) => {
    const free = unitOutlets.flatMap((place) => [1, 2].map((receptacle) => ({ place, receptacle })));
    return Array.from({ length: perUnit }, () => makeAppliance(free, unitOutlets, tags, chance));
  });
}

function groupByUnit(outlets: readonly SeedOutlet[]): Map<string, SeedOutlet[]> {
  const groups = new Map<string, SeedOutlet[]>();
  for (const outlet of outlets) {
    const key = `${outlet.site}/${outlet.unit}`;
    groups.set(key, [...(groups.get(key) ?? []), outlet]);
  }
  return groups;
}

function makeAppliance(
  free: { place: SeedOutlet; receptacle: number }[],
  unitOutlets: readonly SeedOutlet[],
  tags: Set<string>,
  chance: Chance,
): SeedAppliance {
  const family = pickFamily(chance);
  const room = roomFor(family.category, chance);
  const at = free.findIndex(({ place }) => place.room === room);
  const spot = at >= 0 && chance.happens(0.9) ? free.splice(at, 1)[0] : undefined;
  const model = chance.pick(family.models);
  const dateCode = `${chance.whole(21, 25)}${String(chance.whole(1, 52)).padStart(2, "0")}`;
  const serial = chance.happens(0.8) ? `${family.serialLetters}${dateCode}-${String(chance.whole(1, 99_999)).padStart(5, "0")}` : null;
  return {
    tag: freshTag(tags, chance),
    family,
    model,
    serial,
    dateCode,
    place: spot?.place ?? chance.pick(unitOutlets),
    receptacle: spot?.receptacle ?? null,
    brandAsRead: brandAsRead(family.maker, chance),
    modelAsRead: asRead(model, chance),
    madeKnown: chance.happens(0.35),
    plateRead: chance.happens(0.95),
  };
}

function freshTag(tags: Set<string>, chance: Chance): string {
  for (;;) {
    const tag = issueTagCode((n) => chance.whole(0, n - 1));
    if (tags.has(tag)) continue;
    tags.add(tag);
    return tag;
  }
}

const header =
  "tag,site,unit,outlet,receptacle,category,brand,model,serial,made,rated_volts,rated_hertz,rated_watts,rated_amps,label_text,class,max_lamp_watts,mark,upc,owner,notes,date_code";

function quoted(cell: string): string {
  return /[",\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
}

/** The labels file of the portfolio. Some rows carry columns, some the plate's text, some hardly anything: as surveys are. */
export function labelsCsv(appliances: readonly SeedAppliance[], chance: Chance): string {
  return `${[header, ...appliances.map((appliance) => labelRow(appliance, chance).map(quoted).join(","))].join("\n")}\n`;
}

function labelRow(a: SeedAppliance, chance: Chance): string[] {
  const { watts, protectionClass, maxLampWatts, category } = a.family;
  const amps = (watts / 120).toFixed(1);
  const asText = chance.happens(0.3);
  const rating = maxLampWatts === undefined ? `120V~ 60Hz ${watts}W` : `120V~ 60Hz MAX ${maxLampWatts}W TYPE A`;
  const text = `${a.brandAsRead} | MODEL ${a.modelAsRead} | ${a.serial ? `S/N ${a.serial} | ` : ""}${rating} | DATE CODE ${a.dateCode}`;
  const columns = a.plateRead && !asText;
  const lamp = maxLampWatts !== undefined;
  return [
    a.tag,
    a.place.site,
    a.place.unit,
    a.receptacle === null ? "" : a.place.outlet,
    a.receptacle === null ? "" : chance.pick([String(a.receptacle), a.receptacle === 1 ? "upper" : "lower"]),
    category,
    a.brandAsRead,
    asText ? "" : a.modelAsRead,
    asText ? "" : (a.serial ?? ""),
    a.madeKnown ? `20${a.dateCode.slice(0, 2)}` : "",
    columns ? "120" : "",
    columns ? "60" : "",
    columns && !lamp ? String(watts) : "",
    columns && !lamp && chance.happens(0.5) ? amps : "",
    asText ? text : "",
    columns ? protectionClass : "",
    columns && lamp ? String(maxLampWatts) : "",
    chance.happens(0.7) ? chance.pick(["listed", "certified", ""]) : "",
    "",
    chance.pick(["occupant", "occupant", "building", "office"]),
    "",
    columns && chance.happens(0.6) ? a.dateCode : "",
  ];
}
