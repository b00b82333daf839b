import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { DrawHistograms } from "@/lib/watch/draw-histograms";
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
