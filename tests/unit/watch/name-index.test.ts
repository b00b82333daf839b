import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { NameIndex } from "@/lib/watch/name-index";

function indexed(names: readonly string[]): NameIndex {
  const index = new NameIndex((number) => names[number]!);
  for (const number of names.keys()) index.put(number);
  return index;
}

describe("an index of names", () => {
  it("finds what a map of the same names finds, however many there are and whatever they are called", () => {
    fc.assert(
      fc.property(fc.array(fc.string({ maxLength: 3 }), { maxLength: 200 }), fc.array(fc.string({ maxLength: 3 })), (names, others) => {
        const index = indexed(names);
        const map = new Map(names.map((name, number) => [name, number] as const));
        for (const name of [...names, ...others]) expect(index.find(name)).toBe(map.get(name) ?? -1);
      }),
    );
  });

  it("tells names apart that hash alike or are names of every object", () => {
    const names = ["__proto__", "constructor", "toString", ...Array.from({ length: 5000 }, (_, at) => `O${at}`)];
    const index = indexed(names);
    expect(names.map((name) => index.find(name))).toEqual([...names.keys()]);
    expect([index.find("O5000"), index.find("")]).toEqual([-1, -1]);
  });
});
