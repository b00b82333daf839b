import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { poissonAtLeast, poissonAtMost, poissonBounds } from "@/lib/watch/poisson-bound";

describe("the exact Poisson bounds (Garwood: chi2(a/2; 2k)/2 and chi2(1-a/2; 2k+2)/2)", () => {
  it.each([
    [0, 0, 3.6889, 0, 2.9957],
    [1, 0.0253, 5.5716, 0.0513, 4.7439],
    [2, 0.2422, 7.2247, 0.3554, 6.2958],
    [3, 0.6187, 8.7673, 0.8177, 7.7537],
    [5, 1.6235, 11.6683, 1.9701, 10.513],
    [10, 4.7954, 18.3904, 5.4254, 16.9622],
    [20, 12.2165, 30.8884, 13.2547, 29.062],
    [100, 81.364, 121.6268, 84.1393, 118.0793],
  ])("of %d events are %d to %d with 95 %, %d to %d with 90 %", (count, low95, high95, low90, high90) => {
    const [ninetyFive, ninety] = [poissonBounds(count, 0.95), poissonBounds(count, 0.9)];
    expect(ninetyFive.lower).toBeCloseTo(low95, 4);
    expect(ninetyFive.upper).toBeCloseTo(high95, 4);
    expect(ninety.lower).toBeCloseTo(low90, 4);
    expect(ninety.upper).toBeCloseTo(high90, 4);
  });

  it("of 137 events in 24.19893 units of exposure are 4.753125 to 6.692709 (a statistics manual's example, from memory)", () => {
    const { lower, upper } = poissonBounds(137, 0.95);
    expect(lower / 24.19893).toBeCloseTo(4.753125, 5);
    expect(upper / 24.19893).toBeCloseTo(6.692709, 5);
  });

  it.each([
    [3, 0.5, 0.0143877],
    [2, 0.1, 0.0046788],
    [2, 0.5, 0.090204],
    [4, 1, 0.0189882],
    [5, 1.2, 0.0077458],
    [10, 4, 0.0081322],
    [3, 0.25, 0.0021615],
  ])("have tails by their definition: P(X >= %d | %d) = %d", (count, mean, probability) => {
    expect(poissonAtLeast(count, mean)).toBeCloseTo(probability, 7);
  });

  it("enclose the count, and grow with it", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 300 }), (count) => {
        const { lower, upper } = poissonBounds(count, 0.95);
        expect(lower).toBeLessThanOrEqual(count);
        expect(upper).toBeGreaterThan(count);
        expect(poissonBounds(count + 1, 0.95).lower).toBeGreaterThan(lower);
        expect(poissonAtMost(count, upper)).toBeCloseTo(0.025, 6);
      }),
      { numRuns: 40 },
    );
  });
});
