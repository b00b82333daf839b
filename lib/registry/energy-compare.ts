import type { Db } from "@/lib/store/client";
import { type EnergyScope, receptacleSpans, sumByHour } from "@/lib/store/energy-queries";
import { completeShare } from "@/lib/watch/energy-day";
import { hourMs, localDay } from "@/lib/watch/energy-hour";
import { kilowattHours } from "@/lib/watch/energy-sum";

/** Confidence of the interval that is shown. Common practice, no source. */
export const confidence = 0.95;

/** The days of a period that can be compared: those of which enough was measured. */
export interface ComparedDays {
  readonly fromMs: number;
  readonly toMs: number;
  /** Kilowatt-hours of each such day. */
  readonly values: readonly number[];
  /** Days with readings, of which too little was measured. */
  readonly leftOut: number;
}

/** Daily energy of a scope in a period; a day counts when 90 % of its receptacle hours were measured. */
export async function comparedDays(
  db: Db,
  scope: EnergyScope,
  { fromMs, toMs, zone }: { readonly fromMs: number; readonly toMs: number; readonly zone: string },
): Promise<ComparedDays> {
  const [hours, { receptacles }] = await Promise.all([sumByHour(db, scope, fromMs, toMs), receptacleSpans(db, scope, fromMs, toMs)]);
  const days = new Map<string, { microjoules: bigint; measuredMs: number }>();
  for (const { atMs, microjoules, measuredMs } of hours) {
    const day = localDay(zone, atMs);
    const sum = days.get(day) ?? { microjoules: 0n, measuredMs: 0 };
    sum.microjoules += microjoules;
    sum.measuredMs += measuredMs;
    days.set(day, sum);
  }
  const whole = [...days.values()].filter(({ measuredMs }) => measuredMs >= completeShare * Math.max(1, receptacles) * 24 * hourMs);
  return { fromMs, toMs, values: whole.map(({ microjoules }) => kilowattHours(microjoules)), leftOut: days.size - whole.length };
}
