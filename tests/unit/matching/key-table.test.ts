import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { buildKeyTable, mayHold, valuesOf } from "@/lib/matching/key-table";
import { KeyScan } from "@/lib/matching/model-keys";

describe("the key table", () => {
  it("gives the values of a key in order, and none of a key that it does not hold", () => {
    const pairs = fc.array(fc.tuple(fc.integer({ min: -50, max: 50 }), fc.nat(1000)), { maxLength: 200 });
    fc.assert(
      fc.property(pairs, (entries) => {
        const table = buildKeyTable({ keys: entries.map(([key]) => key), values: entries.map(([, value]) => value) });
        for (let key = -60; key <= 60; key++) {
          const expected = entries.filter(([own]) => own === key).map(([, value]) => value);
          expect(valuesOf(table, key)).toEqual(expected);
          if (expected.length > 0) expect(mayHold(table.filter, key)).toBe(true);
        }
      }),
    );
  });
});

describe("the scan of a model", () => {
  const texts = fc.string({ unit: fc.constantFrom("A", "b", "0", "9", "-", " ", "O"), maxLength: 20 });

  it("hashes a beginning, an ending, a text without one character or with two swapped as if written so", () => {
    const scan = new KeyScan();
    const other = new KeyScan();
    const hashOf = (codes: readonly number[]): number => {
      other.read(String.fromCharCode(...codes));
      return other.head(other.length);
    };
    fc.assert(
      fc.property(texts, (text) => {
        expect(scan.read(text)).toBe(true);
        const codes = [...scan.codes.slice(0, scan.length)];
        for (let at = 0; at < codes.length; at++) {
          expect(scan.head(at)).toBe(hashOf(codes.slice(0, at)));
          expect(scan.tail(at)).toBe(hashOf(codes.slice(at)));
          expect(scan.without(at)).toBe(hashOf(codes.filter((_, place) => place !== at)));
          if (at > 0) expect(scan.swapped(at)).toBe(hashOf(codes.with(at - 1, codes[at] ?? 0).with(at, codes[at - 1] ?? 0)));
        }
      }),
    );
  });

  it("leaves what is beyond ASCII to be folded first", () => {
    expect(new KeyScan().read("Ä-1")).toBe(false);
  });
});
