import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ApplianceFacts } from "@/lib/identity/appliance-facts";
import { readAppliance } from "@/lib/matching/appliance-reading";
import type { Candidate } from "@/lib/matching/candidate";
import { comparePair, crossCheck } from "@/lib/matching/cross-check";
import { buildRecallIndex } from "@/lib/matching/recall-index";
import { levelSettings } from "@/lib/matching/settings";
import { Random } from "@/tests/bench/random";
import { makeRegistry } from "@/tests/bench/synthetic-registry";
import { makeWorld } from "@/tests/bench/synthetic-world";

const world = makeWorld({ brands: 30, families: 120, notices: 120, seed: 11 });
const given = world.notices.map(({ toIndex }) => toIndex);
const index = buildRecallIndex(given);
const { appliances } = makeRegistry(new Random(5), world, { appliances: 400, level: 2, withTruth: false });
const appliance = fc.constantFrom(...appliances);

describe("every comparison", () => {
  it("prints weights that add up to its score, of levels that the settings name", () => {
    for (const one of appliances) {
      for (const candidate of crossCheck(index, one, { all: true })) {
        const sum = candidate.reasons.reduce((total, reason) => total + reason.weight, 0);
        expect(candidate.score).toBeCloseTo(sum, 6);
        for (const { level, sentence } of candidate.reasons) {
          expect(Object.keys(levelSettings)).toContain(level);
          expect(sentence).not.toMatch(/\b(?:null|undefined)\b/);
        }
      }
    }
  });

  it("asks exactly when the grade is check_label, with answers that lead somewhere", () => {
    for (const one of appliances) {
      for (const { grade, ask } of crossCheck(index, one, { all: true })) {
        expect(ask !== null).toBe(grade === "check_label");
        if (ask) expect(new Set(ask.answers.map(({ leadsTo }) => leadsTo)).size).toBeGreaterThan(1);
      }
    }
  });
});

describe("the index", () => {
  it("gives the very candidates that comparing with all notices gives", () => {
    for (const one of appliances) {
      const reading = readAppliance(one);
      const byForce = index.notices.map((notice) => comparePair(index, reading, notice)).filter(({ grade }) => grade !== "not_covered");
      const byKey = (left: Candidate, right: Candidate): number => (left.noticeKey < right.noticeKey ? -1 : 1);
      expect(crossCheck(index, one).sort(byKey)).toEqual(byForce.sort(byKey));
    }
  });

  it("gives a notice the same candidates in a list of its own as in the whole list", () => {
    fc.assert(
      fc.property(fc.subarray([...given], { minLength: 1, maxLength: 5 }), (few) => {
        const keys = new Set(few.map(({ key }) => key));
        const alone = buildRecallIndex(few);
        for (const one of appliances.slice(0, 100))
          expect(crossCheck(alone, one, { ruledOut: true })).toEqual(
            crossCheck(index, one, { ruledOut: true }).filter(({ noticeKey }) => keys.has(noticeKey)),
          );
      }),
      { numRuns: 30 },
    );
  });

  it("gives the same whatever the order of the list", () => {
    fc.assert(
      fc.property(
        fc.shuffledSubarray([...given], { minLength: given.length }),
        fc.array(appliance, { minLength: 1, maxLength: 20 }),
        (shuffled, some) => {
          const other = buildRecallIndex(shuffled);
          for (const one of some) expect(crossCheck(other, one, { all: true })).toEqual(crossCheck(index, one, { all: true }));
        },
      ),
      { numRuns: 15 },
    );
  });

  it("gives the same when asked again after others", () => {
    fc.assert(
      fc.property(fc.array(appliance, { minLength: 2, maxLength: 10 }), (some) => {
        const first = some.map((one) => crossCheck(index, one));
        expect(some.map((one) => crossCheck(index, one))).toEqual(first);
      }),
    );
  });
});

describe("a fact that is not known", () => {
  const rank = { not_covered: 0, check_label: 1, likely: 2, covered: 3 } as const;

  it("never rules a covered pair out", () => {
    const fields: readonly (keyof ApplianceFacts)[] = ["brand", "category", "made", "serial", "dateCode", "upc", "labelText"];
    fc.assert(
      fc.property(appliance, fc.constantFrom(...fields), (one, field) => {
        const blank = { ...one, [field]: null };
        for (const before of crossCheck(index, one)) {
          if (rank[before.grade] < rank.likely) continue;
          const notice = index.notices.find(({ key }) => key === before.noticeKey);
          if (field === "labelText" && one.model === null) continue;
          expect(notice && comparePair(index, readAppliance(blank), notice).grade).not.toBe("not_covered");
        }
      }),
    );
  });
});
