import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { applyCorrections, type Correction, effectOf, findQuoted } from "@/lib/notices/correction";
import type { Coverage } from "@/lib/notices/coverage";
import { type Statement, statementKey, statementsOf, statementWords } from "@/lib/notices/statement";
import { understand } from "@/lib/notices/understand";
import { inventedNotice } from "./invented-notice";

const notice = inventedNotice({
  title: "Keldamar Recalls Convection Heaters Due to Fire Hazard",
  description: "This recall involves Keldamar convection heaters, model numbers HT-1500B and HT-1500C. The last mark is a grey lozenge.",
});
const quote = "The last mark is a grey lozenge.";
const start = notice.description.indexOf(quote);
const end = start + quote.length;
const reading: Coverage = {
  ...understand(notice),
  spans: [...understand(notice).spans, { field: "description", start, end, kind: "unread", reads: "" }],
};
const add = (statement: Statement): Correction => ({ act: "add", statement, passage: null });
const remove = (statement: Statement): Correction => ({ act: "remove", statement, passage: null });

describe("a corrected coverage", () => {
  it("is the reading itself where nobody corrected it", () => {
    expect(applyCorrections(notice, reading, [])).toBe(reading);
  });

  it("loses what was taken out, with its mark, and keeps the rest", () => {
    const corrected = applyCorrections(notice, reading, [remove({ kind: "model", pattern: "HT1500B" })]);
    expect(corrected.models).toEqual({ stated: "listed", include: ["HT-1500C"], exclude: [] });
    expect(corrected.spans.filter(({ kind }) => kind === "model").map(({ reads }) => reads)).toEqual(["HT-1500C"]);
    expect(corrected.brands).toEqual(reading.brands);
  });

  it("states no model once the last is taken out, and all once a person says so", () => {
    const none = applyCorrections(
      notice,
      reading,
      ["HT-1500B", "HT-1500C"].map((pattern) => remove({ kind: "model", pattern })),
    );
    expect(none.models).toEqual({ stated: "none", include: [], exclude: [] });
    expect(applyCorrections(notice, reading, [add({ kind: "all_models" })]).models).toEqual({ stated: "all", include: [], exclude: [] });
  });

  it("gains what was added of each kind, once", () => {
    const statements: Statement[] = [
      { kind: "model", pattern: "HT-1500D" },
      { kind: "excluded", pattern: "HT-1500C/R*" },
      { kind: "serial", window: { from: "KM2331", to: "KM2409", as: "beginning" } },
      { kind: "dateCode", window: { pattern: "23##" } },
      { kind: "made", window: { from: "2023-07-31", to: null } },
      { kind: "upc", text: "036000291452" },
      { kind: "brand", text: "Quill & Gray" },
      { kind: "product", text: "fan heater" },
    ];
    const corrected = applyCorrections(notice, reading, [...statements, ...statements].map(add));
    const keys = statementsOf(corrected).map(statementKey);
    expect(keys).toEqual(expect.arrayContaining(statements.map(statementKey)));
    expect(new Set(keys).size).toBe(keys.length);
  });

  it("marks the words that an addition rests on in place of what was not understood", () => {
    const passage = { field: "description", start, quote } as const;
    const corrected = applyCorrections(notice, reading, [{ act: "add", statement: { kind: "excluded", pattern: "HT-1500?L" }, passage }]);
    expect(corrected.spans).toContainEqual({ field: "description", start, end, kind: "excluded", reads: "HT-1500?L" });
    expect(corrected.spans.some(({ kind }) => kind === "unread")).toBe(false);
    expect(
      applyCorrections(notice, reading, [{ act: "dismiss", statement: null, passage }]).spans.some(({ kind }) => kind === "unread"),
    ).toBe(false);
  });

  it("comes out the same whatever the order of its corrections", () => {
    const corrections = [
      remove({ kind: "model", pattern: "HT-1500B" }),
      add({ kind: "model", pattern: "HT-1700" }),
      add({ kind: "brand", text: "Quill" }),
      add({ kind: "serial", window: { pattern: "AB##" } }),
    ];
    fc.assert(
      fc.property(fc.shuffledSubarray(corrections, { minLength: corrections.length }), (shuffled) => {
        expect(applyCorrections(notice, reading, shuffled)).toEqual(applyCorrections(notice, reading, corrections));
      }),
    );
  });
});

describe("what has become of a correction", () => {
  const added = add({ kind: "model", pattern: "HT-1500C" });
  const removed = remove({ kind: "model", pattern: "HT-1500C" });
  const amended = inventedNotice({ ...notice, description: "This recall involves Keldamar convection heaters, model number HT-1500B." });
  it.each([
    ["an addition that is read by now", reading, added, "read by now"],
    ["an addition that is not read", understand(amended), added, "in force"],
    ["a removal of what is read", reading, removed, "in force"],
    ["a removal of what the words no longer say", understand(amended), removed, "nothing left to take out"],
  ] as const)("is said of %s", (_name, under, correction, effect) => {
    expect(effectOf(notice, under, correction)).toBe(effect);
  });

  it("is that its words are gone, where a passage was amended away", () => {
    const dismissed: Correction = { act: "dismiss", statement: null, passage: { field: "description", start, quote } };
    expect(effectOf(notice, reading, dismissed)).toBe("in force");
    expect(effectOf(amended, reading, dismissed)).toBe("words gone");
  });
});

describe("quoted words", () => {
  it("are found where they stood, or at the one place they moved to, and not where they occur twice", () => {
    const moved = inventedNotice({ description: `Amended. ${notice.description}` });
    expect(findQuoted(notice, { field: "description", start, quote })).toEqual({ start, end });
    expect(findQuoted(moved, { field: "description", start, quote })).toEqual({ start: start + 9, end: end + 9 });
    const twice = inventedNotice({ description: `${quote} and ${quote}` });
    expect(findQuoted(twice, { field: "description", start: 7, quote })).toBeNull();
  });
});

describe("statements", () => {
  it("of one meaning have one key, however they are printed", () => {
    const key = (pattern: string) => statementKey({ kind: "model", pattern });
    expect(key("HT-1500 b")).toBe(key("ht1500B"));
    expect(key("HT-15*")).not.toBe(key("HT-15"));
    const tied = (models: string[]) => statementKey({ kind: "serial", window: { from: "A1", to: "A9", for: models } });
    expect(tied(["X", "Y"])).toBe(tied(["Y", "X"]));
    expect(tied(["X"])).not.toBe(tied([]));
  });

  it("are said in words", () => {
    expect(statementWords({ kind: "dateCode", window: { from: "2331", to: "2409", as: "YYWW", for: ["HT-1500B"] } })).toBe(
      "2331 to 2409, runs as YYWW (for HT-1500B)",
    );
    expect(statementWords({ kind: "made", window: { from: null, to: "2023-07-31" } })).toBe("any to 2023-07-31");
  });
});
