import type { EnergyHourRow } from "@/lib/watch/energy-sum";

export const hourMs = 3_600_000;

/** A booked hour of an invented outlet, fully measured unless told otherwise. */
export function energyRow(atMs: number, watts: number, part: Partial<EnergyHourRow> = {}): EnergyHourRow {
  const measuredMs = part.measuredMs ?? hourMs;
  return {
    siteId: "s",
    unitId: "u",
    circuitId: "c",
    outletId: "o",
    receptacle: "1",
    applianceId: "a",
    atMs,
    microjoules: BigInt(Math.round(watts * 1000)) * BigInt(measuredMs),
    measuredMs,
    gapMs: hourMs - measuredMs,
    ...part,
  };
}
