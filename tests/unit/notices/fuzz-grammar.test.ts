import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Coverage, Span } from "@/lib/notices/coverage";
import type { Notice } from "@/lib/notices/notice";
import { understand } from "@/lib/notices/understand";
import { bait, filled, inTime } from "./hostile-text";
import { inventedNotice } from "./invented-notice";

/** Three of them are as much as is read of a description. */
const long = 33_000;
const tenMegabytes = 10_000_000;

describe("long runs in a description and in the fields beside it are read within two seconds", () => {
  it.each(bait)("%s", (_name, unit) => {
    const text = filled(unit, long);
    const description = `Sizes: ${text}. Model numbers ${text}. Serial numbers ${text}`;
    expect(inTime(() => understand(inventedNotice({ description }))).notice).toBe("31-001");
    inTime(() =>
      understand(
        inventedNotice({ title: text, productNames: [text], makers: [text], statedModels: text, statedSerials: text, upcs: [text] }),
      ),
    );
  });
});

describe("a field of ten megabytes is read within two seconds", () => {
  it.each(["a", "7", "AB12 ", "model AB-12, ", "&amp;"])("%s", (unit) => {
    const text = filled(unit, tenMegabytes);
    expect(inTime(() => understand(inventedNotice({ description: text, title: text, productNames: [text], makers: [text] }))).notice).toBe(
      "31-001",
    );
  });
});

/** Pieces of the grammar and of its enemies in any order, with and without blanks. */
const piece = fc.constantFrom(
  ...bait.map(([, unit]) => unit),
  ..."LF-220|LF-2xx|617QMXXXXXXX|4255W|012345678905|20290312|10/95|DEC 2029|QB757BH/WH|(or G)|B, W or S|first letter A|third and fourth digits|are 12, 13 or 14|with the letters AJ through AX|WW/YY|e.g.|for example|; |. |: |The |kettles|Larkfield|is printed on the label".split(
    "|",
  ),
);
const prose = fc.array(piece, { maxLength: 80 }).map((pieces) => pieces.join(" "));
const glued = fc.array(piece, { maxLength: 40 }).map((pieces) => pieces.join(""));
const anyText = fc.oneof(prose, glued, fc.string({ unit: "binary", maxLength: 300 }));
const anyNotice = fc
  .record({
    title: anyText,
    description: anyText,
    productNames: fc.array(anyText, { maxLength: 2 }),
    makers: fc.array(anyText, { maxLength: 2 }),
    statedBrands: fc.array(anyText, { maxLength: 2 }),
    statedModels: fc.option(anyText),
    statedSerials: fc.option(anyText),
    madeFrom: fc.option(anyText),
    madeTo: fc.option(anyText),
    upcs: fc.array(anyText, { maxLength: 2 }),
  })
  .map((given) => inventedNotice(given));

function textOf(notice: Notice, span: Span): string {
  const field = notice[span.field as keyof Notice];
  if (span.field === "made") return notice.madeFrom ?? notice.madeTo ?? "";
  return Array.isArray(field) ? String(field[span.index ?? -1] ?? "") : typeof field === "string" ? field : "";
}

const texts = (coverage: Coverage, kind: Span["kind"]) => coverage.spans.filter((span) => span.kind === kind).map((span) => span.reads);

describe("any notice", () => {
  it("has spans that lie inside the text they name, each with a reading", () => {
    fc.assert(
      fc.property(anyNotice, (notice) =>
        understand(notice).spans.every(
          (span) => span.start >= 0 && span.start < span.end && span.end <= textOf(notice, span).length && span.reads !== "",
        ),
      ),
      { numRuns: 200 },
    );
  });

  it("has a span for each pattern and window that its texts state", () => {
    fc.assert(
      fc.property(anyText, (description) => {
        const coverage = understand(inventedNotice({ title: "Kettles Recalled", description }));
        const models = new Set(
          [...texts(coverage, "model"), ...texts(coverage, "excluded")].flatMap((reads) => [reads, ...reads.split(" ")]),
        );
        const joined = [...texts(coverage, "model"), ...texts(coverage, "excluded")].join(" ");
        const windows = new Set([...texts(coverage, "serial"), ...texts(coverage, "dateCode")]);
        const stands = [...coverage.models.include, ...coverage.models.exclude].every((one) => models.has(one) || joined.includes(one));
        return (
          stands &&
          [...coverage.serials, ...coverage.dateCodes].every((one) =>
            windows.has("pattern" in one ? one.pattern : `${one.from}..${one.to}`),
          ) &&
          coverage.upcs.every((one) => texts(coverage, "upc").includes(one))
        );
      }),
      { numRuns: 200 },
    );
  });

  it("names nothing both covered and not covered, nothing twice, and no unread code as a model", () => {
    fc.assert(
      fc.property(anyNotice, (notice) => {
        const { models, serials, spans } = understand(notice);
        const windows = serials.map((one) => JSON.stringify(one));
        const unread = new Set(spans.filter((span) => span.kind === "unread").map((span) => span.reads));
        return (
          models.include.every((one) => !models.exclude.includes(one) && !unread.has(one)) &&
          new Set(models.include).size === models.include.length &&
          new Set(windows).size === windows.length &&
          (models.stated === "listed") === models.include.length > 0
        );
      }),
      { numRuns: 200 },
    );
  });

  it("is understood alike each time, and whatever was read before it", () => {
    fc.assert(
      fc.property(anyNotice, anyNotice, (notice, other) => {
        const first = JSON.stringify(understand(notice));
        understand(other);
        return JSON.stringify(understand(notice)) === first;
      }),
    );
  });
});
