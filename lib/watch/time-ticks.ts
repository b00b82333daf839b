import { instantsOf, wallClock } from "./zone-time";

const minuteMs = 60_000;
const hourMs = 60 * minuteMs;
const dayMs = 24 * hourMs;
const steps = [5 * minuteMs, 15 * minuteMs, 30 * minuteMs, hourMs, 2 * hourMs, 3 * hourMs, 6 * hourMs, 12 * hourMs].concat(
  [1, 2, 7, 14, 28, 91, 182, 364].map((days) => days * dayMs),
);

/** A tick of a time axis: the instant, and its clock or day in words. */
export interface TimeTick {
  readonly atMs: number;
  readonly label: string;
}

/** Ticks at round times of a zone's own clock, at most `most` of them: `18:00` within a day, `24 Nov` over days. */
export function timeTicks(fromMs: number, toMs: number, zone: string, most: number): TimeTick[] {
  const step = steps.find((size) => (toMs - fromMs) / size <= most) ?? Math.ceil((toMs - fromMs) / most / dayMs) * dayMs;
  const clock = new Intl.DateTimeFormat("en-GB", { hour: "2-digit", minute: "2-digit", timeZone: zone });
  const day = new Intl.DateTimeFormat("en-GB", { day: "numeric", month: "short", timeZone: zone });
  const ticks: TimeTick[] = [];
  const lastWall = wallClock(zone, toMs);
  for (let wall = Math.ceil(wallClock(zone, fromMs) / step) * step; wall <= lastWall; wall += step) {
    const atMs = instantsOf(zone, wall)[0];
    if (atMs === undefined || atMs < fromMs || atMs > toMs) continue;
    const isMidnight = wall % dayMs === 0;
    ticks.push({ atMs, label: step >= dayMs || isMidnight ? day.format(atMs) : clock.format(atMs) });
  }
  return ticks;
}
