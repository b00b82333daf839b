import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { buildSuggestionIndex, type Suggestion } from "@/lib/registry/suggestion-index";

const entry = (kind: Suggestion["kind"], label: string): Suggestion => ({ kind, label, detail: "", href: `/${label}` });
const index = buildSuggestionIndex([
  entry("maker", "Keldamar"),
  entry("maker", "Sundrake"),
  entry("maker", "Östervale"),
  entry("model", "Keldamar HT-1500C"),
  entry("model", "Sundrake PX-20"),
  entry("notice", "26-114 Keldamar Recalls Convection Heaters Due to Fire Hazard"),
  entry("notice", "26-115 Sundrake Recalls Kettles Due to Burn Hazard"),
]);
const labels = (typed: string) => index.suggest(typed).map(({ label }) => label);

describe("what a search box offers", () => {
  it.each([
    ["keldamar", "Keldamar"],
    ["kelda", "Keldamar"],
    ["kledamar", "Keldamar"],
    ["sundrkae", "Sundrake"],
    ["ostervale", "Östervale"],
    ["ht1500c", "Keldamar HT-1500C"],
    ["HT-1500", "Keldamar HT-1500C"],
    ["26-114", "26-114 Keldamar Recalls Convection Heaters Due to Fire Hazard"],
    ["kettels sundrake", "26-115 Sundrake Recalls Kettles Due to Burn Hazard"],
    ["convetion heater", "26-114 Keldamar Recalls Convection Heaters Due to Fire Hazard"],
  ])("for “%s” holds “%s”", (typed, wanted) => {
    expect(labels(typed)).toContain(wanted);
  });

  it("puts what is nearest first, whatever its kind", () => {
    expect(index.suggest("heaters")[0]?.kind).toBe("notice");
    expect(labels("heatr")).toEqual(["26-114 Keldamar Recalls Convection Heaters Due to Fire Hazard"]);
  });

  it("puts makers before models before notices that are as near, and leaves out what has nothing in common", () => {
    expect(index.suggest("keldamar").map(({ kind }) => kind)).toEqual(["maker", "model", "notice"]);
    expect(labels("keldamar")).not.toContain("Sundrake");
    expect(labels("zzqx")).toEqual([]);
  });

  it("is nothing for less than two letters", () => {
    expect([labels(""), labels("k"), labels(" - ")]).toEqual([[], [], []]);
  });

  it("never fails and says the same again, whatever is typed", () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 300, unit: "grapheme" }), (typed) => {
        expect(index.suggest(typed)).toEqual(index.suggest(typed));
      }),
    );
  });
});
