import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isOpenPattern, patternMatches } from "@/lib/notices/pattern";

const cases: [pattern: string, code: string, covered: boolean][] = [
  ["AB-12##", "AB-1299", true],
  ["AB-12##", "AB-129A", false],
  ["AB-12##", "AB-129", false],
  ["AB?", "ABC", true],
  ["AB?", "AB", false],
  ["@@12", "XY12", true],
  ["@@12", "X112", false],
  ["@", "É", true],
  ["AB-1*", "AB-1", true],
  ["AB-1*", "AB-100/BK", true],
  ["*WU", "AJ10WU", true],
  ["*WU", "AJ10WX", false],
  ["A*B*C", "A1B2B3C", true],
  ["A*B*C", "A1B2B3", false],
  ["*", "", true],
  ["", "", true],
  ["", "A", false],
  ["DF364/BK", "DF364/BK", true],
  ["ab", "AB", false],
];

describe("patternMatches", () => {
  it.each(cases)("%s and %s: %s", (pattern, code, covered) => {
    expect(patternMatches(pattern, code)).toBe(covered);
  });

  it("covers a code without signs by itself alone", () => {
    const plain = fc.stringMatching(/^[A-Z0-9/-]{1,12}$/);
    fc.assert(fc.property(plain, plain, (one, other) => patternMatches(one, other) === (one === other)));
  });

  it("covers every code that begins as the pattern says", () => {
    fc.assert(
      fc.property(fc.stringMatching(/^[A-Z0-9-]{1,8}$/), fc.string({ maxLength: 20 }), (head, rest) =>
        patternMatches(`${head}*`, head + rest),
      ),
    );
  });

  it("stays fast where many stars could be tried in many ways", () => {
    const begun = performance.now();
    expect(patternMatches(`${"*A".repeat(200)}B`, "A".repeat(20_000))).toBe(false);
    expect(performance.now() - begun).toBeLessThan(2_000);
  });

  it("knows which patterns cover more than one code", () => {
    expect(["AB#", "A?", "A*", "@1"].every(isOpenPattern)).toBe(true);
    expect(isOpenPattern("AB-12/3")).toBe(false);
  });
});
