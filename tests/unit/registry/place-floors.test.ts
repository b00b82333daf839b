import { describe, expect, it } from "vitest";
import { stackFloors } from "@/lib/registry/place-floors";
import { placementLanes } from "@/lib/registry/placement-lanes";
import { readPlateFields } from "@/lib/registry/plate-fields";

const floors = (...names: string[]) =>
  stackFloors(names.map((name) => ({ name }))).map(({ name, units }) => [name, units.map((unit) => unit.name)]);

describe("floors", () => {
  it("stand on one another, the highest first", () => {
    expect(floors("0101", "0102", "1001", "0201")).toEqual([
      ["10", ["1001"]],
      ["2", ["0201"]],
      ["1", ["0101", "0102"]],
    ]);
  });
  it("are one stretch where the names tell none", () => {
    expect(floors("Shop", "Garage", "0101")).toEqual([[null, ["0101", "Garage", "Shop"]]]);
  });
});

describe("lanes", () => {
  it("draw an absence from the last sighting to the next stay", () => {
    const day = (n: number) => new Date(Date.UTC(2026, 0, n));
    const stay = { siteId: "s", unitId: null, receptacle: null, source: "log" };
    const lanes = placementLanes({
      stays: [
        { ...stay, outletId: "a", fromAt: day(1), toAt: day(30) },
        { ...stay, outletId: "b", fromAt: day(30), toAt: null },
      ],
      ticks: [
        { outletId: "a", at: day(3) },
        { outletId: "b", at: day(30) },
      ],
      now: day(31),
      absentAfterMs: 7 * 86_400_000,
    });
    expect(lanes?.absences).toEqual([{ from: day(3), to: day(30) }]);
    expect(lanes?.lanes.map((lane) => [lane.place.outletId, lane.bars[0]?.now])).toEqual([
      ["b", true],
      ["a", false],
    ]);
  });
});

describe("a pasted plate", () => {
  it("fills the fields it speaks of and no other", () => {
    const { fields } = readPlateFields("Keldamar\nMODEL HT-1500C\n120V~ 60Hz 1500W");
    expect(fields).toEqual({ brand: "Keldamar", model: "HT-1500C", ratedVolts: "120", ratedHertz: "60", ratedWatts: "1500" });
  });
});
