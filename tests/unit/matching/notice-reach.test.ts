import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ApplianceFacts } from "@/lib/identity/appliance-facts";
import { compareMakers, makerKey, makerWords } from "@/lib/identity/maker";
import { mayAgree } from "@/lib/identity/maker-key";
import { foldedModelOf } from "@/lib/matching/appliance-reading";
import { crossCheck } from "@/lib/matching/cross-check";
import { reachOf } from "@/lib/matching/notice-reach";
import { buildRecallIndex } from "@/lib/matching/recall-index";
import { Random } from "../../bench/random";
import { makeRegistry } from "../../bench/synthetic-registry";
import { makeWorld } from "../../bench/synthetic-world";

/** The questions that the store asks, put to one appliance. */
function isReached(reach: ReturnType<typeof reachOf>, appliance: ApplianceFacts): boolean {
  const { brand, model, labelText, upc } = appliance;
  const folded = foldedModelOf(appliance);
  const key = brand === null ? "" : makerKey(brand);
  if (reach.isEverything || (reach.hasGtins && upc !== null)) return true;
  if (folded === null && (model !== null || labelText !== null || reach.mayBeListing(key))) return true;
  if (reach.mayBeUnlisted !== null && (reach.mayBeUnlisted(key) || (key === "" && labelText !== null))) return true;
  if (folded === null) return false;
  return reach.spans.some(({ from, before }) => from <= folded && folded < before) || reach.endings.some((end) => folded.endsWith(end));
}

const world = makeWorld({ brands: 12, families: 150, notices: 120, seed: 12 });
const given = world.notices.map(({ toIndex }) => toIndex);
const { appliances } = makeRegistry(new Random(6), world, { appliances: 500, level: 3, withTruth: false });

describe("the reach of a notice", () => {
  it("holds every appliance that the notice raises, and leaves most others out", () => {
    let reached = 0;
    for (const notice of given) {
      const index = buildRecallIndex([notice]);
      const reach = reachOf(index.notices);
      for (const one of appliances) {
        const isIn = isReached(reach, one);
        if (isIn) reached++;
        else expect(crossCheck(index, one, { ruledOut: true })).toEqual([]);
      }
    }
    expect(reached).toBeLessThan(0.35 * given.length * appliances.length);
  });

  it("is everything for a pattern with nothing literal at either end", () => {
    const [first] = given;
    if (!first) throw new Error("no notice");
    const open = { ...first.coverage, models: { stated: "listed" as const, include: ["#A#"], exclude: [] } };
    expect(reachOf(buildRecallIndex([{ ...first, coverage: open }]).notices).isEverything).toBe(true);
  });
});

describe("a maker of whom only the key is known", () => {
  const words = ["Keldamar", "Kel", "damar", "Home", "The", "Sun", "Drake", "Inc", "of", "Keldmar", "S0n"];
  const name = fc.array(fc.constantFrom(...words), { minLength: 1, maxLength: 4 }).map((some) => some.join(" "));

  it("may agree with every name that the maker agrees with", () => {
    const aliases = [["Sun Drake", "Keldamar"]];
    fc.assert(
      fc.property(name, name, (left, right) => {
        const keys = aliases.map((group) => group.map(makerKey));
        if (compareMakers(left, right, aliases) !== "other") expect(mayAgree(makerKey(left), makerWords(right), keys)).toBe(true);
      }),
      { numRuns: 3000 },
    );
  });

  it("does not agree with just any name", () => {
    expect(mayAgree("OSTERVALE", ["KELDAMAR", "HOME"], [])).toBe(false);
    expect(mayAgree("HOMEGOODS", ["KELDAMAR", "HOME"], [])).toBe(false);
  });
});
