import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { recordsSetAside } from "@/lib/notices/notice-list";
import { readNoticeList } from "@/lib/notices/read-list";
import { understand } from "@/lib/notices/understand";
import { bait, filled, inTime } from "./hostile-text";

/** One invented list of each published format. */
const names = [
  "invented-service.json",
  "invented-export.csv",
  "invented-plain-list.csv",
  "invented-canada-open.json",
  "invented-safety-gate.xml",
] as const;
const bytesOf = (name: string) => new Uint8Array(readFileSync(fileURLToPath(new URL(`../../fixtures/notices/${name}`, import.meta.url))));
const textOf = (name: string) => new TextDecoder().decode(bytesOf(name));

function counted(input: Uint8Array | string): { records: number; format: string } | null {
  const list = readNoticeList(input);
  if (!list.ok) {
    expect(list.problem).toMatch(/^\S.{10,}$/s);
    return null;
  }
  return { records: list.notices.length + recordsSetAside(list.setAside), format: list.format };
}

function utf16(text: string, order: "le" | "be", mark: boolean): Uint8Array {
  const whole = (mark ? "\ufeff" : "") + text;
  const bytes = new Uint8Array(whole.length * 2);
  const view = new DataView(bytes.buffer);
  for (let at = 0; at < whole.length; at++) view.setUint16(at * 2, whole.charCodeAt(at), order === "le");
  return bytes;
}

/** Each character as the one byte it has in Windows-1252, as far as the invented lists go. */
function windows1252(text: string): Uint8Array {
  return Uint8Array.from(
    text,
    (character) => ({ "’": 0x92, "“": 0x93, "”": 0x94, "–": 0x96, "™": 0x99, "…": 0x85 })[character] ?? character.charCodeAt(0),
  );
}

describe("a list in another encoding holds the same records", () => {
  it.each(names)("%s", (name) => {
    const text = textOf(name).replace(/<\?xml[^>]*\?>/, "");
    const plain = counted(text);
    expect(plain).not.toBeNull();
    for (const order of ["le", "be"] as const) for (const mark of [true, false]) expect(counted(utf16(text, order, mark))).toEqual(plain);
    expect(counted(windows1252(text))).toEqual(plain);
    expect(counted(new TextEncoder().encode(`\ufeff${text}`))).toEqual(plain);
    expect(counted(text.replace(/\r?\n/g, "\r\n"))).toEqual(plain);
  });
});

describe("a list with damage", () => {
  it.each(names)("%s is read or refused with a sentence, whatever bytes are changed, cut off or put in", (name) => {
    const bytes = bytesOf(name);
    const damage = fc.record({
      at: fc.nat({ max: bytes.length - 1 }),
      put: fc.uint8Array({ maxLength: 6 }),
      drop: fc.nat({ max: 12 }),
      end: fc.option(fc.nat({ max: bytes.length - 1 })),
    });
    fc.assert(
      fc.property(fc.array(damage, { minLength: 1, maxLength: 5 }), (all) => {
        let hurt = bytes;
        for (const { at, put, drop, end } of all) {
          const whole = Uint8Array.from([...hurt.slice(0, at), ...put, ...hurt.slice(at + drop)]);
          hurt = end === null ? whole : whole.slice(0, Math.max(end, 1));
        }
        counted(hurt);
      }),
      { numRuns: 60 },
    );
  });
});

/** Values that no reader expects in a field. */
const odd = fc.oneof(
  fc.constant(null),
  fc.boolean(),
  fc.double(),
  fc.string({ unit: "binary", maxLength: 20 }),
  fc.array(fc.anything({ maxDepth: 1 }), { maxLength: 3 }),
  fc.dictionary(fc.constantFrom("Name", "UPC", "__proto__", "constructor", "x"), fc.anything({ maxDepth: 1 }), { maxKeys: 3 }),
);
const fields = fc.constantFrom(
  ..."RecallID RecallNumber RecallDate Description Title Products Manufacturers Importers Distributors Retailers ProductUPCs Hazards Remedies NID Product Issue Organization Category __proto__ constructor toString".split(
    " ",
  ),
);

describe("no record is lost", () => {
  it("of a JSON list, whatever stands in its fields", () => {
    const service = fc
      .dictionary(fields, odd, { maxKeys: 8 })
      .map((extra) => ({ RecallID: 1, Title: "Larkfield Recalls Kettles", ...extra }));
    const canada = fc
      .dictionary(fields, odd, { maxKeys: 8 })
      .map((extra) => ({ NID: "9", Title: "Larkfield recalls kettles", Organization: "Consumer product safety", ...extra }));
    for (const record of [service, canada])
      fc.assert(
        fc.property(
          fc.array(fc.oneof({ weight: 4, arbitrary: record }, { weight: 1, arbitrary: odd }), { minLength: 1, maxLength: 8 }),
          (records) => {
            const text = JSON.stringify(records);
            const result = counted(text);
            return result === null || result.records === (JSON.parse(text) as unknown[]).length;
          },
        ),
        { numRuns: 150 },
      );
  });

  it("of a CSV list, whatever its cells hold and whichever separator it has", () => {
    const cell = fc.oneof(
      fc.string({ maxLength: 15 }),
      fc.string({ unit: "binary", maxLength: 10 }),
      fc.constantFrom(...bait.map(([, unit]) => unit)),
    );
    const heads = [
      ["number", "title", "brand", "models"],
      ["Recall Number", "Date", "Recall Heading", "Name of product", "Description", "Units"],
    ];
    const quoted = (text: string) => `"${text.replaceAll('"', '""').replaceAll("\u0000", "")}"`;
    for (const head of heads)
      fc.assert(
        fc.property(
          fc.constantFrom(",", ";", "\t"),
          fc.array(fc.array(cell, { minLength: 4, maxLength: 4 }), { minLength: 1, maxLength: 8 }),
          (separator, rows) => {
            const lines = rows.map(([first = "", ...rest], at) => [`N-${at}${first}`, ...rest].map(quoted).join(separator));
            const result = counted(`${head.join(separator)}\n${lines.join("\n")}\n`);
            return result !== null && result.records === rows.length;
          },
        ),
        { numRuns: 150 },
      );
  });

  it("of the invented lists, and each notice is understood", () => {
    for (const name of names) {
      const list = readNoticeList(bytesOf(name));
      expect(list.ok).toBe(true);
      if (list.ok) for (const notice of list.notices) expect(understand(notice).notice).toBe(notice.number);
    }
  });
});

describe("lists made to hurt are read or refused within two seconds", () => {
  const levels = 100_000;
  const tenMegabytes = 10_000_000;

  it("JSON nested a hundred thousand levels deep, at the top and in each field", () => {
    const deep = `${"[".repeat(levels)}${"]".repeat(levels)}`;
    const deepObject = `${'{"a":'.repeat(levels)}1${"}".repeat(levels)}`;
    const record = (field: string, value: string) =>
      `[{"RecallID":1,"RecallNumber":"31-1","Title":"T","${field}":${value}},{"RecallID":2,"Title":"U"}]`;
    for (const value of [deep, deepObject]) {
      inTime(() => counted(value));
      for (const field of ["Products", "Manufacturers", "ProductUPCs", "Description", "Hazards", "Other"])
        inTime(() => counted(record(field, value)));
      inTime(() => counted(`[{"NID":"1","Title":"T","Organization":"Consumer product safety","Product":${value}}]`));
    }
  });

  it("markup nested a hundred thousand levels deep", () => {
    inTime(() => counted("<a>".repeat(levels) + "</a>".repeat(levels)));
    const alert = textOf("invented-safety-gate.xml");
    inTime(() => counted(alert.replace(/<description>/i, `<description>${"<a>".repeat(levels)}`)));
    inTime(() => counted(`[{"NID":"1","Title":"T","Organization":"Consumer product safety","Product":"${"<b>".repeat(levels)}"}]`));
  });

  it("entities that stand for each other", () => {
    const bomb = `<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa">${Array.from({ length: 20 }, (_, at) => `<!ENTITY b${at} "&b${at - 1};&b${at - 1};">`).join("")}]>`;
    inTime(() => counted(textOf("invented-safety-gate.xml").replace(/(<\?xml[^>]*\?>)/, `$1${bomb}`)));
    inTime(() => counted(`[{"RecallID":1,"Title":"${"&amp;".repeat(200_000)}"}]`));
  });

  it.each(["a", '""', "&amp;", "<b>", "\\u0041", ", ", "AB12"])("a field of ten megabytes: %s", (unit) => {
    const json = inTime(() =>
      counted(
        `[{"RecallID":1,"RecallNumber":"31-1","Title":"T","Description":"${filled(unit.replaceAll('"', "'"), tenMegabytes)}"},{"RecallID":2,"RecallNumber":"31-2","Title":"U"}]`,
      ),
    );
    expect(json?.records).toBe(2);
    const csv = inTime(() => counted(`number,title,description\n1,T,"${filled(unit.replaceAll('"', '""'), tenMegabytes)}"\n2,U,\n`));
    expect(csv?.records).toBe(2);
  });

  it("a quotation mark that is never closed, and rows of nothing but separators", () => {
    inTime(() => counted(`number,title\n1,"${"a,b\n".repeat(500_000)}`));
    inTime(() => counted(`number,title\n${",".repeat(5_000_000)}\n`));
    inTime(() => counted(`number,title\n${",\n".repeat(500_000)}1,T\n`));
    inTime(() => counted(`number${",".repeat(1_000_000)}title\n1,T\n`));
  });
});
