import fc from "fast-check";
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

  it("gives the same whichever of an instant's rows comes first, at any number of outlets", () => {
    const outlets = ["O1", "O2", "O3"];
    const wide = [...plan, outlet({ outlet: "O3" })];
    const instants = fc.array(fc.subarray(outlets, { minLength: 1 }), { minLength: 1, maxLength: 8 });
    const shuffled = instants.chain((seen) =>
      fc.tuple(fc.constant(seen), fc.tuple(...seen.map((names) => fc.shuffledSubarray([...names], { minLength: names.length })))),
    );
    const from = (order: readonly (readonly string[])[]) => {
      const seen = order.flatMap((names, at) => names.flatMap((name) => tagged(name, at * seconds)));
      const last = order.length * seconds;
      return kinds(
        screen([...seen, ...rows(last, last + minutes, () => ({ outlet: order.at(-1)!.toSorted()[0]!, watts: 2000 }))], wide, [heater]),
      );
    };
    fc.assert(
      fc.property(shuffled, ([seen, other]) => {
        const winner = seen.at(-1)!.toSorted()[0];
        expect(from(seen)).toEqual([`over_rating ${winner} T1`]);
        expect(from(other)).toEqual([`over_rating ${winner} T1`]);
      }),
      { numRuns: 60 },
    );
  });
});
