import { hourMs } from "./energy-hour";

/** One booked hour as it is stored; `applianceId` empty is nobody known. */
export interface EnergyHourRow {
  readonly siteId: string;
  readonly unitId: string | null;
  readonly circuitId: string | null;
  readonly outletId: string;
  readonly receptacle: string;
  readonly applianceId: string;
  readonly atMs: number;
  readonly microjoules: bigint;
  readonly measuredMs: number;
  readonly gapMs: number;
}

/** One kilowatt-hour is 3.6 MJ (1 W = 1 J/s, ISO 80000-5), so 3.6e12 microjoules. */
export const microjoulesPerKilowattHour = 3_600_000_000_000n;

/** Microjoules as kilowatt-hours, for showing; sums are made in whole microjoules. */
export function kilowattHours(microjoules: bigint): number {
  const whole = microjoules / microjoulesPerKilowattHour;
  return Number(whole) + Number(microjoules - whole * microjoulesPerKilowattHour) / Number(microjoulesPerKilowattHour);
}

/** A sum over hours. `gapMs` is the time without reading: within booked hours, and whole hours between a receptacle's first and last. */
export interface EnergySum {
  readonly microjoules: bigint;
  readonly measuredMs: number;
  readonly gapMs: number;
}

export const noEnergy: EnergySum = { microjoules: 0n, measuredMs: 0, gapMs: 0 };

/** Whole hours between the first and last booked hour of each receptacle in which nothing was booked. */
function missingHours(rows: readonly EnergyHourRow[]): number {
  const hours = new Map<string, Set<number>>();
  for (const row of rows) {
    const key = `${row.outletId} ${row.receptacle}`;
    const seen = hours.get(key) ?? new Set<number>();
    seen.add(row.atMs);
    hours.set(key, seen);
  }
  let missing = 0;
  for (const seen of hours.values()) {
    let [first, last] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (const at of seen) [first, last] = [Math.min(first, at), Math.max(last, at)];
    missing += Math.max(0, Math.round((last - first) / hourMs) + 1 - seen.size);
  }
  return missing;
}

/** The energy of these hours together. */
export function sumEnergy(rows: readonly EnergyHourRow[]): EnergySum {
  let [microjoules, measuredMs, gapMs] = [0n, 0, 0];
  for (const row of rows) {
    microjoules += row.microjoules;
    measuredMs += row.measuredMs;
    gapMs += row.gapMs;
  }
  return { microjoules, measuredMs, gapMs: gapMs + missingHours(rows) * hourMs };
}

/** What a meter saw that its outlets did not: losses, hard-wired loads, outlets without readings. Negative when the outlets saw more. */
export interface MeterBalance {
  readonly metered: bigint;
  readonly outlets: bigint;
  readonly unmetered: bigint;
}

/** A meter's own rows against those of the outlets behind it, over the hours that the meter measured. */
export function meterBalance(meterRows: readonly EnergyHourRow[], outletRows: readonly EnergyHourRow[]): MeterBalance | null {
  if (meterRows.length === 0) return null;
  const hours = new Set(meterRows.map(({ atMs }) => atMs));
  const metered = sumEnergy(meterRows).microjoules;
  const outlets = sumEnergy(outletRows.filter(({ atMs }) => hours.has(atMs))).microjoules;
  return { metered, outlets, unmetered: metered - outlets };
}
