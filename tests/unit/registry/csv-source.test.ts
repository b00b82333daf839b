import fc from "fast-check";
import Papa from "papaparse";
import { describe, expect, it } from "vitest";
import { type CsvRow, csvHeaders, openCsv, openCsvFile } from "@/lib/registry/csv-source";

async function* inPieces(bytes: Uint8Array, size: number) {
  for (let at = 0; at < bytes.length; at += size) yield bytes.subarray(at, at + size);
}

async function readAll(text: string | Uint8Array, pieceSize = 7): Promise<CsvRow[]> {
  const rows: CsvRow[] = [];
  for await (const row of openCsv(inPieces(typeof text === "string" ? Buffer.from(text) : text, pieceSize))) rows.push(row);
  return rows;
}

const cellsOf = (rows: readonly CsvRow[]) => rows.map((row) => row.cells);

describe("a CSV file is read whatever spreadsheet wrote it", () => {
  const written: readonly (readonly [string, string | Uint8Array])[] = [
    ["plain", "a,b\n1,2\n3,4\n"],
    ["with a byte order mark", "\uFEFFa,b\n1,2\n3,4\n"],
    ["with CRLF and no last line end", "a,b\r\n1,2\r\n3,4"],
    ["with CR alone", "a,b\r1,2\r3,4\r"],
    ["with semicolons", "a;b\n1;2\n3;4\n"],
    ["with tabs", "a\tb\n1\t2\n3\t4\n"],
    ["with a separator line", "sep=;\na;b\n1;2\n3;4\n"],
    ["with blank lines", "\n\na,b\n\n1,2\n,\n\n3,4\n\n"],
    ["in UTF-16, little end first", Buffer.from("\uFEFFa,b\n1,2\n3,4\n", "utf16le")],
    ["in UTF-16 without a mark", Buffer.from("a,b\n1,2\n3,4\n", "utf16le")],
    ["with quoted headers and cells", '"a","b"\n"1","2"\n"3","4"\n'],
  ];
  for (const [name, text] of written) {
    for (const size of [1, 7, 4096]) {
      it(`${name}, in pieces of ${size} bytes`, async () => {
        const rows = await readAll(text, size);
        expect(rows.map((row) => row.record)).toEqual([
          { a: "1", b: "2" },
          { a: "3", b: "4" },
        ]);
        expect(rows.every((row) => row.problem === null)).toBe(true);
      });
    }
  }

  // RFC 4180 section 2: fields with line breaks, double quotes and commas are quoted, a quote inside is doubled.
  it("keeps line ends, separators and doubled quotation marks inside quoted cells and counts lines by them", async () => {
    const rows = await readAll('a,b\n"x\r\ny","1,5"\n"say ""no""",z\n');
    expect(cellsOf(rows)).toEqual([
      ["x\ny", "1,5"],
      ['say "no"', "z"],
    ]);
    expect(rows.map((row) => row.line)).toEqual([2, 4]);
  });

  it("reads Windows-1252 where the bytes are no UTF-8, and UTF-8 split anywhere", async () => {
    expect(cellsOf(await readAll(Buffer.from("a,b\nCaf\xe9,2\n", "latin1")))).toEqual([["Café", "2"]]);
    for (const size of [1, 2, 3, 5]) expect(cellsOf(await readAll("a,b\nCafé €,☃𝄞\n", size))).toEqual([["Café €", "☃𝄞"]]);
  });

  it("names a damaged byte in a file that is UTF-8 otherwise, with its line", async () => {
    const bytes = Buffer.concat([Buffer.from("a,b\nCafé,1\n"), Buffer.from([0x58, 0xff, 0x2c, 0x32, 0x0a]), Buffer.from("é,3\n")]);
    const rows = await readAll(bytes);
    expect(rows.map((row) => row.problem?.slice(0, 26) ?? null)).toEqual([null, "Line 3 holds bytes that ar", null]);
  });

  it("keeps columns apart that have the same or no header", async () => {
    expect(await csvHeaders("a,a,,b\n1,2,3,4\n")).toEqual(["a", "a (2)", "column 3", "b"]);
  });
});

describe("what cannot be read is said and nothing is lost", () => {
  const refused: readonly (readonly [string, Uint8Array, RegExp])[] = [
    ["a workbook", Buffer.from([0x50, 0x4b, 3, 4, 20, 0, 6, 0]), /workbook/],
    ["a PDF", Buffer.from("%PDF-1.7\n"), /PDF/],
    ["a gzip file", Buffer.from([0x1f, 0x8b, 8, 0]), /compressed/],
    ["a web page", Buffer.from("<!DOCTYPE html><html></html>"), /web page/],
    ["an empty file", Buffer.from(""), /empty/],
    ["zero bytes", Buffer.alloc(64), /zero bytes/],
  ];
  for (const [name, bytes, sentence] of refused) {
    it(`refuses ${name} by name`, async () => {
      await expect(readAll(bytes)).rejects.toThrow(sentence);
    });
  }

  it("fills short rows and marks rows with more cells than headers", async () => {
    const rows = await readAll("a,b,c\n1\n1,2,3,,\n1,2,3,4\n");
    expect(rows.map((row) => [row.record["b"], row.problem === null])).toEqual([
      ["", true],
      ["2", true],
      ["2", false],
    ]);
  });

  it("holds the damage of an open quotation mark to its own line", async () => {
    const many = Array.from({ length: 40_000 }, (_, i) => `row ${i},x`).join("\n");
    const rows = await readAll(`a,b\n1,2\n"open,here,and,on\n3,4\n${many}\n`, 65_536);
    expect(rows.length).toBe(40_003);
    expect(rows.filter((row) => row.problem !== null).map((row) => row.line)).toEqual([3]);
    expect(rows.at(-1)?.line).toBe(40_004);
  });

  it("reads inch marks as they stand when the line has the right number of cells", async () => {
    const rows = await readAll('size,name\n"15" monitor",one\n"15" monitor,two\n3,three\n');
    expect(cellsOf(rows)).toEqual([
      ['15" monitor', "one"],
      ['"15" monitor', "two"],
      ["3", "three"],
    ]);
  });
});

describe("reading is the inverse of writing", () => {
  const cell = fc.string({ unit: fc.constantFrom("a", "B", "7", '"', ",", ";", "\n", " ", "é", "𝄞", "\t"), maxLength: 8 });
  it("gives back any table that the CSV writer quoted, in pieces of any size", async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(fc.tuple(cell, cell, cell), { maxLength: 12 }), fc.integer({ min: 1, max: 40 }), async (table, size) => {
        const text = Papa.unparse({ fields: ["a", "b", "c"], data: table }, { newline: "\n", quotes: true });
        const rows = await readAll(text, size);
        const expected = table.filter((cells) => cells.some((value) => value.trim() !== ""));
        expect(cellsOf(rows)).toEqual(expected);
      }),
      { numRuns: 200 },
    );
  });

  it("tells the header before any row is asked for", async () => {
    const file = await openCsvFile(inPieces(Buffer.from("x;y\n1;2\n"), 3));
    expect([file.headers, file.delimiter]).toEqual([["x", "y"], ";"]);
  });
});
