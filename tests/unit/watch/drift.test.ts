import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { baselineDaysWords, baselineStretch } from "@/lib/watch/documented-baseline";
import { DrawHistograms } from "@/lib/watch/draw-histograms";
import type { Reading } from "@/lib/watch/reading";
import { makeScreening } from "@/lib/watch/screening";
import { appliance, days, hours, kinds, minutes, outlet, row, screen } from "./log-builder";

const plan = [outlet({ timeZone: "UTC" })];
const vacuum = appliance("120V 1200W", "vacuum cleaner");

/** An hour of running each day, by the day's draw; null is a day without readings. */
function daily(draws: readonly (number | null)[], volts: number | null = null) {
  return draws.flatMap((watts, day) =>
    watts === null ? [] : Array.from({ length: 60 }, (_, at) => row(day * days - 12 * hours + at * minutes, { watts, volts })),
  );
}

const drift = (draws: readonly (number | null)[], screened = vacuum) => kinds(screen(daily(draws), plan, [screened]));
const week = Array<number>(7).fill(800);

describe("drift", () => {
  it("is a daily median at least 16 % above the baseline on three days in a row", () => {
    expect(drift([...week, 930, 930, 930])).toEqual(["drift O1 T1"]);
    expect(drift([...week, 925, 925, 925])).toEqual([]);
    expect(drift([...week, 930, 930, 800, 930])).toEqual([]);
  });

  it("counts days with readings, and passes over days without", () => {
    expect(drift([...week, 930, null, 930, null, null, 930])).toEqual(["drift O1 T1"]);
  });

  it("needs seven days with readings for the baseline", () => {
    expect(drift([800, 800, 800, 800, 800, 800, 930, 930, 930, 930])).toEqual(["drift O1 T1"]);
    expect(drift([800, 800, 800, 930, 930, 930])).toEqual([]);
  });

  it("is below the rating; above it the draw is over rating instead", () => {
    expect(drift([...week, 1500, 1500, 1500])).not.toContain("drift O1 T1");
  });

  it("shows value, limit and days", () => {
    const found = screen(daily([...week, 1000, 1000, 1000]), plan, [vacuum]);
    expect(found.results[0]).toMatchObject({ kind: "drift", limit: 928, unit: "W" });
    expect(found.results[0]?.value).toBeCloseTo(1000, 0);
  });

  it("of a resistive load is not the line's: 800 W at 120 V and 938 W at 130 V are one load", () => {
    const heater = appliance("120V 1200W", "space heater");
    const log = [...daily(week, 120), ...daily([...Array(7).fill(null), 938.9, 938.9, 938.9], 130)];
    expect(kinds(screen(log, plan, [heater])).filter((kind) => kind.startsWith("drift"))).toEqual([]);
  });
});

describe("a documented baseline", () => {
  const documented = (from: string, to: string, timeZone = "UTC") =>
    appliance("120V 1200W", "vacuum cleaner", { baseline: { from, to, timeZone } });
  const reasons = (draws: readonly (number | null)[], screened: ReturnType<typeof appliance>) =>
    screen(daily(draws), plan, [screened]).results.map((result) => [result.kind, Math.round(result.limit), result.reasons[1]]);
  // The first day of `daily` is 1 March 2026.
  const second = documented("2026-03-08", "2026-03-09");
  const told = "Baseline of 8 to 9 March 2026, documented.";

  it.each<[string, (number | null)[], unknown[]]>([
    ["is the median of its days, whatever ran before", [...week, 500, 500, 600, 600, 600], [["drift", 580, told]]],
    ["leaves the days before it unjudged", [500, 500, 500, 900, 900, 900, 900, 900, 900, 900, 900], []],
    ["does not count its own days as drift, nor the days after that are below its limit", [...week, 500, 700, 570, 570, 570], []],
    ["is made of one day where the other has no readings", [...week, null, 500, 600, 600, 600], [["drift", 580, told]]],
    [
      "is fixed at the first running day after it, however late",
      [...week, 500, 500, null, null, null, 600, 600, 600],
      [["drift", 580, told]],
    ],
    ["with no running day in it leaves the appliance unjudged", [...week, null, null, 800, 1000, 1100, 1100, 1100, 1100], []],
    ["does not take the first days for it where the readings end in it", [...week, 1000], []],
  ])("%s", (_, draws, found) => {
    expect(reasons(draws, second)).toEqual(found);
  });

  it("may be longer than a week, and is told apart from the first days", () => {
    const draws = [...Array<number>(12).fill(800), 930, 930, 930];
    expect(reasons(draws, documented("2026-03-01", "2026-03-12"))).toEqual([["drift", 928, "Baseline of 1 to 12 March 2026, documented."]]);
    expect(reasons(draws, vacuum)).toEqual([["drift", 928, "Baseline: the median of its first 7 days with readings."]]);
  });

  it("needs as many readings of a day as any other day", () => {
    const few = [row(7 * days, { watts: 500 }), row(7 * days + minutes, { watts: 500 })];
    const later = daily([...Array<null>(9).fill(null), 700, 700, 700, 700]);
    expect(kinds(screen([...few, ...later], plan, [second]))).toEqual([]);
    const enough = [...few, row(7 * days + 2 * minutes, { watts: 500 })];
    expect(kinds(screen([...enough, ...later], plan, [second]))).toEqual(["drift O1 T1"]);
  });

  it("has days of its zone: 1 March begins at 06:00 UTC in Chicago", () => {
    const { fromMs, toMs } = baselineStretch({ from: "2026-03-01", to: "2026-03-08", timeZone: "America/Chicago" });
    // Summer time begins there on 8 March 2026, tz database.
    expect([fromMs, toMs]).toEqual([Date.parse("2026-03-01T06:00:00Z"), Date.parse("2026-03-09T05:00:00Z")]);
  });

  it.each([
    ["2026-03-01", "2026-03-14", "1 to 14 March 2026"],
    ["2026-02-25", "2026-03-14", "25 February to 14 March 2026"],
    ["2025-12-31", "2026-01-02", "31 December 2025 to 2 January 2026"],
    ["2026-03-01", "2026-03-01", "1 March 2026"],
  ])("from %s to %s is said as %s", (from, to, words) => {
    expect(baselineDaysWords({ from, to })).toBe(words);
  });

  it("is gone on with where it was kept half made, and one made of other days is forgotten", () => {
    const log = daily([...week, 500, 500, 600, 600, 600]);
    const goOn = (until: readonly Reading[], from: readonly Reading[], [first, then]: ReturnType<typeof appliance>[]) => {
      const begun = makeScreening({ outlets: plan, appliances: [first!] });
      for (const reading of until) begun.take(reading);
      const next = makeScreening({ outlets: plan, appliances: [then!], state: begun.saveState() });
      for (const reading of from) next.take(reading);
      return next.finish().results.map(({ limit }) => Math.round(limit));
    };
    for (const cut of [430, 470, 539, 541, 600]) expect(goOn(log.slice(0, cut), log.slice(cut), [second, second])).toEqual([580]);
    // The first seven days had made a baseline of 800 W by then.
    expect(goOn(log.slice(0, 8 * 60), log.slice(8 * 60), [vacuum, second])).toEqual([580]);
    expect(goOn(log.slice(0, 8 * 60), log.slice(8 * 60), [vacuum, vacuum])).toEqual([]);
  });
});

describe("the histogram of draws", () => {
  const medianOf = (draws: readonly number[]) => {
    const histograms = new DrawHistograms();
    histograms.grow(3);
    for (const draw of draws) if (histograms.isCounted(1)) histograms.count(1, draw / 10);
    return histograms.median(1) * 10;
  };
  const median = (draws: readonly number[]) => [...draws].sort((a, b) => a - b)[Math.ceil(draws.length / 2) - 1]!;

  it("gives the median of a steady draw within 0.02 %, and of any draws within a bin of 8.4 %", () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 10, max: 300, noNaN: true }), { minLength: 1, maxLength: 200 }), (draws) => {
        expect(Math.abs(medianOf(draws) / median(draws) - 1)).toBeLessThan(0.084);
      }),
    );
    fc.assert(
      fc.property(fc.double({ min: 10, max: 319, noNaN: true }), fc.integer({ min: 1, max: 2000 }), (draw, times) => {
        expect(Math.abs(medianOf(Array<number>(times).fill(draw)) / draw - 1)).toBeLessThan(2e-4);
      }),
    );
  });

  it("gives a whole week of seconds its weight, also when the counts are full: within a bin of the median", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 99 }), fc.integer({ min: 2, max: 600 }), (share, rhythm) => {
        const draws = Array.from({ length: 100_000 }, (_, at) => (at % rhythm < (rhythm * share) / 100 ? 120 : 60) + (at % 7));
        const found = medianOf(draws);
        const near = [45, 55].map((part) => [...draws].sort((a, b) => a - b)[Math.floor((part / 100) * draws.length)]!);
        expect(found).toBeGreaterThan(near[0]! * 0.916);
        expect(found).toBeLessThan(near[1]! * 1.084);
      }),
      { numRuns: 10 },
    );
  });

  it("does not forget the beginning: three parts of five at 60 W, then two at 120 W, are 60 W", () => {
    expect(medianOf(Array.from({ length: 500_000 }, (_, at) => (at < 300_000 ? 60 : 120)))).toBeCloseTo(60, 0);
  });
});
