import { completeShare } from "./energy-day";
import { hourMs, localDay, localHour } from "./energy-hour";
import { type EnergyHourRow, kilowattHours } from "./energy-sum";
import { instantsOf, wallClock } from "./zone-time";

/** A time in which less was asked for; whole hours of the site's clock. */
export interface DemandStretch {
  readonly fromMs: number;
  readonly toMs: number;
}

/** How an event is compared: with how many similar days, not further back than this, other events left out. */
export interface DemandMethod {
  readonly similarDays: number;
  readonly lookBackDays: number;
  readonly zone: string | null;
  readonly otherEvents: readonly DemandStretch[];
}

/** One thing in an event against its own baseline. */
export interface DemandAnswer {
  readonly kilowattHours: number;
  /** Share of the event's time that was measured. */
  readonly measuredShare: number;
  /** The similar days that were used, the latest first. */
  readonly days: readonly { readonly day: string; readonly kilowattHours: number }[];
  /** Mean of the same hours on those days; null when there was none. */
  readonly baseline: number | null;
  readonly lowest: number | null;
  readonly highest: number | null;
  /** Baseline minus event: what was saved; negative when more was used. */
  readonly saved: number | null;
  /** True where the event's use is below that of every similar day. */
  readonly isClear: boolean;
}

const dayMs = 86_400_000;
const isWeekend = (weekday: number) => weekday === 0 || weekday === 6;

/** The same wall-clock stretch some days earlier; null where the clock change of that day leaves it out. */
function shifted({ fromMs, toMs }: DemandStretch, zone: string | null, days: number): DemandStretch | null {
  const wall = wallClock(zone ?? "UTC", fromMs) - days * dayMs;
  const from = instantsOf(zone ?? "UTC", wall)[0];
  return from === undefined ? null : { fromMs: from, toMs: from + (toMs - fromMs) };
}

const overlap = (a: DemandStretch, b: DemandStretch) => a.fromMs < b.toMs && b.fromMs < a.toMs;

function energyIn(rows: readonly EnergyHourRow[], { fromMs, toMs }: DemandStretch) {
  let [microjoules, measured] = [0n, 0];
  const seen = new Set<string>();
  for (const row of rows) {
    if (row.atMs < fromMs || row.atMs >= toMs) continue;
    microjoules += row.microjoules;
    measured += row.measuredMs;
    seen.add(`${row.outletId} ${row.receptacle}`);
  }
  const wanted = (toMs - fromMs) * Math.max(1, seen.size);
  return { kilowattHours: kilowattHours(microjoules), measuredShare: Math.min(1, measured / wanted) };
}

/**
 * Compares an event with the mean of the same hours on the last N similar days before it (weekdays with weekdays, weekends with
 * weekends, other events' days and days hardly measured left out). Averaging recent similar days is common practice in demand
 * response programmes; no source is claimed for N. A day on which the thing was not plugged in is not similar.
 */
export function demandAnswer(rows: readonly EnergyHourRow[], event: DemandStretch, method: DemandMethod): DemandAnswer {
  const { zone, similarDays, lookBackDays, otherEvents } = method;
  const eventDay = localHour(zone, event.fromMs).weekday;
  const days: { day: string; kilowattHours: number }[] = [];
  for (let back = 1; back <= lookBackDays && days.length < similarDays; back++) {
    const stretch = shifted(event, zone, back);
    if (stretch === null || overlap(stretch, event) || otherEvents.some((other) => overlap(stretch, other))) continue;
    if (isWeekend(localHour(zone, stretch.fromMs).weekday) !== isWeekend(eventDay)) continue;
    const use = energyIn(rows, stretch);
    if (use.measuredShare >= completeShare) days.push({ day: localDay(zone, stretch.fromMs), kilowattHours: use.kilowattHours });
  }
  const values = days.map((day) => day.kilowattHours);
  const baseline = values.length === 0 ? null : values.reduce((sum, value) => sum + value, 0) / values.length;
  const use = energyIn(rows, event);
  return {
    ...use,
    days,
    baseline,
    lowest: values.length === 0 ? null : Math.min(...values),
    highest: values.length === 0 ? null : Math.max(...values),
    saved: baseline === null ? null : baseline - use.kilowattHours,
    isClear: values.length > 0 && use.kilowattHours < Math.min(...values),
  };
}

/** Whether a stretch is whole hours of a zone's clock, at least one and at most a day. */
export function isWholeHours({ fromMs, toMs }: DemandStretch, zone: string | null): boolean {
  const length = toMs - fromMs;
  return length >= hourMs && length <= dayMs && length % hourMs === 0 && wallClock(zone ?? "UTC", fromMs) % hourMs === 0;
}
