import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { axisSteps, type DrawPoint, thinDraw } from "@/lib/watch/draw-thinning";

const minute = 60_000;
const steady = (from: number, count: number, mean: number): DrawPoint[] =>
  Array.from({ length: count }, (_, i) => ({ atMs: from + i * minute, mean, peak: mean }));

describe("Thinning a draw for a chart", () => {
  test("keeps the highest and the lowest of each column, so that no excess disappears", () => {
    const points = [...steady(0, 500, 100), { atMs: 500 * minute, mean: 1742, peak: 2600 }, ...steady(501 * minute, 499, 100)];
    const columns = thinDraw(points, { fromMs: 0, toMs: 1000 * minute, columns: 20 });
    expect(columns).toHaveLength(20);
    expect(Math.max(...columns.map(({ high }) => high))).toBe(1742);
    expect(Math.max(...columns.map(({ peak }) => peak))).toBe(2600);
    expect(Math.min(...columns.map(({ low }) => low))).toBe(100);
  });

  test("a pause is a gap, not a line across it", () => {
    const points = [...steady(0, 10, 100), ...steady(30 * minute, 10, 100)];
    const columns = thinDraw(points, { fromMs: 0, toMs: 60 * minute, columns: 60 });
    expect(columns.filter(({ afterGap }) => afterGap).map(({ fromMs }) => fromMs)).toEqual([0, 30 * minute]);
  });

  test("neither loses a point inside the stretch nor takes one from outside", () => {
    const point = fc.record({
      atMs: fc.integer({ min: 0, max: 10_000_000 }),
      mean: fc.integer({ min: 0, max: 3000 }),
      peak: fc.integer({ min: 0, max: 9000 }),
    });
    fc.assert(
      fc.property(fc.array(point), fc.integer({ min: 1, max: 50 }), (some, columns) => {
        const points = [...some].sort((a, b) => a.atMs - b.atMs);
        const span = { fromMs: 1_000_000, toMs: 9_000_000, columns };
        const inside = points.filter(({ atMs }) => atMs >= span.fromMs && atMs <= span.toMs);
        const thinned = thinDraw(points, span);
        expect(thinned.reduce((sum, column) => sum + column.points, 0)).toBe(inside.length);
        if (inside.length > 0) expect(Math.max(...thinned.map(({ high }) => high))).toBe(Math.max(...inside.map(({ mean }) => mean)));
      }),
    );
  });
});

describe("Steps of an axis", () => {
  test.each([
    [1742, [0, 500, 1000, 1500, 2000]],
    [1575, [0, 500, 1000, 1500, 2000]],
    [60, [0, 20, 40, 60]],
    [13.1, [0, 5, 10, 15]],
    [0.4, [0, 0.1, 0.2, 0.3, 0.4]],
  ])("up to %s", (highest, steps) => {
    expect(axisSteps(highest)).toEqual(steps);
  });

  test("reach the highest value with few steps", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 100_000, noNaN: true }), (highest) => {
        const steps = axisSteps(highest);
        expect(steps.at(-1)!).toBeGreaterThanOrEqual(highest * 0.998);
        expect(steps.length).toBeLessThanOrEqual(6);
      }),
    );
  });
});
