import { describe, expect, it } from "vitest";
import { guessPlaceMapping, type PlaceColumn, placeColumns, readPlaceRow } from "@/lib/registry/place-row";

const own = Object.fromEntries(placeColumns.map((column) => [column, column])) as Record<string, PlaceColumn>;

describe("a row of a places file", () => {
  it("is read with its figures as numbers and what is empty as unknown", () => {
    const record = {
      site: "Alder House",
      unit: "0101",
      circuit: "A-1",
      device_amps: "15 A",
      volts: "120",
      leg: "1",
      outlet: "AH-1",
      outlet_amps: "",
      receptacles: "2",
      time_zone: "America/Chicago",
    };
    const { row, problems } = readPlaceRow(record, own);
    expect(row).toEqual({
      site: "Alder House",
      unit: "0101",
      circuit: "A-1",
      deviceAmps: 15,
      volts: 120,
      leg: "1",
      outlet: "AH-1",
      outletAmps: null,
      receptacles: 2,
      timeZone: "America/Chicago",
    });
    expect(problems).toMatchObject([{ column: "device_amps", mended: "15" }]);
  });

  const unread: readonly (readonly [PlaceColumn, string])[] = [
    ["device_amps", "many"],
    ["volts", "0"],
    ["receptacles", "2.5"],
    ["receptacles", "0"],
    ["time_zone", "Chicago"],
    ["time_zone", "+01:00"],
    ["outlet", "x".repeat(201)],
  ];
  for (const [column, text] of unread) {
    it(`says that ${column} "${text.slice(0, 12)}" cannot be read, and reads nothing in its place`, () => {
      const { row, problems } = readPlaceRow({ [column]: text }, own);
      expect(Object.values(row).every((cell) => cell === null)).toBe(true);
      expect(problems.map((problem) => problem.column)).toEqual([column]);
    });
  }

  it("knows foreign headers by their usual names", () => {
    expect(guessPlaceMapping(["Building", "Flat", "Breaker", "Breaker rating", "Phase", "Socket", "Colour"])).toEqual({
      Building: "site",
      Flat: "unit",
      Breaker: "circuit",
      "Breaker rating": "device_amps",
      Phase: "leg",
      Socket: "outlet",
      Colour: null,
    });
  });
});
