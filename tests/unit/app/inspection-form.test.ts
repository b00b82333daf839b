import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bodyOf, type FormValues, figureIn, freshValues, isMistyped } from "@/app/(house)/inspect/[applianceId]/form-values";
import { type JudgedBy, judgeForm, problemIn, usedInstruments } from "@/app/(house)/inspect/[applianceId]/judging";
import { newFormId } from "@/app/(house)/inspect/[applianceId]/new-form-id";
import { checkNames } from "@/lib/casework/inspection-checklist";
import { inspectionForm } from "@/lib/registry/inspection-form";

const at = new Date("2026-03-02T12:00:00Z");
const by: JudgedBy = {
  standard: "EN 50699",
  plate: { isHeating: false, ratedKilowatts: 1.5 },
  category: "kettle",
  competences: [{ words: "Course", validUntil: null }],
  instruments: [
    { id: "5d0a1c2e-4b7f-4a43-9c1d-0a9b8c7d6e5f", words: "Ohmar 0042", validUntil: new Date("2027-01-10") },
    { id: "6d0a1c2e-4b7f-4a43-9c1d-0a9b8c7d6e5f", words: "Ohmar 0007", validUntil: new Date("2026-01-10") },
  ],
  ownMonths: null,
  dueBefore: null,
};
const checks = Object.fromEntries(checkNames.map((name) => [name, { verdict: "pass" as const, note: "" }]));
const full = (given: Partial<FormValues> = {}): FormValues => ({
  ...freshValues({ environment: "workshop", protectionClass: "I", cordMetres: "2" }),
  formId: newFormId(),
  checks,
  figures: { conductorOhms: "0,12", insulationMegohms: "50" },
  polarity: "pass",
  functional: "pass",
  instrumentIds: [by.instruments[0]?.id ?? ""],
  signedName: "J. Varga",
  ...given,
});

describe("figures as people type them", () => {
  it.each([
    ["0.12", 0.12, false],
    ["0,12", 0.12, false],
    [" 5 ", 5, false],
    ["", null, false],
    [undefined, null, false],
    ["> 200", null, true],
    ["1.2.3", null, true],
    ["-1", null, true],
    ["1e9", null, true],
    ["1,000.5", null, true],
  ])("%j is %j, mistyped is %s", (text, figure, mistyped) => {
    expect([figureIn(text), isMistyped(text)]).toEqual([figure, mistyped]);
  });
});

describe("the form on the phone", () => {
  it("says before it is sent what the server will say: result, reasons, next due", () => {
    const { judgement, due } = judgeForm(full(), by, at);
    expect(judgement).toMatchObject({ result: "pass", reasons: [] });
    // AS/NZS 3760:2010 Table 4: factory and workshop, Class I, 6 months.
    expect(due.dueAt).toEqual(new Date("2026-09-02T00:00:00Z"));
    expect(judgeForm(full({ figures: { conductorOhms: "0.42", insulationMegohms: "50" } }), by, at).judgement.result).toBe("fail");
    expect(judgeForm(full({ limitedWhy: "Locked in." }), by, at).judgement).toMatchObject({ result: "limited", reasons: ["Locked in."] });
  });

  it("counts expired papers", () => {
    const expired = judgeForm(full({ instrumentIds: [by.instruments[1]?.id ?? ""] }), by, at).judgement;
    expect(expired.reasons).toEqual(["The calibration of Ohmar 0007 had expired on 2026-01-10."]);
    expect(judgeForm(full({ instrumentIds: [] }), by, at).judgement.reasons).toEqual(["No instrument is named for the figures."]);
    expect(judgeForm(full(), { ...by, competences: [] }, at).judgement.result).toBe("limited");
  });

  it.each([
    [{ signedName: "  " }, "Sign with your name."],
    [{ figures: { conductorOhms: "a lot" } }, "A figure cannot be read: look for the field that says so."],
    [{ cordMetres: "two" }, "A figure cannot be read: look for the field that says so."],
    [{ checks: { ...checks, cord: { verdict: "fail" as const, note: " " } } }, "Say what is wrong with each item that failed."],
    [{}, null],
  ])("%j keeps it from being signed: %j", (given, problem) => {
    expect(problemIn(full(given), null)).toBe(problem);
  });

  it("leaves out an instrument that was ticked and is not in use any more", () => {
    expect(usedInstruments(full({ instrumentIds: [newFormId(), by.instruments[0]?.id ?? ""] }), by)).toEqual([by.instruments[0]]);
  });

  it("a correction says what was wrong", () => {
    expect(problemIn(full(), newFormId())).toMatch(/what was wrong/);
    expect(problemIn(full({ correctionWhy: "Another cord." }), newFormId())).toBeNull();
  });

  it("sends what the server takes", () => {
    const instrumentIds = usedInstruments(full(), by).map(({ id }) => id);
    const sent = bodyOf(full(), { applianceId: newFormId(), correctsId: null, instrumentIds, at: at.toISOString() });
    const taken = inspectionForm.parse(JSON.parse(JSON.stringify(sent)));
    expect(taken).toMatchObject({ protectionClass: "I", cordMetres: 2, measured: { conductorOhms: 0.12, touchMilliamps: null } });
    expect(taken.checklist).toHaveLength(checkNames.length);
  });

  it("has an id by RFC 9562, version 4, of its own each time", () => {
    const ids = new Set(fc.sample(fc.constant(0), 200).map(() => newFormId()));
    expect(ids.size).toBe(200);
    for (const id of ids) expect(id).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
  });
});
