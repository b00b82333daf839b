import type { Chance } from "./chance";
import { faultLines } from "./faults";
import { followedIdleMs, isFollowedClosely, lengthFactor, offStretch } from "./followed-closely";
import type { SeedAppliance } from "./labels";
import { type LogLine, logCsvLine, logHeader } from "./log-line";
import { type Day, ordinaryDay } from "./running";

export const logDays = 30;
const dayMs = 86_400_000;
const aroundMs = 120_000;

/** The categories worth metering first; the demo meters at most three of each, spread over the buildings. */
const metered = [
  "convection heater",
  "space heater",
  "dehumidifier",
  "toaster",
  "kettle",
  "microwave oven",
  "coffee maker",
  "refrigerator",
  "desk lamp",
  "tower fan",
  "television",
  "vacuum cleaner",
  "air conditioner",
  "washing machine",
];

/** Which of the appliances have a measuring outlet: plugged-in ones with a rating, no two of them on one circuit. */
export function chooseMetered(appliances: readonly SeedAppliance[]): SeedAppliance[] {
  const circuits = new Set<string>();
  const isFree = ({ place }: SeedAppliance) => !circuits.has(`${place.site}/${place.circuit}`);
  const plugged = appliances.filter((appliance) => appliance.receptacle !== null && appliance.plateRead);
  return metered.flatMap((category) => {
    const all = plugged.filter((appliance) => appliance.family.category === category && isFree(appliance));
    const step = Math.max(1, Math.floor(all.length / 3));
    const chosen = all.filter((appliance, i) => i % step === 0 && isFree(appliance)).slice(0, 3);
    for (const { place } of chosen) circuits.add(`${place.site}/${place.circuit}`);
    return chosen;
  });
}

/** Ordinary life makes way for a fault: while one is told of a receptacle, and at its old outlet once a tag was carried elsewhere. */
function makeWayFor(faults: readonly LogLine[], homes: ReadonlyMap<string, string>): (line: LogLine) => boolean {
  const told = new Map<string, number[]>();
  const carried = new Map<string, number>();
  for (const { tag, outlet, receptacle, atMs } of faults) {
    const key = `${outlet}/${receptacle}`;
    told.set(key, [...(told.get(key) ?? []), Math.floor(atMs / aroundMs)]);
    if (tag && homes.has(tag) && homes.get(tag) !== outlet) carried.set(tag, Math.min(atMs, carried.get(tag) ?? atMs));
  }
  const busy = new Map([...told].map(([key, stretches]) => [key, new Set(stretches)]));
  return ({ tag, outlet, receptacle, atMs }) => {
    const stretch = Math.floor(atMs / aroundMs);
    const near = busy.get(`${outlet}/${receptacle}`);
    const inFault = near ? near.has(stretch) || near.has(stretch - 1) || near.has(stretch + 1) : false;
    return !inFault && !(tag && atMs >= (carried.get(tag) ?? Number.POSITIVE_INFINITY));
  };
}

/** The wearing compressor of the second refrigerator: from day 24 on it draws a fifth more, still below its rating. */
function shareOf(appliance: SeedAppliance, i: number, day: number): number {
  const ageing = appliance.family.category === "refrigerator" && i % 3 === 1;
  const base = appliance.family.category === "refrigerator" ? 0.78 : 0.93 + (i % 5) * 0.01;
  return ageing && day >= 24 ? base * 1.2 : base;
}

/**
 * The outlet log of the thirty days before `endMs` (a midnight, UTC) as CSV text, a day a piece, in time order: ordinary running
 * of the metered appliances with the demo's faults among it.
 */
export function* outletLogCsv(appliances: readonly SeedAppliance[], endMs: number, chance: Chance): Generator<string> {
  const chosen = chooseMetered(appliances);
  const faults = faultLines({ day: (daysAgo) => endMs - daysAgo * dayMs - dayMs, metered: chosen, chance });
  const ordinary = makeWayFor(faults, new Map(chosen.map((appliance) => [appliance.tag, appliance.place.outlet])));
  const closely = (appliance: SeedAppliance, day: number): Partial<Day> =>
    isFollowedClosely(appliance)
      ? { idleMs: followedIdleMs, lengthFactor: lengthFactor(appliance, day), off: offStretch(appliance, endMs) }
      : {};
  yield `${logHeader}\n`;
  for (let day = 0; day < logDays; day += 1) {
    const startMs = endMs - (logDays - day) * dayMs;
    const lines: LogLine[] = chosen.flatMap((appliance, i) =>
      ordinaryDay({ appliance, startMs, share: shareOf(appliance, i, day), nominalVolts: 120, ...closely(appliance, day) }, chance).filter(
        (line) => line.atMs < startMs + dayMs && ordinary(line),
      ),
    );
    lines.push(...faults.filter((line) => line.atMs >= startMs && line.atMs < startMs + dayMs));
    lines.sort((a, b) => a.atMs - b.atMs || (a.outlet < b.outlet ? -1 : a.outlet > b.outlet ? 1 : 0));
    yield `${lines.map(logCsvLine).join("\n")}\n`;
  }
}
