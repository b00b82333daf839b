import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { recordsSetAside } from "@/lib/notices/notice-list";
import { readNoticeList } from "@/lib/notices/read-list";

const longestMilliseconds = 2_000;
const fixture = (name: string) => readFileSync(new URL(`../../fixtures/notices/${name}`, import.meta.url));
const fixtures = [
  "invented-canada-open.json",
  "invented-safety-gate.xml",
  "invented-service.json",
  "invented-export.csv",
  "invented-plain-list.csv",
];

/** How many records a list came to, notices and set aside together; null where it was refused with a sentence. */
function accounted(input: Uint8Array | string): number | null {
  const list = readNoticeList(input);
  if (list.ok) return list.notices.length + recordsSetAside(list.setAside);
  expect(list.problem).toMatch(/\.$/);
  return null;
}

describe("published lists that were damaged on the way", () => {
  it.each(fixtures)("%s is read or refused with a sentence, wherever it was cut off or changed", (name) => {
    const whole = fixture(name);
    const damage = fc.record({
      cut: fc.integer({ min: 0, max: whole.length }),
      changes: fc.array(fc.tuple(fc.nat({ max: whole.length - 1 }), fc.nat({ max: 255 })), { maxLength: 20 }),
    });
    fc.assert(
      fc.property(damage, ({ cut, changes }) => {
        const bytes = Uint8Array.from(whole);
        for (const [at, byte] of changes) bytes[at] = byte;
        accounted(bytes.subarray(0, cut));
      }),
      { numRuns: 300 },
    );
  });

  it("never becomes a shorter list for JSON or XML that was cut off", () => {
    for (const name of ["invented-canada-open.json", "invented-safety-gate.xml"]) {
      const whole = fixture(name).toString("utf8").trimEnd();
      for (let cut = 0; cut < whole.length; cut += 13) expect(accounted(whole.slice(0, cut)), `${name} cut at ${cut}`).toBeNull();
    }
  });
});

describe("records that nobody foresaw", () => {
  const strange = fc.object({ maxDepth: 3 });
  it("of the Canadian open data are all accounted for", () => {
    const record = fc.record({
      NID: fc.oneof(fc.string(), fc.integer(), fc.constant(null)),
      Title: fc.oneof(fc.string(), strange),
      Product: fc.oneof(fc.string(), strange),
      Organization: fc.constantFrom("CFIA", "TC", "Consumer product safety", ""),
    });
    fc.assert(
      fc.property(fc.array(fc.oneof(record, strange), { minLength: 1, maxLength: 12 }), (records) => {
        return accounted(JSON.stringify([{ NID: 1, Title: "Larkfield recalls kettles" }, ...records])) === records.length + 1;
      }),
    );
  });

  it("of the older Canadian service are all accounted for", () => {
    const record = fc.record({
      recallId: fc.oneof(fc.string(), fc.integer(), fc.constant(null)),
      title: fc.oneof(fc.string(), strange),
      category: fc.anything(),
      date_published: fc.anything(),
      panels: fc.anything(),
    });
    fc.assert(
      fc.property(fc.array(record, { minLength: 1, maxLength: 12 }), (records) => {
        const text = JSON.stringify(records);
        const distinct = new Set((JSON.parse(text) as unknown[]).map((entry) => JSON.stringify(entry))).size;
        return accounted(text) === distinct;
      }),
    );
  });
});

describe("huge lists are read or refused within two seconds", () => {
  const inField = (product: string) => JSON.stringify([{ NID: 1, Title: "Larkfield recalls kettles", Product: product }]);
  const cases: [string, () => string][] = [
    ["scripts that never end", () => inField("<script>".repeat(150_000))],
    ["comments that never end", () => inField("<!--".repeat(250_000))],
    ["tags that never end", () => inField("<p ".repeat(300_000))],
    ["cells", () => inField("<td>a</td>".repeat(100_000))],
    ["ampersands", () => inField("&".repeat(1_000_000))],
    ["one element over and over", () => `<Safety-Gate><n><caseNumber>1</caseNumber>${"<a>x</a>".repeat(100_000)}</n></Safety-Gate>`],
    ["elements in elements", () => `<Safety-Gate>${"<a>".repeat(300_000)}`],
    ["attributes", () => `<Safety-Gate ${'a="b" '.repeat(100_000)}>`],
    ["arrays in arrays", () => `{"results":${"[".repeat(3_000)}${"]".repeat(3_000)}}`],
    ["a header of a megabyte", () => `nid,title,${"x,".repeat(500_000)}\n1,2\n`],
  ];
  it.each(cases)("%s", (_name, text) => {
    const input = text();
    const begun = performance.now();
    readNoticeList(input);
    expect(performance.now() - begun).toBeLessThan(longestMilliseconds);
  });
});
