import fc from "fast-check";
import { expect, it } from "vitest";
import { mergeRuns } from "@/lib/registry/merge-runs";
import type { KeptPart } from "@/lib/store/kept-log-queries";

const hourMs = 3_600_000;
const anyParts = fc
  .array(
    fc.record({ rows: fc.integer({ min: 1, max: 25_000 }), from: fc.integer({ min: 0, max: 60 }), length: fc.integer({ min: 0, max: 5 }) }),
    {
      maxLength: 60,
    },
  )
  .map((parts) =>
    parts.map(({ rows, from, length }, number): KeptPart => {
      const [fromAt, toAt] = [new Date(from * hourMs), new Date((from + length) * hourMs)];
      return { id: `part ${number}`, importRunId: "key K", siteId: "s", number, fromAt, toAt, rows };
    }),
  );

it("parts that are kept as one are neighbours, small, and together neither large nor long", () => {
  fc.assert(
    fc.property(anyParts, (parts) => {
      const runs = mergeRuns(parts);
      for (const run of runs) {
        expect(run.length).toBeGreaterThan(1);
        expect(run.map(({ number }) => number)).toEqual(run.map((_, i) => run[0]!.number + i));
        expect(run.every(({ rows }) => rows < 10_000)).toBe(true);
        expect(run.reduce((sum, { rows }) => sum + rows, 0)).toBeLessThanOrEqual(20_000);
        const [from, to] = [Math.min(...run.map(({ fromAt }) => +fromAt)), Math.max(...run.map(({ toAt }) => +toAt))];
        expect(to - from).toBeLessThanOrEqual(24 * hourMs);
      }
      const merged = runs.flat().map(({ id }) => id);
      expect(new Set(merged).size).toBe(merged.length);
    }),
  );
});

it("many small parts in a row become few", () => {
  const parts = Array.from({ length: 1000 }, (_, number): KeptPart => {
    const at = new Date(number * 1000);
    return { id: `part ${number}`, importRunId: "key K", siteId: "s", number, fromAt: at, toAt: at, rows: 20 };
  });
  expect(mergeRuns(parts).map((run) => run.length)).toEqual([1000]);
});
