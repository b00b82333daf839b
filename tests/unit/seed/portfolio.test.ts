import { createHash } from "node:crypto";
import { describe, expect, it } from "vitest";
import { layOutBuildings, placesCsv } from "@/seed/buildings";
import { makeChance } from "@/seed/chance";
import { furnish, labelsCsv } from "@/seed/labels";
import { outletLogCsv } from "@/seed/outlet-log";
import { recallListJson } from "@/seed/recall-list";

const hash = (text: string) => createHash("sha256").update(text).digest("hex");

function build() {
  const outlets = layOutBuildings();
  const appliances = furnish(outlets, makeChance(11));
  return {
    outlets,
    appliances,
    places: placesCsv(outlets),
    labels: labelsCsv(appliances, makeChance(12)),
    recalls: recallListJson("2026-11-24", makeChance(13)),
    log: [...outletLogCsv(appliances, Date.parse("2026-11-24T00:00:00Z"), makeChance(14))],
  };
}

describe("the invented portfolio", () => {
  const first = build();

  it("is the same, to the letter, from the same seed", () => {
    const again = build();
    for (const part of ["places", "labels", "recalls"] as const) expect(hash(again[part])).toBe(hash(first[part]));
    expect(hash(again.log.join(""))).toBe(hash(first.log.join("")));
  });

  it("has at least 3 sites, 60 units, 1,500 appliances, 120 notices and 30 days of log", () => {
    expect(new Set(first.outlets.map((outlet) => outlet.site)).size).toBeGreaterThanOrEqual(3);
    expect(new Set(first.outlets.map((outlet) => `${outlet.site}/${outlet.unit}`)).size).toBeGreaterThanOrEqual(60);
    expect(first.appliances.length).toBeGreaterThanOrEqual(1500);
    expect((JSON.parse(first.recalls) as unknown[]).length).toBeGreaterThanOrEqual(120);
    const days = new Set(
      first.log
        .join("")
        .split("\n")
        .slice(1)
        .filter(Boolean)
        .map((line) => line.slice(0, 10)),
    );
    expect(days.size).toBe(30);
  });

  it("gives every tag once and every plugged-in appliance a receptacle of its own", () => {
    const { appliances } = first;
    expect(new Set(appliances.map((appliance) => appliance.tag)).size).toBe(appliances.length);
    const spots = appliances
      .filter((appliance) => appliance.receptacle !== null)
      .map((appliance) => `${appliance.place.outlet}/${appliance.receptacle}`);
    expect(new Set(spots).size).toBe(spots.length);
  });
});
