import { describe, expect, it } from "vitest";
import { parseRatingText } from "@/lib/electrical/parse-rating";
import { ratedVoltage } from "@/lib/electrical/rated-voltage";
import { ratingCells } from "@/lib/electrical/rating-words";
import { type RatingColumns, readRating } from "@/lib/electrical/read-rating";

const empty: RatingColumns = {
  ratedVolts: null,
  ratedHertz: null,
  ratedWatts: null,
  ratedAmps: null,
  labelText: null,
  protectionClass: null,
  maxLampWatts: null,
};
const read = (columns: Partial<RatingColumns>) => readRating({ ...empty, ...columns });

describe("the rating of a labels row", () => {
  it("is what the columns say, with the plate's text where they are empty", () => {
    const rating = read({ ratedVolts: "120", labelText: "AC 110V 60Hz 1500W", ratedAmps: "12,5" });
    expect(rating).toMatchObject({ volts: [{ from: 120, to: 120 }], hertz: [60], watts: 1500, amps: 12.5 });
  });

  it.each([
    ["100-240", [{ from: 100, to: 240 }]],
    [
      "120/240",
      [
        { from: 120, to: 120 },
        { from: 240, to: 240 },
      ],
    ],
    ["120 V~", [{ from: 120, to: 120 }]],
    ["", []],
  ])("reads rated_volts %j", (ratedVolts, volts) => {
    expect(read({ ratedVolts }).volts).toEqual(volts);
  });

  it.each([
    ["1500", 1500],
    ["1.5 kW", 1500],
    ["1,500", 1500],
    ["1500 W", 1500],
  ])("reads rated_watts %j as %d W", (ratedWatts, watts) => {
    expect(read({ ratedWatts }).watts).toBe(watts);
  });

  it.each([
    ["60", { wattsEach: 60, count: 1 }],
    ["3 x 40", { wattsEach: 40, count: 3 }],
    ["MAX 60W", { wattsEach: 60, count: 1 }],
  ])("reads max_lamp_watts %j", (maxLampWatts, lamp) => {
    expect(read({ maxLampWatts }).lamp).toEqual(lamp);
  });

  it.each([
    ["2", "II"],
    ["class I", "I"],
    ["III", "III"],
    ["double insulated", "II"],
    ["0", null],
    ["unknown", null],
  ])("reads class %j as %s", (protectionClass, expected) => {
    expect(read({ protectionClass }).protectionClass).toBe(expected);
  });

  it("marks a column that disagrees with the plate, with both figures, and uses the column", () => {
    const rating = read({ ratedWatts: "1500", labelText: "120V 1200W" });
    expect(rating.watts).toBe(1500);
    expect(rating.contradictions).toEqual(["The column rated_watts says 1500 W, the plate text 1200 W (80 % of it); the column is used."]);
  });

  it("drops the plate's pairs where the column gives another figure, and keeps them where it repeats one", () => {
    expect(read({ ratedWatts: "3000", labelText: "240/208V 4500/3380W" }).wattsAtVolts).toEqual([]);
    expect(read({ ratedWatts: "4500", labelText: "240/208V 4500/3380W" }).wattsAtVolts).toHaveLength(2);
  });

  it("does the same with pairs of amps", () => {
    const labelText = "115/230V 10/5A";
    expect(read({ ratedAmps: "8", labelText })).toMatchObject({ amps: 8 });
    expect(read({ ratedAmps: "8", labelText }).ampsAtVolts).toBeUndefined();
    expect(read({ ratedAmps: "5", labelText }).ampsAtVolts).toHaveLength(2);
    expect(read({ ratedAmps: "5", labelText }).contradictions).toEqual([]);
  });

  it("says which cell cannot be read, and how to write it", () => {
    expect(read({ ratedWatts: "many" }).contradictions).toEqual([
      'The column rated_watts holds "many", which gives no W; write it like 1500.',
    ]);
    expect(read({ maxLampWatts: "bright" }).contradictions[0]).toContain("write it like 60 or 3 x 40");
  });
});

describe("the voltage at which a plate states its input", () => {
  it.each([
    ["120V 1500W", 120, 120],
    ["125V 1500W", 120, 125],
    ["110/120V 1500W", 120, 120],
    ["220-240V 2000W", 230, 230],
    ["220-240V 2000W", 250, 240],
    ["220-240V 2000W", null, 230],
    ["100-240V 1A", 120, 120],
    ["AC100V 1200W", 120, 120],
    ["1500W", 120, 120],
    ["1500W", null, null],
  ])("%s on a site of %s V: %s V", (text, siteVolts, volts) => {
    expect(ratedVoltage(parseRatingText(text), siteVolts)).toBe(volts);
  });
});

describe("the fields of a plate in words", () => {
  it.each([
    ["220-240V~ 50/60Hz 1850-2200W", { volts: "220-240", hertz: "50/60", watts: "1850/2200", amps: null }],
    ["120/240V 12.5A", { volts: "120/240", hertz: null, watts: null, amps: "12.5" }],
    ["230V~ 3xMAX 40W G9", { volts: "230", hertz: null, watts: "3 x max 40", amps: null }],
    ["", { volts: null, hertz: null, watts: null, amps: null }],
  ])("%j", (text, cells) => {
    expect(ratingCells(parseRatingText(text))).toEqual(cells);
  });
});
