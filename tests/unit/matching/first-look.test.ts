import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ApplianceFacts } from "@/lib/identity/appliance-facts";
import { isPlainLookUp, lookUpOf, plainLookUp, readAppliance } from "@/lib/matching/appliance-reading";
import type { Grade } from "@/lib/matching/candidate";
import { comparePair } from "@/lib/matching/cross-check";
import { compareBrand, compareProduct } from "@/lib/matching/findings";
import { brandBeside, firstLook, productBeside } from "@/lib/matching/first-look";
import { isRuledOutByMaker } from "@/lib/matching/grade";
import { KeyScan } from "@/lib/matching/model-keys";
import { isMakerNamed } from "@/lib/matching/named-maker";
import { buildRecallIndex } from "@/lib/matching/recall-index";
import { Random } from "@/tests/bench/random";
import { makeRegistry } from "@/tests/bench/synthetic-registry";
import { makeWorld } from "@/tests/bench/synthetic-world";

// The short ways of the cross-check beside the long ones that they spare.
const world = makeWorld({ brands: 30, families: 120, notices: 120, seed: 31 });
// Every third notice also speaks of a maker, every fifth states a product number.
const index = buildRecallIndex(
  world.notices.map(({ toIndex }, at) => ({
    ...toIndex,
    coverage: at % 5 === 0 ? { ...toIndex.coverage, upcs: ["036000291452"] } : toIndex.coverage,
    notice:
      at % 3 === 0 ? { title: `${world.brands[at % 30]} recall`, description: `Sold by ${world.brands[(at * 7) % 30]}.` } : toIndex.notice,
  })),
);
const { appliances: read } = makeRegistry(new Random(13), world, { appliances: 250, level: 2, withTruth: false });
// A UPC-A with a right check digit.
const appliances = read.map((one, at): ApplianceFacts => (at % 4 === 0 ? { ...one, upc: "036000291452" } : one));

/** Listed models under another maker's name, of the notice's product or not. */
const relabelled = world.notices.flatMap(({ toIndex: { coverage } }, at): ApplianceFacts[] => {
  const facts = { ...(read[at] as ApplianceFacts), model: coverage.models.include[0] ?? null, brand: "Zorquelan" };
  return [facts, { ...facts, category: coverage.products[0] ?? null }];
});

describe("a plain look-up", () => {
  const sign = fc.constantFrom("A", "c", "M", "e", "0", "7", "-", ".", " ", "/", ",", "(", "?", " or ", "é");
  const text = fc.array(sign, { maxLength: 14 }).map((signs) => signs.join(""));
  const brand = fc.oneof(fc.constantFrom(null, "Acme", "AC-ME", "a.c me", "M", "Éc", "ACME, Inc.", "7A"), text);

  it("is what the long way looks up by, wherever it says so", () => {
    const scan = new KeyScan();
    let plain = 0;
    fc.assert(
      fc.property(fc.oneof(fc.constant(null), text), brand, fc.constantFrom(null, "Acme | MODEL X-1 | 120V"), (model, maker, labelText) => {
        const facts = { ...(read[0] as ApplianceFacts), model, brand: maker, labelText };
        if (!isPlainLookUp(facts, scan)) return;
        plain++;
        const { facts: known, models } = lookUpOf(facts);
        expect({ facts: known, models }).toEqual({ facts: plainLookUp(facts).facts, models: plainLookUp(facts).models });
      }),
      { numRuns: 3000 },
    );
    expect(plain).toBeGreaterThan(300);
  });

  it("is what most appliances need", () => {
    const scan = new KeyScan();
    expect(appliances.filter((facts) => isPlainLookUp(facts, scan)).length).toBeGreaterThan(appliances.length * 0.8);
  });
});

describe("the first look at maker and product", () => {
  it("finds of every pair what comparing the two finds", () => {
    for (const facts of appliances) {
      const look = firstLook(index, facts);
      const { category } = readAppliance(facts);
      const found = index.notices.map((_, id) => `${brandBeside(index, look, id)} ${productBeside(index, look, id)}`);
      const compared = index.notices.map(
        (notice) => `${compareBrand(facts.brand, look.found, notice)} ${compareProduct(category, notice)}`,
      );
      expect(found).toEqual(compared);
    }
  });

  it("rules out no pair that grading would not rule out", () => {
    const grades: Grade[] = [];
    for (const facts of [...appliances, ...relabelled]) {
      const appliance = readAppliance(facts);
      const look = firstLook(index, appliance.facts);
      index.notices.forEach((notice, id) => {
        const found = { brand: brandBeside(index, look, id), product: productBeside(index, look, id) };
        const mayShareNumber = facts.upc !== null && notice.gtins.size > 0;
        if (!notice.isListing || mayShareNumber || !isRuledOutByMaker(found)) return;
        grades.push(comparePair(index, appliance, notice).grade);
      });
    }
    expect(grades.length).toBeGreaterThan(1000);
    expect([...new Set(grades)]).toEqual(["not_covered"]);
  });
});

describe("the characters of a model two by two", () => {
  const codes = fc.string({ unit: fc.constantFrom("A", "B", "0", "9", "7", "-"), minLength: 1, maxLength: 20 });
  const scan = new KeyScan();
  const pairsOf = (text: string): readonly number[] => {
    scan.read(text);
    scan.lookThrough();
    return [scan.pairsFromFirst, scan.pairsFromSecond];
  };

  it("share a key with the same model with two neighbours swapped, and tell whether a character stands twice in a row", () => {
    fc.assert(
      fc.property(codes, fc.nat(), (text, place) => {
        const key = text.replaceAll("-", "");
        const own = pairsOf(text);
        expect(scan.hasRun).toBe(/(.)\1/.test(key));
        if (key.length < 2) return;
        const at = 1 + (place % (key.length - 1));
        const swapped = `${key.slice(0, at - 1)}${key[at]}${key[at - 1]}${key.slice(at + 1)}`;
        expect(pairsOf(swapped)[(at + 1) % 2]).toBe(own[(at + 1) % 2]);
        expect(pairsOf(`${key}7`)).not.toEqual(own);
      }),
    );
  });
});

describe("a maker's name in a notice's own words", () => {
  it("is one to three neighbouring words that make it up", () => {
    const word = fc.string({ unit: fc.constantFrom("a", "b", "c"), minLength: 1, maxLength: 3 });
    fc.assert(
      fc.property(
        fc.array(word, { maxLength: 12 }),
        fc.string({ unit: fc.constantFrom("a", "b", "c"), minLength: 3, maxLength: 5 }),
        (words, brand) => {
          const runs = words.flatMap((_, from) => [1, 2, 3].map((length) => words.slice(from, from + length).join("")));
          const textWords = words.length === 0 ? "" : ` ${words.join(" ")} `;
          expect(isMakerNamed(brand, { titleWords: "", textWords })).toBe(runs.includes(brand));
        },
      ),
      { numRuns: 1000 },
    );
  });
});
