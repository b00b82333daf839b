import { describe, expect, it } from "vitest";
import type { ApplianceFacts } from "@/lib/identity/appliance-facts";
import { crossCheck } from "@/lib/matching/cross-check";
import { buildRecallIndex } from "@/lib/matching/recall-index";
import type { Coverage } from "@/lib/notices/coverage";
import { makeAppliance, makeCoverage, makeNotice } from "@/tests/support/matching-builders";

function gradeOf(coverage: Partial<Coverage>, appliance: Partial<ApplianceFacts>, text: { title?: string; description?: string } = {}) {
  const index = buildRecallIndex([makeNotice(makeCoverage(coverage), text)]);
  return crossCheck(index, makeAppliance(appliance), { all: true })[0] ?? null;
}

const listed = (include: string[], exclude: string[] = []): Partial<Coverage> => ({ models: { stated: "listed", include, exclude } });

describe("the model", () => {
  it.each([
    ["as listed", "VH-1200", "covered"],
    ["without separators, in lower case", "vh1200", "covered"],
    ["with confused characters", "VH-I2OO", "covered"],
    ["with the maker's name before it", "Velnost VH-1200", "covered"],
    ["beside another code", "VH-1200 / 55-A1", "covered"],
    ["with an unknown suffix", "VH-1200B", "check_label"],
    ["with two neighbours swapped", "VH-1020", "check_label"],
    ["with a doubled character", "VH-12000", "check_label"],
    ["with one digit different", "VH-1300", "not_covered"],
    ["with one letter different", "VK-1200", "not_covered"],
    ["cut short", "VH-12", "not_covered"],
  ])("%s is graded so", (_how, model, grade) => {
    expect(gradeOf({}, { model })?.grade ?? "not_covered").toBe(grade);
  });

  it("never alerts on any single different digit", () => {
    for (let at = 3; at < 7; at++) {
      for (const digit of "0123456789") {
        const model = `${"VH-1200".slice(0, at)}${digit}${"VH-1200".slice(at + 1)}`;
        if (model === "VH-1200") continue;
        expect(["covered", "likely"]).not.toContain(gradeOf({}, { model })?.grade);
      }
    }
  });

  it("with a suffix is another one where the notice spells its suffixes out", () => {
    expect(gradeOf(listed(["VH-1200", "VH-1200W", "VH-1200G"]), { model: "VH-1200P" })?.grade).toBe("not_covered");
    expect(gradeOf(listed(["VH-1200", "VH-1200W", "VH-1200G"]), { model: "VH-1200W" })?.grade).toBe("covered");
  });

  it("that goes on with digits is another number, not a suffix", () => {
    expect(gradeOf(listed(["5132"]), { model: "51327" })?.grade).toBe("not_covered");
    expect(gradeOf(listed(["5132"]), { model: "5132-7" })?.grade).toBe("check_label");
  });

  it("that is not known is asked for, and never rules out", () => {
    expect(gradeOf({}, { model: null })).toMatchObject({ grade: "check_label", ask: { field: "model" } });
  });

  it("is found in the plate's text", () => {
    expect(gradeOf({}, { model: null, labelText: "Velnost | MODEL VH-1200 | 120V~ 60Hz 1500W" })?.grade).toBe("covered");
    expect(gradeOf({}, { model: null, labelText: "120V 60Hz VH-1200 1500W" })?.grade).toBe("likely");
  });

  it("that is excluded is ruled out, by pattern or in full", () => {
    const coverage = listed(["VH-12##"], ["VH-120*"]);
    expect(gradeOf(coverage, { model: "VH-1200" })).toMatchObject({ grade: "not_covered" });
    expect(gradeOf(coverage, { model: "VH-1210" })).toMatchObject({ grade: "covered" });
    const asked = gradeOf(listed(["VH-*"], ["VH-128*"]), { model: "VH-12B0" });
    expect(asked).toMatchObject({ grade: "check_label", ask: { field: "model" } });
  });
});

describe("the maker", () => {
  it("that is unrelated rules out another product with the same model", () => {
    expect(gradeOf({}, { brand: "Zephrel", category: "wireless router" })?.grade).toBe("not_covered");
  });

  it("that is unrelated is asked for when product and a long model are the same", () => {
    expect(gradeOf(listed(["VHX-12004"]), { brand: "Zephrel", model: "VHX-12004" })).toMatchObject({
      grade: "check_label",
      ask: { field: "brand" },
    });
  });

  it("that is missing never rules out, and asks where the model alone says little", () => {
    expect(gradeOf(listed(["VHX-12004"]), { brand: null, model: "VHX-12004" })?.grade).toBe("likely");
    expect(gradeOf(listed(["5132"]), { brand: null, model: "5132" })).toMatchObject({ grade: "check_label", ask: { field: "brand" } });
  });

  it("that only the notice's text names counts as named", () => {
    expect(gradeOf({ brands: ["Orwick Holdings"] }, {}, { title: "Vel-Nost heaters recalled by Orwick Holdings" })?.grade).toBe("covered");
  });
});

describe("windows", () => {
  const serials = [{ pattern: "27*" }];
  const made = [{ from: "2016-12-01", to: "2019-07-31" }];

  it("with an unknown fact ask for it, and say where it is printed", () => {
    const description = "The serial number is printed on the bottom plate.";
    const spans = [{ field: "description" as const, start: 4, end: 48, kind: "location" as const, reads: "on the bottom plate" }];
    expect(gradeOf({ serials, spans }, {}, { description })).toMatchObject({
      grade: "check_label",
      ask: { field: "serial", where: "serial number is printed on the bottom plate" },
    });
  });

  it("of one model are alternatives", () => {
    expect(gradeOf({ serials, made }, { serial: "2799", made: "2020" })?.grade).toBe("covered");
    expect(gradeOf({ serials, made }, { serial: "3099", made: "2018" })?.grade).toBe("covered");
    expect(gradeOf({ serials, made }, { serial: "3099", made: "2020" })?.grade).toBe("not_covered");
  });

  it("rule out by the facts that are known", () => {
    expect(gradeOf({ serials, made }, { serial: "3099" })?.grade).toBe("not_covered");
    expect(gradeOf({ serials, made }, {})?.grade).toBe("check_label");
  });

  it("ask when a partly known date only overlaps", () => {
    expect(gradeOf({ made }, { made: "2019" })).toMatchObject({ grade: "check_label", ask: { field: "made" } });
    expect(gradeOf({ made }, { made: "2018" })?.grade).toBe("covered");
  });

  it("hold for the models and brands that they are tied to", () => {
    const coverage: Partial<Coverage> = {
      brands: ["Velnost", "Orwick"],
      ...listed(["VH-1200", "VH-1300"]),
      serials: [{ pattern: "27*", for: ["VH-1300"] }],
      dateCodes: [{ pattern: "24*", for: ["brand:Orwick"] }],
    };
    expect(gradeOf(coverage, { model: "VH-1200" })?.grade).toBe("covered");
    expect(gradeOf(coverage, { model: "VH-1300" })).toMatchObject({ grade: "check_label", ask: { field: "serial" } });
    expect(gradeOf(coverage, { brand: "Orwick" })).toMatchObject({ grade: "check_label", ask: { field: "dateCode" } });
  });
});

describe("notices without a list of models", () => {
  const none: Partial<Coverage> = { models: { stated: "none", include: [], exclude: [] } };
  const all: Partial<Coverage> = { models: { stated: "all", include: [], exclude: [] } };

  it("ask about the maker's same product and leave its others alone", () => {
    expect(gradeOf(none, {})?.grade).toBe("check_label");
    expect(gradeOf(none, { category: "leaf blower" })?.grade).toBe("not_covered");
    expect(gradeOf(none, { brand: "Zephrel" })).toBeNull();
  });

  it("are settled by a serial number inside or outside its window", () => {
    expect(gradeOf({ ...none, serials: [{ pattern: "27*" }] }, { serial: "2799" })?.grade).toBe("likely");
    expect(gradeOf({ ...none, serials: [{ pattern: "27*" }] }, { serial: "3099" })?.grade).toBe("not_covered");
  });

  it("cover every model where the text says all", () => {
    expect(gradeOf(all, { model: "anything" })?.grade).toBe("covered");
    expect(gradeOf(all, { category: "toaster" })?.grade).toBe("not_covered");
    expect(gradeOf(all, { category: null })).toMatchObject({ grade: "check_label", ask: { field: "product" } });
  });

  it("can be left out, since they are answered for a maker's product at once", () => {
    const index = buildRecallIndex([makeNotice(makeCoverage(none))]);
    expect(crossCheck(index, makeAppliance(), { withoutIdentifiers: false })).toEqual([]);
    expect(crossCheck(index, makeAppliance())).toHaveLength(1);
  });
});

describe("the product number", () => {
  it("that is listed raises the pair whatever its printed length", () => {
    const found = gradeOf({ upcs: ["036000291452"] }, { model: null, brand: null, category: null, upc: "0036000291452" });
    expect(found?.grade).toBe("likely");
  });
});
