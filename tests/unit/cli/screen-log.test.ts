import fc from "fast-check";
import Papa from "papaparse";
import { describe, expect, it } from "vitest";
import { takeLogBytes } from "@/lib/cli/screen-log";
import { makeLogRowReader } from "@/lib/watch/log-rows";
import type { Reading } from "@/lib/watch/reading";

const header = ["at", "outlet", "receptacle", "tag", "watts", "amps", "volts", "power_factor", "event", "cause"];
const zones: Readonly<Record<string, string | null>> = { O1: "America/Chicago", "O 2": null, Östflur: "Europe/Berlin" };
const zoneOf = (outlet: string) => zones[outlet];

type Taken = Reading | string;

async function byBytes(text: string, cut: number): Promise<Taken[]> {
  const taken: Taken[] = [];
  const bytes = Buffer.from(text);
  async function* pieces() {
    for (let from = 0; from < bytes.length; from += cut) yield bytes.subarray(from, from + cut);
  }
  const sink = { take: (reading: Reading) => taken.push(reading), takeSetAside: (reason: string) => taken.push(reason) };
  await takeLogBytes(pieces(), sink, zoneOf);
  return taken;
}

/** The same rows by the CSV library on the whole text. */
function byLibrary(text: string): Taken[] {
  const [first, ...rows] = Papa.parse<string[]>(text.replace(/\r\n?/g, "\n"), { newline: "\n", delimiter: "," }).data;
  const read = makeLogRowReader(first!, zoneOf);
  return rows
    .filter((cells) => !cells.every((cell) => cell.trim() === ""))
    .map((cells) => {
      const row = read(cells);
      return "setAside" in row ? row.reason : row.reading;
    });
}

const time = fc.oneof(
  fc.date({ min: new Date("2020-01-01"), max: new Date("2030-01-01"), noInvalidDate: true }).map((date) => date.toISOString()),
  fc.date({ min: new Date("2026-10-31"), max: new Date("2026-11-02"), noInvalidDate: true }).map((date) => date.toISOString().slice(0, 19)),
  fc
    .date({ min: new Date("2026-03-07"), max: new Date("2026-03-09"), noInvalidDate: true })
    .map((date) => `${date.toISOString().slice(0, 19).replace("T", " ")}-06:00`),
  fc.constantFrom(
    "2026-02-30T10:00:00Z",
    "2026-03-01T24:00:00Z",
    "2026-03-01T10:00Z",
    "soon",
    "",
    "2026-03-01T10:00:00.5Z",
    "2026-03-01T10:00:00+0530",
  ),
);
const figure = fc.oneof(
  fc.double({ min: 0, max: 3000, noNaN: true }).map((value) => value.toFixed(2)),
  fc.nat(4000).map(String),
  fc.constantFrom("", "", "-5", "NaN", "1e3", "12,5", ".5", "5.", "007", " 12", "123456789012345678", "0.30000000000000004", "x"),
);
const cell = fc.oneof(
  fc.constantFrom("", "T1", "manual", "ground_fault", 'a "quoted" word', "two\nlines", "comma, here", " edge "),
  fc.string({ maxLength: 6 }).map((text) => text.replace(/["\r\n\uFEFF]/g, "")),
);
const outlet = fc.constantFrom("O1", "O1", "O1", "O 2", "Östflur", "O9", "");
const event = fc.constantFrom("", "", "", "trip", "off", "nonsense");
const row = fc.tuple(time, outlet, fc.constantFrom("", "1", "upper", "Lower", "02"), cell, figure, figure, figure, figure, event, cell);

function write(rows: readonly (readonly string[])[], lineEnd: string): string {
  return (
    [header, ...rows]
      .map((cells) => cells.map((text) => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text)).join(","))
      .join(lineEnd) + lineEnd
  );
}

describe("a CSV log read from its bytes", () => {
  it("gives the same rows as the CSV library, however it is cut and whatever its cells", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(row, { minLength: 1, maxLength: 30 }),
        fc.constantFrom("\n", "\r\n"),
        fc.integer({ min: 200, max: 900 }),
        async (rows, lineEnd, cut) => {
          const text = write(rows, lineEnd);
          expect(await byBytes(text, cut)).toEqual(byLibrary(text));
        },
      ),
      { numRuns: 300 },
    );
  });

  it("gives the same rows for plain figures, the straight way", async () => {
    const plain = fc.tuple(
      fc.date({ min: new Date("2020-01-01"), max: new Date("2030-01-01"), noInvalidDate: true }),
      fc.double({ min: 0, max: 1e7, noNaN: true }),
      fc.integer({ min: 0, max: 12 }),
    );
    await fc.assert(
      fc.asyncProperty(fc.array(plain, { minLength: 1, maxLength: 40 }), async (rows) => {
        const text = write(
          rows.map(([at, watts, digits]) => [at.toISOString(), "O1", "1", "T1", watts.toFixed(digits), "", "119.9", "", "", ""]),
          "\n",
        );
        expect(await byBytes(text, 512)).toEqual(byLibrary(text));
      }),
    );
  });

  it("reads blank lines, a byte order mark, and a last line without an end", async () => {
    const text = `\uFEFF${header.join(",")}\n\n2026-03-01T12:00:00Z,O1,1,,5,,,,,\n,,,,,,,,,\n2026-03-01T12:00:01Z,O1,1,,6,,,,,`;
    expect((await byBytes(text, 4096)).map((taken) => (typeof taken === "string" ? taken : taken.watts))).toEqual([5, 6]);
  });

  it("reads semicolons, tabs and JSON lines the usual way", async () => {
    const cells = ["2026-03-01T12:00:00Z", "O1", "1", "", "5", "", "", "", "", ""];
    const json = JSON.stringify({ at: cells[0], outlet: "O1", receptacle: 1, watts: 5 });
    for (const text of [`${header.join(";")}\n${cells.join(";")}\n`, `${header.join("\t")}\n${cells.join("\t")}\n`, `${json}\n`]) {
      expect(await byBytes(text, 64)).toEqual([
        {
          atMs: Date.UTC(2026, 2, 1, 12),
          outlet: "O1",
          receptacle: "1",
          tag: null,
          watts: 5,
          amps: null,
          volts: null,
          powerFactor: null,
          event: null,
          cause: null,
        },
      ]);
    }
  });

  it("loses nothing behind a quotation mark that does not close", async () => {
    const lines = Array.from(
      { length: 20 },
      (_, at) => `2026-03-01T12:00:${String(at).padStart(2, "0")}Z,O1,1,,${at},,,,,${at === 5 ? '"open' : ""}`,
    );
    const taken = await byBytes(`${header.join(",")}\n${lines.join("\n")}\n`, 300);
    expect(taken).toHaveLength(20);
  });
});
