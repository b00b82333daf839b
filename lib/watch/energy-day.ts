import { localDay } from "./energy-hour";
import { type EnergyHourRow, type EnergySum, sumEnergy } from "./energy-sum";
import { grouped } from "./grouped";

/** One day of the site's calendar. */
export interface EnergyDay extends EnergySum {
  /** Such as `2026-03-02`. */
  readonly day: string;
  /** Share of the day's booked receptacle time that was measured; hours without any reading of the day count against it. */
  readonly measuredShare: number;
}

/** Days of which at least this share was measured are compared; others are left out and counted. Own choice, no source. */
export const completeShare = 0.9;

const dayMs = 86_400_000;

/** Booked hours as days, in order. `measuredShare` is of the whole day for each receptacle that has readings on it. */
export function energyDays(rows: readonly EnergyHourRow[], zone: string | null): EnergyDay[] {
  return [...grouped(rows, ({ atMs }) => localDay(zone, atMs))].map(([day, own]) => {
    const sum = sumEnergy(own);
    const receptacles = new Set(own.map(({ outletId, receptacle }) => `${outletId} ${receptacle}`)).size;
    return { day, ...sum, measuredShare: Math.min(1, sum.measuredMs / (receptacles * dayMs)) };
  });
}

/** Whether enough of a day was measured to compare it. */
export function isComplete(day: Pick<EnergyDay, "measuredShare">): boolean {
  return day.measuredShare >= completeShare;
}
