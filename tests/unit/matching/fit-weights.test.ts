import { describe, expect, it } from "vitest";
import { fitWeights, type LabelledLevels } from "@/tests/bench/fit-weights";
import { pairScore } from "@/tests/bench/pair-weights";

const cases = (levels: string[], matches: number, others: number): LabelledLevels[] => [
  ...Array.from({ length: matches }, () => ({ levels, isMatch: true })),
  ...Array.from({ length: others }, () => ({ levels, isMatch: false })),
];

describe("fitted weights", () => {
  it("give the odds of what was seen where the penalty is slight: 30 to 10 is log 3", () => {
    const weights = fitWeights([...cases(["a"], 30, 10), ...cases(["b"], 5, 45)], {}, 1e-6);
    expect(pairScore(["a"], weights)).toBeCloseTo(Math.log(3), 3);
    expect(pairScore(["b"], weights)).toBeCloseTo(Math.log(1 / 9), 3);
  });

  it("stay finite where a level tells all, and near what is expected where little was seen", () => {
    const weights = fitWeights([...cases(["sure"], 400, 0), ...cases(["other"], 0, 400), ...cases(["rare", "other"], 0, 1)], { rare: 2 });
    for (const weight of Object.values(weights)) expect(Number.isFinite(weight)).toBe(true);
    expect(pairScore(["sure"], weights)).toBeGreaterThan(2);
    expect(weights["rare"]).toBeCloseTo(2, 1);
  });

  it("do not depend on the order of the cases", () => {
    const all = [...cases(["a", "x"], 9, 3), ...cases(["b", "x"], 2, 8), ...cases(["a", "y"], 4, 4)];
    const weights = fitWeights(all, {});
    const reversed = fitWeights([...all].reverse(), {});
    for (const [name, weight] of Object.entries(weights)) expect(reversed[name]).toBeCloseTo(weight, 4);
  });
});
