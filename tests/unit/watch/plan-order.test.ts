import { expect, test } from "vitest";
import type { PlannedOutlet } from "@/lib/watch/outlet-plan";
import { makeScreening } from "@/lib/watch/screening";

const startMs = Date.parse("2026-03-02T18:00:00Z");
const outlets: PlannedOutlet[] = Array.from({ length: 40 }, (_, i) => ({
  site: "Alder House",
  timeZone: "America/Chicago",
  unit: null,
  circuit: `C-${i}`,
  deviceAmps: 20,
  volts: 120,
  leg: i < 20 ? "1" : "2",
  outlet: `A-${i}`,
  outletAmps: 20,
  receptacles: 2,
}));

/** Every outlet says 120 V once and falls silent; two minutes later one outlet of each leg shows a lost neutral for 90 s. */
function results(plan: readonly PlannedOutlet[]) {
  const screening = makeScreening({ outlets: plan, appliances: [] });
  const empty = { receptacle: "1", tag: null, watts: 0, amps: null, powerFactor: null, event: null, cause: null };
  for (let i = 0; i < 40; i++) screening.take({ ...empty, atMs: startMs, outlet: `A-${i}`, volts: 120 });
  for (let seconds = 120; seconds <= 210; seconds += 15)
    for (const [outlet, volts] of [
      ["A-3", 138],
      ["A-33", 102],
    ] as const)
      screening.take({ ...empty, atMs: startMs + seconds * 1000, outlet, volts });
  return screening.finish().results;
}

// Legs of a split-phase supply with an open neutral divide twice nominal: 138 + 102 = 240 V (physics).
test("a lost neutral is found from its first readings on, and the order of the plan does not matter", () => {
  const found = results(outlets);
  expect(found.map(({ kind, value, fromMs }) => [kind, value, fromMs])).toEqual([["lost_neutral", 138, startMs + 120_000]]);
  expect(results([...outlets].reverse())).toEqual(found);
});
