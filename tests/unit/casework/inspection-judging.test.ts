import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Checked, type CheckName, checkItems, checkNames } from "@/lib/casework/inspection-checklist";
import { contradictions, type InspectionAsMade, judgeFigure, judgeInspection, type Measured } from "@/lib/casework/inspection-judging";
import { holdsOn, paperShortcomings } from "@/lib/casework/inspection-papers";
import type { LimitFacts } from "@/lib/electrical/inspection-limits";

const facts: LimitFacts = {
  protectionClass: "I",
  cordMetres: 2,
  cordSquareMillimetres: null,
  isHeating: false,
  isHandHeld: false,
  ratedKilowatts: null,
};
const good: Measured = {
  conductorOhms: 0.12,
  insulationMegohms: 50,
  conductorMilliamps: 0.2,
  touchMilliamps: null,
  polarity: "pass",
  functional: "pass",
};
const allPass: Checked[] = checkNames.map((name) => ({ name, verdict: "pass", note: "" }));
const made = (given: Partial<InspectionAsMade> = {}): InspectionAsMade => ({
  standard: "EN 50699",
  facts,
  checklist: allPass,
  measured: good,
  shortcomings: [],
  ...given,
});
const failing = (name: CheckName, note = "") =>
  allPass.map((one) => (one.name === name ? { ...one, verdict: "fail" as const, note } : one));

describe("one figure against its limit", () => {
  it.each([
    // The limit itself is within: the standards say "at most" and "at least" (limits: DIN VDE 0701-0702 in published summaries).
    ["conductorOhms", 0.3, "I", true],
    ["conductorOhms", 0.301, "I", false],
    ["insulationMegohms", 1, "I", true],
    ["insulationMegohms", 0.99, "I", false],
    ["insulationMegohms", 0.25, "III", true],
    ["insulationMegohms", 0.24, "III", false],
    ["conductorMilliamps", 3.5, "I", true],
    ["conductorMilliamps", 3.51, "I", false],
    ["touchMilliamps", 0.5, "II", true],
    ["touchMilliamps", 0.51, "II", false],
  ] as const)("%s of %d for Class %s: within is %s", (name, value, protectionClass, within) => {
    expect(judgeFigure(name, value, { standard: "EN 50699", facts: { ...facts, protectionClass } }).within).toBe(within);
  });
});

describe("the result", () => {
  it("is a pass when all was seen, measured and right", () => {
    expect(judgeInspection(made())).toMatchObject({ result: "pass", reasons: [], severity: null });
  });

  it.each([
    ["the conductor", { conductorOhms: null }, "The protective conductor was not measured."],
    [
      "insulation and leakage",
      { insulationMegohms: null, conductorMilliamps: null },
      "Neither the insulation nor a leakage current was measured.",
    ],
    ["the trial", { functional: null }, "It was not tried whether it works."],
  ] as const)("is limited without %s", (_, lack, sentence) => {
    expect(judgeInspection(made({ measured: { ...good, ...lack } }))).toMatchObject({
      result: "limited",
      reasons: [sentence],
      severity: null,
    });
  });

  it("is limited where something was not looked at, the class is not known, or papers lack", () => {
    expect(judgeInspection(made({ checklist: allPass.slice(2) })).reasons).toEqual(["Not looked at: plug, cord."]);
    expect(judgeInspection(made({ facts: { ...facts, protectionClass: null } })).result).toBe("limited");
    expect(judgeInspection(made({ shortcomings: [{ sentence: "Locked in." }] }))).toMatchObject({
      result: "limited",
      reasons: ["Locked in."],
    });
  });

  it("asks no earth of Class II, and insulation or a current will do", () => {
    const measured = { ...good, conductorOhms: null, conductorMilliamps: null };
    expect(judgeInspection(made({ facts: { ...facts, protectionClass: "II" }, measured })).result).toBe("pass");
    const touched = { ...measured, insulationMegohms: null, touchMilliamps: 0.1 };
    expect(judgeInspection(made({ facts: { ...facts, protectionClass: "II" }, measured: touched })).result).toBe("pass");
  });

  it.each(checkNames)("is a fail when the %s is not right, as severe as the table says", (name) => {
    const judged = judgeInspection(made({ checklist: failing(name, "as seen") }));
    expect(judged).toMatchObject({ result: "fail", severity: checkItems[name].severity, reasons: [`${checkItems[name].words}: as seen.`] });
  });

  it("names figure, limit and standard of what is outside", () => {
    const { result, reasons, severity } = judgeInspection(made({ measured: { ...good, conductorOhms: 0.42 } }));
    expect({ result, severity }).toEqual({ result: "fail", severity: "serious" });
    expect(reasons[0]).toMatch(/^Protective conductor 0\.42 ohm\. EN 50699: at most 0\.3 ohm, cord of 2 m \(DIN VDE 0701-0702/);
  });

  it("is a fail with wrong polarity, or when it does not work", () => {
    expect(judgeInspection(made({ measured: { ...good, polarity: "fail" } }))).toMatchObject({ result: "fail", severity: "serious" });
    expect(judgeInspection(made({ measured: { ...good, functional: "fail" } }))).toMatchObject({ result: "fail", severity: "minor" });
  });
});

const verdict = fc.constantFrom("pass" as const, "fail" as const, "not applicable" as const);
const anyChecklist = fc
  .uniqueArray(fc.constantFrom(...checkNames))
  .chain((names) => fc.tuple(...names.map((name) => fc.record({ name: fc.constant(name), verdict, note: fc.constant("") }))));
const anyFigure = (most: number) => fc.option(fc.double({ min: 0, max: most, noNaN: true }));
const anyFound = fc.constantFrom("pass" as const, "fail" as const, null);
const anyMeasured: fc.Arbitrary<Measured> = fc.record({
  conductorOhms: anyFigure(3),
  insulationMegohms: anyFigure(5),
  conductorMilliamps: anyFigure(8),
  touchMilliamps: anyFigure(2),
  polarity: anyFound,
  functional: anyFound,
});

describe("whatever was seen and measured", () => {
  it("a fail stays a fail whatever is lacking, and what lacks never makes a pass", () => {
    fc.assert(
      fc.property(anyChecklist, anyMeasured, (checklist, measured) => {
        const whole = judgeInspection(made({ checklist, measured })).result;
        const lacking = judgeInspection(made({ checklist, measured, shortcomings: [{ sentence: "Locked in." }] })).result;
        expect(lacking).toBe(whole === "fail" ? "fail" : "limited");
      }),
    );
  });

  it("one more thing that is wrong makes it a fail", () => {
    fc.assert(
      fc.property(anyMeasured, fc.constantFrom(...checkNames), (measured, name) => {
        expect(judgeInspection(made({ checklist: failing(name), measured })).result).toBe("fail");
      }),
    );
  });

  it("the order in which things were looked at does not matter for result and severity", () => {
    const shuffled = anyChecklist.chain((list) => fc.tuple(fc.constant(list), fc.shuffledSubarray(list, { minLength: list.length })));
    fc.assert(
      fc.property(shuffled, anyMeasured, ([one, other], measured) => {
        const [a, b] = [one, other].map((checklist) => judgeInspection(made({ checklist, measured })));
        expect({ result: a?.result, severity: a?.severity }).toEqual({ result: b?.result, severity: b?.severity });
        expect([...(a?.reasons ?? [])].sort()).toEqual([...(b?.reasons ?? [])].sort());
      }),
    );
  });

  it("reasons are said for everything but a pass", () => {
    fc.assert(
      fc.property(anyChecklist, anyMeasured, (checklist, measured) => {
        const { result, reasons, severity } = judgeInspection(made({ checklist, measured }));
        expect(reasons.length === 0).toBe(result === "pass");
        expect(severity !== null).toBe(result === "fail");
      }),
    );
  });
});

describe("what cannot be", () => {
  // IEC 61140: Class II and III have no protective conductor.
  it.each(["II", "III"] as const)("an earth figure of Class %s is refused with a sentence at its field", (protectionClass) => {
    const problems = contradictions({ facts: { ...facts, protectionClass }, measured: good });
    expect(Object.keys(problems)).toEqual(["conductorOhms", "conductorMilliamps"]);
    expect(problems.conductorOhms).toMatch(new RegExp(`Class ${protectionClass} appliance has no protective conductor`));
  });

  it("nothing is against an earth figure of Class I or of a class that is not known", () => {
    for (const protectionClass of ["I", null] as const)
      expect(contradictions({ facts: { ...facts, protectionClass }, measured: good })).toEqual({});
  });
});

describe("papers", () => {
  const at = new Date("2026-03-02T23:30:00Z");
  it.each([
    [null, true],
    ["2026-03-02T00:00:00Z", true],
    ["2026-03-01T23:59:59Z", false],
    ["2027-01-01T00:00:00Z", true],
  ])("one that ends %s holds on 2 March: %s; its last day counts", (until, holds) => {
    expect(holdsOn(until === null ? null : new Date(until), at)).toBe(holds);
  });

  const course = { words: "Course", validUntil: null };
  const meter = { words: "Ohmar 0042", validUntil: new Date("2026-03-01T00:00:00Z") };
  it.each([
    [{ competences: [course], instruments: [], hasFigures: false }, []],
    [{ competences: [], instruments: [], hasFigures: false }, ["No competence of the inspector is on record."]],
    [{ competences: [meter], instruments: [], hasFigures: false }, ["The inspector's competence had expired: Ohmar 0042."]],
    [{ competences: [meter, course], instruments: [], hasFigures: false }, []],
    [{ competences: [course], instruments: [], hasFigures: true }, ["No instrument is named for the figures."]],
    [{ competences: [course], instruments: [meter], hasFigures: true }, ["The calibration of Ohmar 0042 had expired on 2026-03-01."]],
  ])("%j lack %j", (given, sentences) => {
    expect(paperShortcomings({ ...given, at }).map(({ sentence }) => sentence)).toEqual(sentences);
  });
});
