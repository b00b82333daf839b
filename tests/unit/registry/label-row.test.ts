import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { gtinCheckDigit } from "@/lib/identity/gtin";
import { completeByValues } from "@/lib/registry/column-targets";
import { guessMapping, type LabelTarget, labelColumns, readLabelRow } from "@/lib/registry/label-row";

const own = Object.fromEntries(labelColumns.map((column) => [column, column])) as Record<string, LabelTarget>;
const read = (record: Record<string, string>) => readLabelRow(record, own);

describe("foreign headers are given our words", () => {
  it("knows its own columns by their names, in any order", () => {
    const shuffled = [...labelColumns].reverse();
    expect(guessMapping(shuffled)).toEqual(Object.fromEntries(shuffled.map((column) => [column, column])));
  });

  const cases: readonly (readonly [string, LabelTarget | null])[] = [
    ["Asset Tag", "tag"],
    ["BLDG.", "site"],
    ["Apt #", "unit"],
    ["Manufacturer", "brand"],
    ["Mod. No.", "model"],
    ["Serial Number", "serial"],
    ["Nameplate", "label_text"],
    ["Wattage", "rated_watts"],
    ["Hz", "rated_hertz"],
    ["EAN", "upc"],
    ["Batch code", "date_code"],
    ["Fuse", "keep_in_notes"],
    ["reason", null],
  ];
  for (const [header, target] of cases) {
    it(`takes "${header}" for ${target ?? "nothing"}`, () => {
      expect(guessMapping([header])[header]).toBe(target);
    });
  }

  it("gives a column once: the second of two that could be it is kept in the notes", () => {
    expect(guessMapping(["model", "Model No"])).toEqual({ model: "model", "Model No": "keep_in_notes" });
    expect(guessMapping(["Model No", "model"])).toEqual({ model: "model", "Model No": "keep_in_notes" });
  });

  it("knows plates, product codes and our own tags by their values", () => {
    const body = "07123456789";
    const sample = [
      { a: "120V~ 60Hz 1500W", b: `${body}${gtinCheckDigit(body)}`, c: "PW-4K7-2M9X", d: "x" },
      { a: "AC 230V 5A", b: "", c: "PW-AAA-AAAA", d: "y" },
    ];
    const unknown = { a: "keep_in_notes", b: "keep_in_notes", c: "keep_in_notes", d: "keep_in_notes" } as const;
    expect(completeByValues(unknown, sample)).toEqual({ a: "label_text", b: "upc", c: "tag", d: "keep_in_notes" });
  });
});

describe("cells are read as they are meant, and mended by rule only where one meaning is left", () => {
  const mended: readonly (readonly [string, string, string])[] = [
    ["rated_watts", "1500 W", "1500"],
    ["rated_watts", "1,500", "1500"],
    ["rated_watts", "1.5 kW", "1500"],
    ["rated_amps", "12,5", "12.5"],
    ["rated_amps", "300 mA", "0.3"],
    ["rated_volts", "120V~", "120"],
    ["rated_volts", "100 - 240 V", "100-240"],
    ["rated_hertz", "50/60 Hz", "50/60"],
    ["made", "03/2021", "2021-03"],
    ["made", "Mar 2021", "2021-03"],
    ["made", "28.3.2021", "2021-03-28"],
    ["made", "2021-3-5", "2021-03-05"],
    ["made", "2021-03-05T00:00:00Z", "2021-03-05"],
  ];
  for (const [column, text, value] of mended) {
    it(`${column} "${text}" becomes ${value}`, () => {
      const { row, problems } = read({ [column]: text });
      expect(Object.values(row).filter((cell) => cell !== null)).toEqual([value]);
      expect(problems).toMatchObject([{ column, mended: value }]);
    });
  }

  const plain: readonly (readonly [string, string])[] = [
    ["rated_volts", "120/240"],
    ["made", "2021"],
    ["made", "2021-02-28"],
    ["tag", "anything / 17"],
    ["serial", "0O-1I"],
  ];
  for (const [column, text] of plain) {
    it(`${column} "${text}" stays as it is`, () => {
      const { row, problems } = read({ [column]: ` ${text} ` });
      expect([Object.values(row).filter((cell) => cell !== null), problems]).toEqual([[text], []]);
    });
  }

  const unread: readonly (readonly [string, string])[] = [
    ["rated_watts", "lots"],
    ["rated_watts", "0"],
    ["rated_watts", "-5"],
    ["rated_amps", "12 W"],
    ["rated_volts", "mains"],
    ["made", "05/03/2021"],
    ["made", "2021-13"],
    ["made", "2021-02-30"],
    ["tag", "PW-AAA-AAAA"],
    ["receptacle", "0"],
    ["brand", "x".repeat(600)],
  ];
  for (const [column, text] of unread) {
    it(`${column} "${text.slice(0, 20)}" is a problem of its cell, never a value`, () => {
      const { row, problems } = read({ [column]: text });
      expect(Object.values(row).every((cell) => cell === null)).toBe(true);
      expect(problems.map((problem) => [problem.column, problem.mended])).toEqual([[column, undefined]]);
    });
  }

  it("takes upper and lower for the receptacles 1 and 2", () => {
    expect([read({ receptacle: "Upper" }).row.receptacle, read({ receptacle: "lower" }).row.receptacle]).toEqual(["1", "2"]);
  });

  it("takes words for the unknown as empty", () => {
    for (const text of ["", "  ", "n/a", "N/A", "unknown", "?", "-", "—"]) expect(read({ serial: text }).row.serial).toBeNull();
  });

  it("keeps what is none of ours in the notes, under its own name", () => {
    const mapping = { notes: "notes", Fuse: "keep_in_notes", Shelf: "keep_in_notes", Skip: null } as const;
    const { row } = readLabelRow({ notes: "old", Fuse: "13A", Shelf: "", Skip: "x" }, mapping);
    expect(row.notes).toBe("old\nFuse: 13A");
  });

  it("keeps a receptacle named like something that every object has", () => {
    for (const receptacle of ["__proto__", "constructor"]) expect(read({ receptacle }).row.receptacle).toBe(receptacle);
  });

  it("never throws, and what it reads it reads again as the same", () => {
    const cells = fc.record(Object.fromEntries(labelColumns.map((column) => [column, fc.string({ maxLength: 12 })])));
    fc.assert(
      fc.property(cells, (record) => {
        const { row } = read(record);
        const back = Object.fromEntries(labelColumns.map((column, at) => [column, Object.values(row)[at] ?? ""]));
        expect(read(back).row).toEqual(row);
      }),
    );
  });
});
