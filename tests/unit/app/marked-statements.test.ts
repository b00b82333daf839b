import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { markStatements, usedMarks } from "@/app/(house)/recalls/_parts/marked-statements";
import type { Reason } from "@/lib/matching/candidate";
import type { Coverage, Span, SpanKind } from "@/lib/notices/coverage";

function coverageWith(spans: readonly Span[]): Coverage {
  const models = { stated: "none", include: [], exclude: [] } as const;
  return { notice: "26-114", brands: [], products: [], models, serials: [], dateCodes: [], made: [], upcs: [], spans };
}

const text = "Model HT-1500C, serials KM1 through KM9.\nUnits marked Rev. D are not included.";
const span = (words: string, kind: SpanKind, reads = words): Span => {
  const start = text.indexOf(words);
  return { field: "description", start, end: start + words.length, kind, reads };
};
const reason = (field: Reason["field"], inNotice: string, weight: number): Reason => ({
  ...{ field, inNotice, weight, level: `${field}.inside`, onAppliance: "known", sentence: "" },
});
const spans = [
  span("HT-1500C", "model"),
  span("KM1 through KM9", "serial", "KM1..KM9"),
  span("Rev. D", "excluded"),
  span("Units marked Rev. D", "model"),
];
const marked = (reasons: readonly Reason[] = []) =>
  markStatements(text, { coverage: coverageWith(spans), field: "description", reasons }).map(({ stretches }) =>
    stretches.flatMap(({ text: words, mark }) => (mark ? [`${mark.kind}:${words}${mark.agrees ? "!" : ""}`] : [])),
  );

describe("marking a notice's statements", () => {
  it("marks each statement in its paragraph, a left-out one before what it overlaps", () => {
    expect(marked()).toEqual([["model:HT-1500C", "serial:KM1 through KM9"], ["not:Rev. D"]]);
  });

  it("tints what agrees with the appliance and nothing else", () => {
    expect(marked([reason("model", "HT-1500C", 20), reason("serial", "KM1 to KM9", 4)])[0]).toEqual([
      "model:HT-1500C!",
      "serial:KM1 through KM9!",
    ]);
    expect(marked([reason("model", "HT-1500B", 20), reason("serial", "KM1 to KM9", -14)])[0]).toEqual([
      "model:HT-1500C",
      "serial:KM1 through KM9",
    ]);
  });

  it("gives our reading of each paragraph and the marks in use", () => {
    const [first] = markStatements(text, { coverage: coverageWith(spans), field: "description" });
    expect(first?.readings).toEqual([
      { kind: "model", reads: ["HT-1500C"] },
      { kind: "serial", reads: ["KM1..KM9"] },
    ]);
    expect(usedMarks(coverageWith(spans))).toEqual(["model", "serial", "not"]);
  });

  it("never changes a word, whatever the spans", () => {
    const kinds: SpanKind[] = ["brand", "product", "model", "excluded", "serial", "dateCode", "made", "upc", "location", "unread"];
    const anySpan = fc.record({ start: fc.nat(40), length: fc.nat(30), kind: fc.constantFrom(...kinds) });
    fc.assert(
      fc.property(fc.string({ maxLength: 40 }), fc.array(anySpan, { maxLength: 8 }), (words, found) => {
        const given = found.map(({ start, length, kind }): Span => ({ field: "title", start, end: start + length, kind, reads: "x" }));
        const paragraphs = markStatements(words, { coverage: coverageWith(given), field: "title" });
        const joined = paragraphs.map(({ stretches }) => stretches.map((stretch) => stretch.text).join(""));
        expect(joined).toEqual(words.split(/[\r\n]+/).filter((line) => line.trim() !== ""));
      }),
    );
  });
});
