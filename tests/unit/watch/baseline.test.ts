import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { comparePeriods, dailySample } from "@/lib/watch/baseline";
import { studentQuantile, studentShare } from "@/lib/watch/baseline-t";

describe("Student's t (NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, critical values; from memory)", () => {
  it.each([
    [0.95, 1, 6.314],
    [0.975, 1, 12.706],
    [0.975, 2, 4.303],
    [0.975, 5, 2.571],
    [0.95, 10, 1.812],
    [0.975, 10, 2.228],
    [0.975, 30, 2.042],
    [0.995, 30, 2.75],
    [0.975, 100, 1.984],
  ])("%d of the distribution with %d degrees of freedom lies below %d", (share, degrees, t) => {
    expect(studentQuantile(share, degrees)).toBeCloseTo(t, 3);
  });

  it("share and quantile are each other's inverse, for degrees that are not whole too", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.6, max: 0.9995, noNaN: true }), fc.double({ min: 1, max: 500, noNaN: true }), (share, degrees) => {
        expect(studentShare(studentQuantile(share, degrees), degrees)).toBeCloseTo(share, 7);
      }),
    );
  });
});

describe("Welch's comparison", () => {
  it("gives T = -12.94627 with 136.8750 degrees of freedom (NIST/SEMATECH e-Handbook, 1.3.5.3, AUTO83B.DAT, unequal variances; from memory, recomputed)", () => {
    const american = { days: 249, mean: 20.14458, deviation: 6.4147 };
    const japanese = { days: 79, mean: 30.48101, deviation: 6.10771 };
    const found = comparePeriods(japanese, american, 0.95);
    expect(found?.t).toBeCloseTo(-12.94627, 3);
    expect(found?.degrees).toBeCloseTo(136.875, 2);
    expect(found?.isClear).toBe(true);
  });

  it("gives the interval that the t table gives by hand: 4.0 and 6.0 kWh, n 6 each, deviation 1: 2 +- 2.228 x 0.57735", () => {
    const found = comparePeriods({ days: 6, mean: 4, deviation: 1 }, { days: 6, mean: 6, deviation: 1 }, 0.95);
    expect(found?.degrees).toBeCloseTo(10, 9);
    expect(found?.low).toBeCloseTo(2 - 2.228 * Math.sqrt(1 / 3), 3);
    expect(found?.high).toBeCloseTo(2 + 2.228 * Math.sqrt(1 / 3), 3);
    expect(found?.share).toBe(0.5);
  });

  it("turns its sign with the periods, holds the difference, and narrows with less confidence", () => {
    const values = fc.array(fc.double({ min: 0, max: 50, noNaN: true }), { minLength: 3, maxLength: 40 });
    fc.assert(
      fc.property(values, values, (a, b) => {
        const [one, other] = [comparePeriods(dailySample(a), dailySample(b), 0.95), comparePeriods(dailySample(b), dailySample(a), 0.95)];
        expect(one!.low).toBeCloseTo(-other!.high, 6);
        expect(one!.low).toBeLessThanOrEqual(one!.difference);
        expect(one!.high).toBeGreaterThanOrEqual(one!.difference);
        const narrow = comparePeriods(dailySample(a), dailySample(b), 0.8);
        expect(narrow!.high - narrow!.low).toBeLessThanOrEqual(one!.high - one!.low + 1e-9);
      }),
    );
  });

  it("says nothing about fewer than three days", () => {
    expect(comparePeriods(dailySample([1, 2]), dailySample([1, 2, 3]), 0.95)).toBeNull();
  });
});
