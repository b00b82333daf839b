import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { compareMakers } from "@/lib/identity/maker";
import { type AliasLink, aliasGroups, touchedMakers } from "@/lib/identity/maker-alias";

const same = (name: string, otherName: string): AliasLink => ({ name, otherName, relation: "same" });
const belongs = (name: string, otherName: string): AliasLink => ({ name, otherName, relation: "belongs" });

describe("makers that belong together", () => {
  const links = [
    same("Keldamar", "KDM Appliances"),
    same("KDM Appliances", "Kelda"),
    belongs("Hearthside", "Keldamar"),
    belongs("Coppervale", "Kelda"),
  ];
  const groups = aliasGroups(links);
  it.each([
    ["KDM Appliances", "Kelda", "alias"],
    ["Keldamar Inc.", "KELDA", "alias"],
    ["Hearthside", "Keldamar", "alias"],
    ["Hearthside", "KDM Appliances", "alias"],
    ["Coppervale", "Keldamar", "alias"],
    ["Hearthside", "Coppervale", "other"],
    ["Hearthside", "Ostervale", "other"],
  ] as const)("%s and %s: %s", (left, right, agreement) => {
    expect(compareMakers(left, right, groups)).toBe(agreement);
    expect(compareMakers(right, left, groups)).toBe(agreement);
  });

  const name = fc.constantFrom("Keldamar", "Kelda", "KDM", "Hearthside", "Coppervale", "Ostervale");
  const link = fc.record({ name, otherName: name, relation: fc.constantFrom("same", "belongs") }) as fc.Arbitrary<AliasLink>;

  it("come out the same whatever the order of the links", () => {
    fc.assert(
      fc.property(
        fc.array(link, { maxLength: 6 }).chain((all) => fc.tuple(fc.constant(all), fc.shuffledSubarray(all, { minLength: all.length }))),
        ([all, shuffled]) => {
          expect(aliasGroups(shuffled)).toEqual(aliasGroups(all));
        },
      ),
    );
  });

  it("change for no pair of makers that a new link does not touch", () => {
    fc.assert(
      fc.property(fc.array(link, { maxLength: 6 }), link, name, name, (before, added, left, right) => {
        const after = [...before, added];
        const was = compareMakers(left, right, aliasGroups(before));
        if (was === compareMakers(left, right, aliasGroups(after))) return;
        const touched = touchedMakers(added, before, after);
        expect(touched).toContain(left.toUpperCase());
        expect(touched).toContain(right.toUpperCase());
      }),
    );
  });
});
