import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { policyOrigins, screeningPolicy } from "@/lib/watch/policy";
import { figureOf, figureProblem, figureText, policyFields, policyWith } from "@/lib/watch/policy-fields";
import { defaultStandards, standardsWith } from "@/lib/watch/policy-standards";

describe("the figures that a site may state", () => {
  it.each(policyFields.map((field) => [field.name, field] as const))(
    "%s has a default within its bounds, an origin and a reason",
    (name, field) => {
      expect(figureProblem(field, screeningPolicy[name])).toBeNull();
      expect(policyOrigins[name].length).toBeGreaterThan(5);
      expect(field.why.length).toBeGreaterThan(10);
    },
  );

  it("are each named once", () => {
    expect(new Set(policyFields.map(({ name }) => name)).size).toBe(policyFields.length);
  });

  it("are typed back as they are shown", () => {
    fc.assert(
      fc.property(fc.constantFrom(...policyFields), fc.double({ min: 0, max: 1, noNaN: true }), (field, part) => {
        const value = Number((field.least + part * (field.most - field.least)).toFixed(4));
        expect(figureOf(field, figureText(field, value))).toBeCloseTo(value, 3);
      }),
    );
  });

  it("refuse what is out of bounds, no figure or not whole, with the bounds and the reason", () => {
    const [persistence, trips] = ["persistenceSeconds", "tripCount"].map((name) => policyFields.find((field) => field.name === name)!);
    expect(figureProblem(persistence!, 3)).toBe("Write from 3.01 to 60 s: 3 s is never sustained; beyond a minute a hot fault is missed.");
    expect(figureProblem(trips!, 2.5)).toContain("Write a whole number from 2 to 20 trips");
    expect(figureProblem(persistence!, figureOf(persistence!, "soon"))).toContain("Write from");
    expect(figureOf({ unit: "share" }, "80")).toBe(0.8);
    expect(figureOf({ unit: "s" }, "4,5")).toBe(4.5);
  });
});

describe("the policy of a site", () => {
  it("is the default with what the site states; what is out of bounds does not count", () => {
    expect(policyWith({})).toEqual(screeningPolicy);
    expect(policyWith({ tripCount: 5, persistenceSeconds: 0.1, holdSeconds: 900 })).toEqual({ ...screeningPolicy, tripCount: 5 });
  });

  it("goes by the nominal voltage unless it states its standards", () => {
    expect([defaultStandards(120), defaultStandards(230), defaultStandards(null)].map(({ device, plugs }) => [device, plugs])).toEqual([
      ["UL 489", "NEC 210.21(B)"],
      ["IEC 60898-1 B", "CEE 7"],
      ["UL 489", "NEC 210.21(B)"],
    ]);
    expect(standardsWith({ plugs: "BS 1363", device: "nothing known" }, 230)).toMatchObject({ plugs: "BS 1363", device: "IEC 60898-1 B" });
  });
});
