import { inflateSync } from "node:zlib";
import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { inside, Paper, printable } from "@/lib/documents/pdf-paper";
import { cutLines, wrapped } from "@/lib/documents/pdf-wrap";
import { sitePackPdf } from "@/lib/documents/site-pack-pdf";
import { both, type PackSection } from "@/lib/documents/site-pack-section";
import { packOf, sectionOf } from "../../support/pack-builders";

const openPaper = () => Paper.open({ title: "T", subject: "S", madeAt: new Date(0), identity: "1" });
const text = { face: "text", size: 9 } as const;

/** The document with its packed streams unpacked, as Latin-1. */
function unpacked(pdf: Buffer): string {
  const whole = pdf.toString("latin1");
  return whole.replace(/stream\n([\s\S]*?)\nendstream/g, (stream, body: string) => {
    try {
      return inflateSync(Buffer.from(body, "latin1")).toString("latin1");
    } catch {
      return stream;
    }
  });
}

const long = "Übergroßer Wäschetrockner mit Łabędź-Heizung ".repeat(400);
const hostile: PackSection = sectionOf({
  columns: [
    both("word", "Word", 60, "word"),
    both("brand", "Maker", 60, "plate"),
    both("watts", "W", 24, "plate figure"),
    both("why", "Why", 200),
  ],
  rows: [
    ["DANGER", "Keldamar", "1500", "Ω ≤ 5, “so”"],
    ["NOT A WORD", null, null, long],
    [null, "X".repeat(500), "max 60", "\u0000\u001b[31m\u202e"],
    ["NOTICE", "東芝", "·", "a\nb\r\nc"],
  ],
});

describe("the pack as a document", () => {
  beforeEach(() => void vi.useFakeTimers({ toFake: ["Date"] }));
  afterEach(() => void vi.useRealTimers());

  it("is the same bytes each time, whatever the clock says", async () => {
    const pack = packOf([hostile, sectionOf()]);
    const drawnAt = async (clock: string) => {
      vi.setSystemTime(new Date(clock));
      return (await sitePackPdf(pack))?.bytes ?? Buffer.of();
    };
    const [first, second] = [await drawnAt("2026-04-01T00:00:00Z"), await drawnAt("2031-12-31T23:59:59Z")];
    expect(second.equals(first)).toBe(true);
    expect(first.length).toBeGreaterThan(5000);
    const dates = first.toString("latin1").match(/\(D:\w+\)/g);
    expect([...new Set(dates)]).toEqual(["(D:20260306150000Z)"]);
  });

  it("says that a section is empty, and takes hostile and endless text without breaking off", async () => {
    const pack = packOf([hostile, sectionOf({ empty: "Nothing was open." })], { head: null, site: long.slice(0, 300) });
    const drawn = await sitePackPdf(pack);
    expect(drawn?.pages).toBeGreaterThan(1);
    expect(drawn?.bytes.subarray(0, 5).toString()).toBe("%PDF-");
    expect(unpacked(drawn?.bytes ?? Buffer.of())).toContain("/Count");
  });

  it("tells its rows as it goes and stops when asked", async () => {
    const rows = Array.from({ length: 250 }, (_, i) => [`row ${i}`]);
    const told: number[][] = [];
    const all = await sitePackPdf(packOf([sectionOf({ rows })]), async (...progress) => {
      told.push(progress);
      return false;
    });
    expect(told).toEqual([
      [100, 250],
      [200, 250],
      [250, 250],
    ]);
    expect(all?.pages).toBeGreaterThan(3);
    expect(await sitePackPdf(packOf([sectionOf({ rows })]), async (done) => done >= 200)).toBeNull();
  });
});

describe("text on paper", () => {
  it("is broken into lines that fit, and none of its signs is lost", async () => {
    const paper = await openPaper();
    fc.assert(
      fc.property(fc.string({ unit: "grapheme", maxLength: 120 }), fc.integer({ min: 20, max: 400 }), (given, width) => {
        const line = printable(given).replace(/ +/g, " ");
        const lines = wrapped(paper, line, text, width);
        expect(lines.join("").replaceAll(" ", "")).toBe(line.replaceAll(" ", ""));
        for (const one of lines) expect(paper.widthOf(one, text) <= width || [...one].length === 1).toBe(true);
      }),
      { numRuns: 300 },
    );
  });

  it("breaks a long code at a joint rather than in the midst of it", async () => {
    const paper = await openPaper();
    const lines = wrapped(paper, "KC-0703-K2-RECEPTACLE", { face: "code", size: 8 }, 60);
    expect(lines.slice(0, -1).every((line) => line.endsWith("-"))).toBe(true);
    expect(lines.join("")).toBe("KC-0703-K2-RECEPTACLE");
  });

  it("has letters of other scripts from the fonts that hold them, and counts what none has", async () => {
    const paper = await openPaper();
    paper.pdf.addPage();
    for (const face of ["text", "strong", "plate", "plateStrong", "plateSlanted", "code", "theirs"] as const)
      paper.write("Größe Łabędź Škoda Ωμ Жук №5", { x: inside.left, y: 100 }, { face, size: 9 });
    expect([...paper.missing]).toEqual([]);
    paper.write("東芝", { x: inside.left, y: 120 }, text);
    expect([...paper.missing]).toEqual(["東", "芝"]);
  });

  it.each([
    ["one\ntwo\tthree", "one two three"],
    ["  5 ≤ x ≥ 2 ", "5 at most  x at least  2"],
    ["e\u0301", "é"],
    ["zero\u200bwidth", "zerowidth"],
  ])("of %j is printed as %j", (given, printed) => {
    expect(printable(given)).toBe(printed);
  });

  it("that is cut says so", () => {
    expect(cutLines(["a", "b", "c"], 3, "rest")).toEqual(["a", "b", "c"]);
    expect(cutLines(["a", "b", "c", "d"], 3, "rest")).toEqual(["a", "b", "rest"]);
  });
});
