import { describe, expect, it } from "vitest";
import { appliance, kinds, minutes, outlet, rows, screen, seconds } from "./log-builder";

const heater = appliance("120V~ 60Hz 1500W", "space heater");
const plan = [outlet(), outlet({ outlet: "O2" })];
const tagged = (name: string, at: number) => rows(at, at + seconds, () => ({ outlet: name, tag: "T1", watts: 100 }));
const hot = (name: string) => rows(seconds, minutes, () => ({ outlet: name, watts: 2000 }));

describe("a tag seen at two outlets at one instant", () => {
  it.each([
    ["the first by name came first", ["O1", "O2"]],
    ["the other came first", ["O2", "O1"]],
  ])("is at the outlet whose name comes first, and is counted for a person to look at: %s", (_, order) => {
    const log = [...order.flatMap((name) => tagged(name, 0)), ...hot("O1"), ...hot("O2")].sort((a, b) => a.atMs - b.atMs);
    const found = screen(log, plan, [heater]);
    expect(kinds(found)).toEqual(["over_rating O1 T1"]);
    expect(found.counts.twoPlaces).toBe(1);
  });

  it("is no contradiction a second later: then it has moved", () => {
    const found = screen([...tagged("O1", 0), ...tagged("O2", seconds), ...hot("O2").slice(1)], plan, [heater]);
    expect(kinds(found)).toEqual(["over_rating O2 T1"]);
    expect(found.counts.twoPlaces).toBeUndefined();
  });
});
