import { parseRatingText } from "@/lib/electrical/parse-rating";
import type { PlannedOutlet } from "@/lib/watch/outlet-plan";
import type { Reading } from "@/lib/watch/reading";
import type { ScreenedAppliance } from "@/lib/watch/screened-appliance";
import { makeScreening } from "@/lib/watch/screening";

/** Noon of an invented day, ms. */
export const noon = Date.UTC(2026, 2, 1, 12);
export const seconds = 1000;
export const minutes = 60_000;
export const hours = 3_600_000;
export const days = 86_400_000;

/** A reading with everything unknown but what is given; `at` is ms after noon. */
export function row(at: number, cells: Partial<Omit<Reading, "atMs">> = {}): Reading {
  return {
    atMs: noon + at,
    outlet: "O1",
    receptacle: "1",
    tag: null,
    watts: null,
    amps: null,
    volts: null,
    powerFactor: null,
    event: null,
    cause: null,
    ...cells,
  };
}

/** One row every `every` ms from `from` to before `to`, by `cells` of the time. */
export function rows(from: number, to: number, cells: (at: number) => Partial<Omit<Reading, "atMs">>, every = seconds): Reading[] {
  return Array.from({ length: Math.ceil((to - from) / every) }, (_, index) => row(from + index * every, cells(from + index * every)));
}

export function outlet(cells: Partial<PlannedOutlet> = {}): PlannedOutlet {
  return {
    site: "Alder House",
    timeZone: "America/Chicago",
    unit: null,
    circuit: null,
    deviceAmps: null,
    volts: 120,
    leg: null,
    outlet: "O1",
    outletAmps: null,
    receptacles: 2,
    ...cells,
  };
}

export function appliance(plate: string, category: string | null, cells: Partial<ScreenedAppliance> = {}): ScreenedAppliance {
  return { tag: "T1", site: "Alder House", outlet: "O1", receptacle: "1", category, rating: parseRatingText(plate), ...cells };
}

/** Screens a log and gives the results with their counts. */
export function screen(
  log: readonly Reading[],
  outlets: readonly PlannedOutlet[] = [outlet()],
  appliances: readonly ScreenedAppliance[] = [],
) {
  const screening = makeScreening({ outlets, appliances });
  for (const reading of log) screening.take(reading);
  return screening.finish();
}

/** The results in a line each: kind, place, tag. */
export function kinds(found: ReturnType<typeof screen>): string[] {
  return found.results.map(({ kind, outlet: at, tag }) => [kind, at, tag].filter((part) => part !== null).join(" "));
}
