import { type DayKind, isDayOf, isHourIn, localDay, localHour } from "./energy-hour";
import { kilowattHours } from "./energy-sum";

/** Most energy of a thing in the hours `fromHour` to `toHour` (0 to 24: the whole day) of some days. */
export interface UseLimit {
  readonly kilowattHours: number;
  readonly fromHour: number;
  readonly toHour: number;
  readonly days: DayKind;
  /** First day that is judged, such as `2026-03-02`. */
  readonly validFrom: string;
}

/** A day on which a limit was passed. */
export interface LimitPassed {
  readonly day: string;
  readonly kilowattHours: number;
  readonly limit: number;
  readonly fromMs: number;
  readonly toMs: number;
  /** Time without readings in the judged hours: the true use can only be higher. */
  readonly gapMs: number;
}

/** What a thing used in one hour of the site's clock. */
export interface UsedHour {
  readonly atMs: number;
  readonly microjoules: bigint;
  readonly gapMs: number;
}

interface DaySum {
  microjoules: bigint;
  fromMs: number;
  toMs: number;
  gapMs: number;
}

/** The hours over midnight belong to the day on which they began. */
function dayOf(limit: UseLimit, zone: string | null, atMs: number): { readonly day: string; readonly weekday: number } | null {
  const { hour, weekday } = localHour(zone, atMs);
  if (!isHourIn(hour, limit.fromHour, limit.toHour)) return null;
  const startedBefore = limit.fromHour >= limit.toHour && hour < limit.toHour;
  const began = startedBefore ? atMs - (hour + 1) * 3_600_000 : atMs;
  return { day: localDay(zone, began), weekday: startedBefore ? (weekday + 6) % 7 : weekday };
}

/** The days on which the energy of these hours passed a limit, in order. The hours are those of one thing. */
export function limitPassed(limit: UseLimit, rows: readonly UsedHour[], zone: string | null): LimitPassed[] {
  const days = new Map<string, DaySum>();
  for (const row of rows) {
    const at = dayOf(limit, zone, row.atMs);
    if (at === null || at.day < limit.validFrom || !isDayOf(limit.days, at.weekday)) continue;
    const sum = days.get(at.day) ?? { microjoules: 0n, fromMs: row.atMs, toMs: row.atMs, gapMs: 0 };
    sum.microjoules += row.microjoules;
    sum.fromMs = Math.min(sum.fromMs, row.atMs);
    sum.toMs = Math.max(sum.toMs, row.atMs + 3_600_000);
    sum.gapMs += row.gapMs;
    days.set(at.day, sum);
  }
  return [...days]
    .map(([day, { microjoules, ...sum }]) => ({ day, kilowattHours: kilowattHours(microjoules), limit: limit.kilowattHours, ...sum }))
    .filter((day) => day.kilowattHours > limit.kilowattHours)
    .sort((a, b) => (a.day < b.day ? -1 : 1));
}
