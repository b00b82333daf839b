import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { compareStops, type RoundPlace } from "@/lib/casework/inspection-round";

const stop = (given: Partial<RoundPlace>): RoundPlace => ({
  site: "A",
  unit: "0101",
  outlet: "K-1",
  receptacle: "upper",
  tag: "T",
  ...given,
});
const units = (names: readonly (string | null)[]) =>
  [...names]
    .map((unit) => stop({ unit }))
    .sort(compareStops)
    .map(({ unit }) => unit);

// Own order, no source: the tables say what it is.
describe("walking order", () => {
  it.each([
    ["floors by number, from the lowest", ["1201", "0304", "0102", "304A"], ["0102", "0304", "304A", "1201"]],
    ["numbers as numbers within a floor", ["110", "102", "0101"], ["0101", "102", "110"]],
    ["floor and unit parted by a hyphen or a point", ["12-03", "2-01", "2.02"], ["2-01", "2.02", "12-03"]],
    ["names that tell no floor after those that do, naturally", ["Lobby 10", "Lobby 2", "0101"], ["0101", "Lobby 2", "Lobby 10"]],
    ["what has no unit last", [null, "Lobby", "0101"], ["0101", "Lobby", null]],
  ] as const)("%s", (_, given, order) => {
    expect(units(given)).toEqual(order);
  });

  it("goes site by site, then unit, outlet, receptacle, tag; what is not known comes last", () => {
    const walked = [
      stop({ tag: "A" }),
      stop({ tag: "B" }),
      stop({ receptacle: null, tag: "A" }),
      stop({ outlet: "K-2" }),
      stop({ outlet: "K-10" }),
      stop({ outlet: null }),
      stop({ unit: "0102" }),
      stop({ site: "B" }),
    ];
    expect([...walked].reverse().sort(compareStops)).toEqual(walked);
  });
});

const name = fc.oneof(fc.constantFrom("0101", "101", "0201", "12-03", "Lobby 2", "Lobby 10", "lobby", "", "K-1", "é", "7"), fc.string());
const anyStop: fc.Arbitrary<RoundPlace> = fc.record({
  site: name,
  unit: fc.option(name),
  outlet: fc.option(name),
  receptacle: fc.option(fc.constantFrom("upper", "lower")),
  tag: name,
});

describe("the order of any stops", () => {
  it("does not depend on the order in which they come", () => {
    const tagged = fc.uniqueArray(anyStop, { maxLength: 12 }).map((stops) => stops.map((one, place) => ({ ...one, tag: `T-${place}` })));
    const two = tagged.chain((stops) => fc.tuple(fc.constant(stops), fc.shuffledSubarray(stops, { minLength: stops.length })));
    fc.assert(
      fc.property(two, ([one, other]) => {
        expect([...one].sort(compareStops)).toEqual([...other].sort(compareStops));
      }),
    );
  });

  it("is one order: turned round it is the opposite, and what is between stays between", () => {
    fc.assert(
      fc.property(anyStop, anyStop, anyStop, (a, b, c) => {
        expect(Math.sign(compareStops(a, b)) + Math.sign(compareStops(b, a))).toBe(0);
        const [low, middle, high] = [a, b, c].sort(compareStops) as [RoundPlace, RoundPlace, RoundPlace];
        expect(compareStops(low, middle)).toBeLessThanOrEqual(0);
        expect(compareStops(middle, high)).toBeLessThanOrEqual(0);
        expect(compareStops(low, high)).toBeLessThanOrEqual(0);
      }),
    );
  });

  it("keeps a unit together: nothing of another unit stands between its stops", () => {
    const unit = fc.constantFrom("0101", "0102", "0201", "12-03", "Lobby 2", "Lobby 10", null);
    const several = fc.array(fc.tuple(anyStop, unit, fc.constantFrom("A", "B")), { maxLength: 15 });
    fc.assert(
      fc.property(several, (given) => {
        const stops = given.map(([one, unitName, site]) => ({ ...one, unit: unitName, site }));
        const places = stops.sort(compareStops).map((one) => `${one.site} ${one.unit}`);
        const stretches = places.filter((place, index) => place !== places[index - 1]);
        expect(stretches.length).toBe(new Set(places).size);
      }),
    );
  });
});
