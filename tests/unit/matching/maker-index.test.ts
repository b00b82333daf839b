import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { compareMakers } from "@/lib/identity/maker";
import { buildMakerIndex } from "@/lib/matching/maker-index";

/** Invented names that run together alike, share words, are one slip apart, or carry legal forms and shared words. */
const names = [
  "Keldamar",
  "Kel damar",
  "Keldamar Home",
  "KELDAMAR, Inc.",
  "Keldarnar",
  "Keldamr",
  "Kel Home Damar",
  "Sundrake",
  "Sundrake Electric",
  "The Sundrake Group",
  "Sundrakes",
  "Sun Drake Lighting",
  "Ostervale & Sons",
  "Ostervale",
  "Home",
  "B0LTON",
  "BOLTON",
] as const;
const aliases = [
  ["Sundrake", "Ostervale"],
  ["Kel damar", "Bolton"],
];

function agreements(listed: readonly string[], name: string): Record<string, string> {
  const index = buildMakerIndex(listed, aliases);
  const found = index.find(name);
  return Object.fromEntries(listed.map((one) => [one, found.get(index.idOf(one) ?? -1) ?? "other"]));
}

const someNames = fc.shuffledSubarray([...names], { minLength: 1 });

describe("the index of makers", () => {
  it("finds every name that agrees, as comparing with each would", () => {
    for (const name of [...names, "KELDAMAR (R)", "Sundrak", "Acme"]) {
      expect(agreements(names, name)).toEqual(Object.fromEntries(names.map((one) => [one, compareMakers(name, one, aliases)])));
    }
  });

  it("lets how two names compare depend on no other name and no order", () => {
    fc.assert(
      fc.property(someNames, fc.constantFrom(...names), (listed, name) => {
        const all = agreements(names, name);
        expect(agreements(listed, name)).toEqual(Object.fromEntries(listed.map((one) => [one, all[one]])));
      }),
    );
  });
});
