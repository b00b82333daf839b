import type { Chance } from "./chance";
import type { SeedAppliance } from "./labels";
import type { LogLine } from "./log-line";

const minute = 60_000;
const hour = 60 * minute;
const sampleMs = 30_000;

/** When an appliance of a category runs on an ordinary day: [start, length] in milliseconds from midnight. */
function runsOfDay(category: string, chance: Chance): [number, number][] {
  const at = (from: number, to: number) => Math.round((from + chance.next() * (to - from)) * hour);
  const times = (count: number, from: number, to: number, minutes: number): [number, number][] =>
    Array.from({ length: count }, () => [at(from, to), (minutes + chance.next() * minutes * 0.4) * minute]);
  if (/heater/.test(category)) return Array.from({ length: 9 }, (_, i) => [at(17.5 + i * 0.5, 17.6 + i * 0.5), 16 * minute]);
  if (/refrigerator|freezer/.test(category))
    return Array.from({ length: 20 }, (_, i) => [i * 1.2 * hour + chance.next() * 10 * minute, 24 * minute]);
  if (/dehumidifier|conditioner|fan/.test(category)) return times(5, 9, 20, 30);
  if (/television|monitor|sound/.test(category)) return [[at(18, 19), 2.5 * hour]];
  if (/kettle|toaster|coffee|espresso|microwave/.test(category)) return times(chance.whole(2, 4), 6, 21, 4);
  if (/lamp/.test(category)) return [[at(17, 18), 4 * hour]];
  if (/dishwasher|washing/.test(category)) return chance.happens(0.5) ? times(1, 19, 20, 50) : [];
  return chance.happens(0.6) ? times(1, 8, 20, 12) : [];
}

/** How many times its running draw an appliance takes in its first second (orders of magnitude common in the trade, from memory). */
function inrushOf(category: string): number {
  if (/refrigerator|freezer|dehumidifier|conditioner|vacuum/.test(category)) return 5;
  return /lamp|television|monitor|sound/.test(category) ? 3 : 1.1;
}

/** Settings of one day of one receptacle. */
export interface Day {
  readonly startMs: number;
  readonly appliance: SeedAppliance;
  /** Share of the rated input that the appliance takes when it runs. */
  readonly share: number;
  readonly nominalVolts: number;
  /** How often the outlet tells while nothing runs, ms; half an hour where it is not said. */
  readonly idleMs?: number;
  /** How many times as long as usual each run lasts. */
  readonly lengthFactor?: number;
  /** Nothing runs in this stretch of time, as somebody asked. */
  readonly off?: { readonly fromMs: number; readonly toMs: number } | undefined;
}

const idleWatts = 0.4;

/** The readings of an ordinary day: a spike at each start, steady draw every half minute, and idle readings between the runs. */
export function ordinaryDay(day: Day, chance: Chance): LogLine[] {
  const { category, watts, maxLampWatts } = day.appliance.family;
  const isOff = (start: number) => day.off !== undefined && day.startMs + start >= day.off.fromMs && day.startMs + start < day.off.toMs;
  const runs = withoutOverlap(runsOfDay(category, chance)).flatMap(([start, length]): [number, number][] =>
    isOff(start) ? [] : [[start, length * (day.lengthFactor ?? 1)]],
  );
  const steady = (maxLampWatts ?? watts) * day.share;
  const lines = runs.flatMap(([start, length]) => oneRun({ ...day, startMs: day.startMs + start }, length, steady, chance));
  const { idleMs = 30 * minute } = day;
  for (let at = 0; at < 24 * hour; at += idleMs) {
    const near = Math.min(minute, idleMs - 1);
    if (!runs.some(([start, length]) => at >= start - near && at <= start + length + near))
      lines.push(reading(day, day.startMs + at, idleWatts, chance));
  }
  return lines;
}

function withoutOverlap(runs: [number, number][]): [number, number][] {
  const sorted = [...runs].sort((a, b) => a[0] - b[0]);
  return sorted.filter(([start], i) => {
    const before = sorted[i - 1];
    return before === undefined || start > before[0] + before[1] + 2 * minute;
  });
}

/** One run at a steady draw, with the start-up of its kind and the switch-off. */
export function oneRun(day: Day, lengthMs: number, steadyWatts: number, chance: Chance): LogLine[] {
  const lines = [reading(day, day.startMs, steadyWatts * inrushOf(day.appliance.family.category), chance)];
  for (let at = 1000; at < lengthMs; at += at === 1000 ? sampleMs - 1000 : sampleMs)
    lines.push(reading(day, day.startMs + at, steadyWatts, chance));
  lines.push(reading(day, day.startMs + lengthMs, idleWatts, chance));
  return lines;
}

/** A reading with half a percent of noise; the voltage sags a little under load, and resistive draw follows its square. */
export function reading(day: Day, atMs: number, watts: number, chance: Chance): LogLine {
  const volts = day.nominalVolts - watts / 1000 + (chance.next() - 0.5);
  const { place, receptacle, tag } = day.appliance;
  return { atMs: Math.round(atMs), outlet: place.outlet, receptacle, tag, watts: watts * (0.995 + chance.next() * 0.01), volts };
}
