import type { Chance } from "./chance";

export interface SeedOutlet {
  readonly site: string;
  readonly timeZone: string;
  readonly unit: string;
  readonly room: string;
  readonly circuit: string;
  readonly deviceAmps: number;
  readonly volts: number;
  readonly leg: "1" | "2";
  readonly outlet: string;
  readonly outletAmps: number;
  readonly receptacles: number;
}

interface SeedSite {
  readonly name: string;
  readonly timeZone: string;
  readonly initials: string;
  readonly floors: number;
  readonly unitsAFloor: number;
}

/** Three invented buildings, 72 units together. */
export const sites: readonly SeedSite[] = [
  { name: "Kestrel Court", timeZone: "America/Chicago", initials: "KC", floors: 9, unitsAFloor: 4 },
  { name: "Alder House", timeZone: "America/New_York", initials: "AH", floors: 6, unitsAFloor: 4 },
  { name: "Quarry Mews", timeZone: "America/Los_Angeles", initials: "QM", floors: 3, unitsAFloor: 4 },
];

/** Rooms of every unit: circuit letter, device amps, outlet amps, outlets. Legs alternate along the panel. */
const rooms = [
  { room: "kitchen", letter: "K", deviceAmps: 20, outletAmps: 20, outlets: 4 },
  { room: "living room", letter: "L", deviceAmps: 15, outletAmps: 15, outlets: 4 },
  { room: "bedroom", letter: "B", deviceAmps: 15, outletAmps: 15, outlets: 3 },
  { room: "closet", letter: "C", deviceAmps: 20, outletAmps: 15, outlets: 2 },
] as const;

/** Every outlet of the portfolio, in walking order. */
export function layOutBuildings(): SeedOutlet[] {
  return sites.flatMap((site) =>
    Array.from({ length: site.floors * site.unitsAFloor }, (_, i) => {
      const unit = `${String(Math.floor(i / site.unitsAFloor) + 1).padStart(2, "0")}${String((i % site.unitsAFloor) + 1).padStart(2, "0")}`;
      return outletsOfUnit(site, unit);
    }).flat(),
  );
}

function outletsOfUnit(site: SeedSite, unit: string): SeedOutlet[] {
  return rooms.flatMap(({ room, letter, deviceAmps, outletAmps, outlets }, r) =>
    Array.from({ length: outlets }, (_, n) => ({
      site: site.name,
      timeZone: site.timeZone,
      unit,
      room,
      circuit: `${unit}-${letter}`,
      deviceAmps,
      volts: 120,
      leg: r % 2 === 0 ? ("1" as const) : ("2" as const),
      outlet: `${site.initials}-${unit}-${letter}${n + 1}`,
      outletAmps,
      receptacles: 2,
    })),
  );
}

/** The places file of the portfolio. */
export function placesCsv(outlets: readonly SeedOutlet[]): string {
  const header = "site,unit,circuit,device_amps,volts,leg,outlet,outlet_amps,receptacles,time_zone";
  const rows = outlets.map((o) =>
    [o.site, o.unit, o.circuit, o.deviceAmps, o.volts, o.leg, o.outlet, o.outletAmps, o.receptacles, o.timeZone].join(","),
  );
  return `${[header, ...rows].join("\n")}\n`;
}

/** Rooms an appliance of a category would stand in. */
export function roomFor(category: string, chance: Chance): string {
  if (/kettle|toaster|coffee|espresso|microwave|refrigerator|dishwasher|cooker|blender/.test(category)) return "kitchen";
  if (/hair|curling|blanket/.test(category)) return "bedroom";
  if (/washing|freezer|dehumidifier|vacuum/.test(category)) return "closet";
  return chance.pick(["living room", "living room", "bedroom"]);
}
