import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readNoticeList } from "@/lib/notices/read-list";
import { understand } from "@/lib/notices/understand";
import { inTime } from "./hostile-text";
import { inventedNotice } from "./invented-notice";

/** Pieces that the grammar reacts to, in any order. */
const piece = fc.constantFrom(
  ...'model numbers|model|serial number|serial|No.|date code|beginning with|ending in|through|to|between|and|or|,|.|(|)|"|“|”|are not included|except|manufactured|before|in|2020|March 2021|LF-220|LF-2xx|617QMXXXXXXX|4255|4255W|12"|1,500|$40|UPC|012345678905|Model NumberSerial No.|QB757BH/WH|*|#|the|kettles|Larkfield|brand|Recalls|Due to|first letter|A|weeks 22 through 30 of 1996|\u00a0|AB12AB13AB14AB15AB16'.split(
    "|",
  ),
);
const prose = fc.array(piece, { maxLength: 120 }).map((pieces) => pieces.join(" "));
const glued = fc.array(piece, { maxLength: 60 }).map((pieces) => pieces.join(""));

describe("any text", () => {
  it("gives a coverage whose spans lie inside the text", () => {
    fc.assert(
      fc.property(fc.oneof(prose, glued, fc.string({ unit: "binary", maxLength: 400 })), prose, (description, title) => {
        const coverage = understand(inventedNotice({ description, title }));
        return coverage.spans.every(
          (span) => span.start >= 0 && span.end >= span.start && span.end <= (span.field === "title" ? title : description).length,
        );
      }),
      { numRuns: 500 },
    );
  });

  it("gives the same coverage each time", () => {
    const once = (description: string) => JSON.stringify(understand(inventedNotice({ description })));
    fc.assert(
      fc.property(prose, (description) => {
        const first = once(description);
        expect(once(description)).toBe(first);
      }),
    );
  });
});

describe("lists that nobody prepared", () => {
  it("never make the reader fail, whatever the bytes", () => {
    fc.assert(fc.property(fc.uint8Array({ maxLength: 2_000 }), (bytes) => typeof readNoticeList(bytes).ok === "boolean"));
  });

  it("nested very deep are refused or set aside, not a crash", () => {
    const deep = `${'{"RecallID":1,"Title":"T","Products":'}${"[".repeat(200_000)}${"]".repeat(200_000)}}`;
    for (const text of [deep, `[${deep}]`, `[{"x":${"[".repeat(100_000)}${"]".repeat(100_000)}},{"RecallID":2,"Title":"T"}]`]) {
      expect(typeof inTime(() => readNoticeList(text)).ok).toBe("boolean");
    }
  });

  it("lose no record: each is a notice or set aside", () => {
    const value = fc.oneof(
      fc.string({ maxLength: 12 }),
      fc.integer(),
      fc.constant(null),
      fc.array(fc.string({ maxLength: 4 }), { maxLength: 2 }),
    );
    const record = fc.oneof(
      fc.record({ RecallID: value, Title: value, RecallNumber: value, Products: value }, { requiredKeys: ["RecallID", "Title"] }),
      value,
    );
    fc.assert(
      fc.property(fc.array(record, { minLength: 1, maxLength: 12 }), (records) => {
        const list = readNoticeList(JSON.stringify(records));
        return !list.ok || list.notices.length + list.setAside.length === records.length;
      }),
    );
  });

  it("lose no row of a CSV with any texts in its cells", () => {
    const cell = fc.string({ maxLength: 20 }).map((text) => `"${text.replaceAll('"', '""')}"`);
    fc.assert(
      fc.property(fc.array(fc.tuple(cell, cell), { minLength: 1, maxLength: 10 }), (rows) => {
        const text = `number,title,brand\n${rows.map(([title, brand], at) => `N-${at},${title},${brand}`).join("\n")}\n`;
        const list = readNoticeList(text);
        return list.ok && list.notices.length + list.setAside.length === rows.length;
      }),
    );
  });

  it("with a field of a megabyte are read within two seconds", () => {
    const big = JSON.stringify([{ RecallID: 1, RecallNumber: "31-1", Title: "T", Description: "&amp;".repeat(200_000) }]);
    const list = inTime(() => readNoticeList(big));
    expect(list.ok && list.notices[0]?.description.length).toBe(200_000);
    const csv = inTime(() => readNoticeList(`number,title,description\n1,T,"${"a\n".repeat(500_000)}"\n`));
    expect(csv.ok && csv.notices).toHaveLength(1);
  });
});
