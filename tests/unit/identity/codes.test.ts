import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fitPattern, patternKey } from "@/lib/identity/code-pattern";
import { foldConfusable } from "@/lib/identity/confusable";
import { confusableKey, evidenceBits, modelKey } from "@/lib/identity/model-number";
import { isWithinOneEdit, oneEditBetween } from "@/lib/identity/one-edit";

describe("a model's key", () => {
  it.each([
    ["ab-12 / c", "AB12C"],
    ["AB‑12", "AB12"],
    ["Änder 4", "ANDER4"],
    ["№ 5", "NO5"],
    ["", ""],
  ])("%j folds to %j", (model, key) => {
    expect(modelKey(model)).toBe(key);
  });

  it("keeps what is a letter or digit once accents are taken off, in upper case, whatever the text", () => {
    const text = fc.string({ unit: fc.constantFrom(..."ABzo09-_ /.:Éßı①Ω\u0301") });
    fc.assert(
      fc.property(text, (model) => {
        expect(modelKey(model)).toBe(
          model
            .normalize("NFKD")
            .toUpperCase()
            .replace(/[^A-Z0-9]/g, ""),
        );
        const key = patternKey(model);
        expect(confusableKey(key)).toBe([...key].map(foldConfusable).join(""));
      }),
    );
  });

  it("folds the characters that plates confuse, and only those", () => {
    expect(confusableKey("O0I1LS5B8Z2G6")).toBe("0011155882266".slice(0, 13));
    expect(confusableKey("ACDEFHJKMNPQRTUVWXY3479")).toBe("ACDEFHJKMNPQRTUVWXY3479");
  });

  it("says more the longer it is, up to a cap", () => {
    expect(evidenceBits("123")).toBeLessThan(8);
    expect(evidenceBits("AB1234")).toBeGreaterThan(15);
    expect(evidenceBits("ABCDEFGHIJKLMN")).toBe(22);
  });
});

describe("one slip between two keys", () => {
  // Optimal string alignment distances: HD150-HD105 is 1 and ca-abc is 3, computed by the definition (a restricted Damerau distance).
  it.each([
    ["HD150", "HD150", "none"],
    ["HD105", "HD150", "swapped"],
    ["HD160", "HD150", "substituted"],
    ["HD50", "HD150", "dropped"],
    ["HD1550", "HD150", "doubled"],
    ["HD1750", "HD150", "added"],
    ["CA", "ABC", "more"],
    ["", "A", "dropped"],
    ["KITTEN", "SITTING", "more"],
  ])("%s for %s is %s", (read, meant, slip) => {
    expect(oneEditBetween(read, meant)).toBe(slip);
  });

  it("is symmetric in whether it is one", () => {
    const keys = fc.string({ unit: fc.constantFrom("A", "B", "1"), maxLength: 6 });
    fc.assert(fc.property(keys, keys, (left, right) => isWithinOneEdit(left, right) === isWithinOneEdit(right, left)));
  });
});

describe("a code beside a pattern", () => {
  it.each([
    ["AB-12##", "AB1234", "exact"],
    ["AB-12##", "AB123", "none"],
    ["AB-12##", "AB12O4", "confusable"],
    ["AB-12*", "AB12", "exact"],
    ["A8-12*", "AB12XY", "confusable"],
    ["?B1", "AB1", "exact"],
    ["A@1", "A81", "confusable"],
    ["A@1", "A31", "none"],
    ["*9X", "AB9X9X", "exact"],
    ["*", "", "exact"],
    ["AB", "ABC", "none"],
  ])("%s and %s: %s", (pattern, code, fit) => {
    expect(fitPattern(patternKey(pattern), code)).toBe(fit);
  });

  it("agrees with the regular expression that the signs stand for", () => {
    const patterns = fc.string({ unit: fc.constantFrom("A", "3", "?", "#", "@", "*"), maxLength: 7 });
    const codes = fc.string({ unit: fc.constantFrom("A", "3", "C", "7"), maxLength: 7 });
    const sign: Readonly<Record<string, string>> = { "?": ".", "#": "\\d", "@": "[A-Z]", "*": ".*" };
    fc.assert(
      fc.property(patterns, codes, (pattern, code) => {
        const expression = new RegExp(`^${[...pattern].map((character) => sign[character] ?? character).join("")}$`);
        expect(fitPattern(pattern, code) === "exact").toBe(expression.test(code));
      }),
    );
  });

  it("stays quick on a pattern made to be slow", () => {
    const started = performance.now();
    expect(fitPattern(`${"*A".repeat(200)}B`, "A".repeat(2000))).toBe("none");
    expect(performance.now() - started).toBeLessThan(1000);
  });
});
