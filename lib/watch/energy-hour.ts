import { wallClock } from "./zone-time";

export const hourMs = 3_600_000;

/** Gives the start of the hour of an instant on a zone's own clock, so that hours add up to local days in every zone. */
export function makeHourOf(zone: string | null): (atMs: number) => number {
  let start = Number.NaN;
  return (atMs) => {
    if (atMs >= start && atMs < start + hourMs) return start;
    const wall = wallClock(zone ?? "UTC", atMs);
    start = atMs - (wall - Math.floor(wall / hourMs) * hourMs);
    return start;
  };
}

/** The hours that a reading at an instant can be booked into, as it holds for up to `holdMs`. */
export function hoursTouched(hourOf: (atMs: number) => number, atMs: number, holdMs: number): readonly number[] {
  const first = hourOf(atMs);
  return atMs + holdMs <= first + hourMs ? [first] : [first, first + hourMs];
}

/** The day of an instant in a zone's calendar, as `2026-03-02`. */
export function localDay(zone: string | null, atMs: number): string {
  return new Date(wallClock(zone ?? "UTC", atMs)).toISOString().slice(0, 10);
}

/** The clock hour of an instant in a zone, 0 to 23, and the day of its week, 0 Sunday to 6 Saturday. */
export function localHour(zone: string | null, atMs: number): { readonly hour: number; readonly weekday: number } {
  const wall = new Date(wallClock(zone ?? "UTC", atMs));
  return { hour: wall.getUTCHours(), weekday: wall.getUTCDay() };
}

/** Days as sets of weekdays, by the name under which tariffs and limits choose them. */
export const dayKinds = ["every day", "Monday to Friday", "Saturday and Sunday"] as const;
export type DayKind = (typeof dayKinds)[number];

/** Whether a weekday (0 Sunday) is one of these days. */
export function isDayOf(kind: DayKind, weekday: number): boolean {
  const isWeekend = weekday === 0 || weekday === 6;
  return kind === "every day" || (kind === "Saturday and Sunday") === isWeekend;
}

/** Whether an hour lies in a stretch of the clock; `22` to `6` runs over midnight, `0` to `24` is the whole day. */
export function isHourIn(hour: number, fromHour: number, toHour: number): boolean {
  return fromHour < toHour ? hour >= fromHour && hour < toHour : hour >= fromHour || hour < toHour;
}
