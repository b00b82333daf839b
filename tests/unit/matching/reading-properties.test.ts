import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ApplianceFacts } from "@/lib/identity/appliance-facts";
import { foldConfusable } from "@/lib/identity/confusable";
import { readAppliance } from "@/lib/matching/appliance-reading";
import type { Ask } from "@/lib/matching/candidate";
import { comparePair, crossCheck } from "@/lib/matching/cross-check";
import { buildRecallIndex } from "@/lib/matching/recall-index";
import { regradeWithAnswer } from "@/lib/matching/regrade";
import { levelSettings } from "@/lib/matching/settings";
import { Random } from "@/tests/bench/random";
import { makeRegistry } from "@/tests/bench/synthetic-registry";
import { makeWorld } from "@/tests/bench/synthetic-world";

// What must hold however a plate was read, over an invented world with every kind of typing and reading error.
const world = makeWorld({ brands: 30, families: 120, notices: 120, seed: 23 });
const index = buildRecallIndex(world.notices.map(({ toIndex }) => toIndex));
const { appliances } = makeRegistry(new Random(9), world, { appliances: 600, level: 1, withTruth: false });
const rank = { not_covered: 0, check_label: 1, likely: 2, covered: 3 } as const;
const alerted = appliances.flatMap((appliance) =>
  crossCheck(index, appliance, { withoutIdentifiers: false }).flatMap(({ noticeKey, grade }) => {
    const notice = index.notices.find(({ key }) => key === noticeKey);
    return notice && rank[grade] >= rank.likely && appliance.model !== null ? [{ appliance, notice, grade }] : [];
  }),
);
const anyAlert = fc.constantFrom(...alerted);

/** Characters that are read for one another, in groups by what they fold to. */
const groups = new Map<string, string[]>();
for (const character of "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789") {
  const folded = foldConfusable(character);
  groups.set(folded, [...(groups.get(folded) ?? []), character]);
}

describe("one different digit", () => {
  it("never alerts by itself, unless it makes another model that the notice lists", () => {
    fc.assert(
      fc.property(anyAlert, fc.nat(), fc.integer({ min: 1, max: 9 }), ({ appliance, notice }, place, by) => {
        const model = appliance.model ?? "";
        const places = [...model].flatMap((character, at) => (/\d/.test(character) ? [at] : []));
        const at = places[place % Math.max(1, places.length)];
        if (at === undefined) return;
        const other = model.slice(0, at) + String((Number(model[at]) + by) % 10) + model.slice(at + 1);
        const { grade, reasons } = comparePair(index, readAppliance({ ...appliance, model: other }), notice);
        const isListed = ["model.exact", "model.pattern", "model.confusable", "model.pattern_confusable"].includes(reasons[0]?.level ?? "");
        if (!isListed) expect(rank[grade]).toBeLessThan(rank.likely);
      }),
      { numRuns: 400 },
    );
  });
});

describe("confused characters", () => {
  it("are as good as the printed ones: they never rule out what the printed ones raise", () => {
    fc.assert(
      fc.property(anyAlert, fc.array(fc.nat({ max: 3 }), { minLength: 30, maxLength: 30 }), ({ appliance, notice }, choices) => {
        const model = [...(appliance.model ?? "")]
          .map((character, at) => {
            const group = groups.get(foldConfusable(character.toUpperCase())) ?? [character];
            return group[(choices[at % choices.length] ?? 0) % group.length] ?? character;
          })
          .join("");
        expect(comparePair(index, readAppliance({ ...appliance, model }), notice).grade).not.toBe("not_covered");
      }),
      { numRuns: 400 },
    );
  });
});

describe("what is not known", () => {
  it("weighs nothing", () => {
    const silent = Object.entries(levelSettings).filter(([level]) =>
      /\.(?:missing|unknown|not_stated|none_stated|all|overlap)$/.test(level),
    );
    expect(silent.length).toBeGreaterThan(8);
    for (const [, { weight }] of silent) expect(weight).toBe(0);
  });

  it("leaves the weights of the other fields as they are", () => {
    const fields: readonly (keyof ApplianceFacts)[] = ["category", "made", "serial", "dateCode", "upc"];
    fc.assert(
      fc.property(anyAlert, fc.constantFrom(...fields), ({ appliance, notice }, field) => {
        const weights = (facts: ApplianceFacts): string[] =>
          comparePair(index, readAppliance(facts), notice)
            .reasons.filter((reason) => reason.field === "model" || reason.field === "brand")
            .map(({ level, weight }) => `${level} ${weight}`);
        expect(weights({ ...appliance, [field]: null })).toEqual(weights(appliance));
      }),
    );
  });
});

describe("an occupant's answer", () => {
  const fields: readonly Ask["field"][] = ["brand", "model", "serial", "dateCode", "made", "product", "upc"];
  const value = fc.oneof(
    fc.string({ maxLength: 20 }),
    fc.constantFrom(...appliances.slice(0, 50).map(({ model }) => model ?? "")),
    fc.constantFrom("2012", "2012-05", "kettle"),
  );

  it("may raise a pair and never lowers it, whatever they say", () => {
    fc.assert(
      fc.property(fc.constantFrom(...appliances), fc.constantFrom(...fields), value, (appliance, field, text) => {
        for (const { noticeKey, grade } of crossCheck(index, appliance, { all: true })) {
          const after = regradeWithAnswer(index, { appliance, noticeKey }, { field, value: text, by: "occupant" });
          expect(rank[after?.grade ?? "not_covered"]).toBeGreaterThanOrEqual(rank[grade]);
        }
      }),
      { numRuns: 300 },
    );
  });
});

describe("a question", () => {
  it("names one fact, says what each answer leads to, and gives one answer more than one outcome", () => {
    for (const appliance of appliances) {
      for (const { grade, ask } of crossCheck(index, appliance, { all: true })) {
        expect(ask !== null).toBe(grade === "check_label");
        if (ask === null) continue;
        expect(ask.question).toMatch(/\?$/);
        expect(ask.question).not.toMatch(/\b(?:null|undefined)\b/);
        expect(ask.answers.length).toBeGreaterThanOrEqual(2);
        expect(new Set(ask.answers.map(({ label }) => label)).size).toBe(ask.answers.length);
        expect(new Set(ask.answers.map(({ leadsTo }) => leadsTo)).size).toBeGreaterThan(1);
        for (const { label } of ask.answers) expect(label).toMatch(/\S/);
      }
    }
  });
});
