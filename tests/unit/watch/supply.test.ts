import { describe, expect, it } from "vitest";
import { hours, kinds, minutes, noon, outlet, row, rows, screen, seconds } from "./log-builder";

const line = (volts: number, from: number, to: number, cells: object = {}) => rows(from, to, () => ({ volts, ...cells }), 5 * seconds);

describe("the line voltage at 120 V (ANSI C84.1 Range B; durations are the product's own)", () => {
  it.each([
    [127, 5, []],
    [128, 5, ["high_voltage"]],
    [128, 1, []],
    [104, 5, []],
    [103, 5, ["low_voltage"]],
    [103, 1, []],
  ])("%d V for %d min", (volts, length, expected) => {
    const log = [
      ...line(120, -minutes, 0),
      ...line(volts, 0, length * minutes),
      ...line(120, length * minutes, length * minutes + minutes),
    ];
    expect(kinds(screen(log))).toEqual(expected);
  });

  it("names the site, not the outlet, once for all outlets that see it", () => {
    const outlets = [outlet(), outlet({ outlet: "O2" })];
    const log = line(130, 0, 5 * minutes).flatMap((reading) => [reading, { ...reading, outlet: "O2", volts: 129 }]);
    const found = screen(log, outlets);
    expect(found.results).toHaveLength(1);
    expect(found.results[0]).toMatchObject({
      kind: "high_voltage",
      site: "Alder House",
      outlet: null,
      tag: null,
      value: 130,
      limit: 127,
      fromMs: noon,
    });
  });

  it("of one odd row is nothing, and one odd row does not end what is there", () => {
    expect(kinds(screen([...line(120, 0, minutes), row(minutes, { volts: 200 }), ...line(120, 65 * seconds, 5 * minutes)]))).toEqual([]);
    const odd = line(130, 0, 6 * minutes).map((reading, index) => (index === 36 ? { ...reading, volts: 120 } : reading));
    expect(kinds(screen(odd))).toEqual(["high_voltage"]);
  });

  it("near zero is an interruption, not a low voltage (IEEE 1159-2009: below 0.1 pu)", () => {
    expect(kinds(screen(line(0, 0, 10 * minutes)))).toEqual([]);
  });
});

describe("the line voltage at 230 V (EN 50160: within 10 %)", () => {
  const on230 = [outlet({ volts: 230 })];
  it.each([
    [253, 20, []],
    [254, 20, ["high_voltage"]],
    [254, 10, []],
    [207, 20, []],
    [206, 20, ["low_voltage"]],
  ])("%d V for %d min", (volts, length, expected) => {
    expect(kinds(screen([...line(volts, 0, length * minutes), ...line(230, length * minutes, length * minutes + minutes)], on230))).toEqual(
      expected,
    );
  });
});

describe("a lost neutral", () => {
  const legs = [
    outlet({ outlet: "A1", leg: "A" }),
    outlet({ outlet: "A2", leg: "A" }),
    outlet({ outlet: "B1", leg: "B" }),
    outlet({ outlet: "B2", leg: "B" }),
  ];
  const both = (a: number, b: number, from: number, to: number) =>
    rows(from, to, () => ({}), 5 * seconds).flatMap((reading) =>
      legs.map((place) => ({ ...reading, outlet: place.outlet, volts: place.leg === "A" ? a : b })),
    );
  const episode = (a: number, b: number) =>
    kinds(screen([...both(120, 120, -minutes, 0), ...both(a, b, 0, 5 * minutes), ...both(120, 120, 5 * minutes, 6 * minutes)], legs));

  it.each([
    ["100 W against 200 W", 160, 80],
    ["333.3 ohm against 500 ohm", 96, 144],
    ["the same as a teaching slide rounds it", 96.7, 145],
    ["1200 W against 300 W", 48, 192],
    ["1500 W against 60 W", 9.23, 230.77],
    ["a loose neutral: smaller swings, beyond 114 and 126 V (ANSI C84.1 Range A)", 113, 127],
    ["1500 W against 30 W", 4.71, 235.29],
    ["one leg without any load", 0, 240],
    ["the sum 2.9 % above 240 V", 87, 160],
    ["the sum 2.9 % below 240 V", 73, 160],
  ])("shows by one leg rising and the other falling, and replaces high and low voltage: %s (series divider over 240 V)", (_, a, b) => {
    expect(episode(a, b)).toEqual(["lost_neutral"]);
  });

  it("is DANGER, with the plain advice", () => {
    const found = screen(both(160, 80, 0, 5 * minutes), legs);
    expect(found.results[0]).toMatchObject({ signalWord: "DANGER", outlet: null, site: "Alder House" });
    expect(found.results[0]?.reasons.join(" ")).toContain("licensed electrician");
  });

  it("is not both legs low, one leg low alone, nor both high", () => {
    expect(episode(100, 100)).toEqual(["low_voltage"]);
    expect(episode(100, 120)).toEqual(["low_voltage"]);
    expect(episode(130, 130)).toEqual(["high_voltage"]);
  });

  it.each([
    ["a leg without supply beside a sound one", 0, 120, []],
    ["a leg without supply beside a high one", 0, 200, ["high_voltage"]],
    ["one leg high alone", 130, 120, ["high_voltage"]],
    ["one leg low alone", 120, 80, ["low_voltage"]],
    ["legs apart with a sum 3.75 % below 240 V", 71, 160, ["high_voltage", "low_voltage"]],
    ["legs within the 114 to 126 V of a sound service (ANSI C84.1 Range A)", 114, 126, []],
  ] as const)("is not %s", (_, a, b, expected) => {
    expect(episode(a, b).toSorted()).toEqual(expected);
  });

  it.each([
    [144, 72, 160, 80],
    [333.3, 500, 96, 144],
    [12, 48, 48, 192],
    [9.6, 240, 9.23, 230.77],
    [24, 24, 120, 120],
  ])("divides 240 V over %d and %d ohm into %d and %d V, which is told unless it hides itself (series divider)", (one, other, a, b) => {
    const share = (240 * one) / (one + other);
    expect(share).toBeCloseTo(a, 1);
    expect(240 - share).toBeCloseTo(b, 1);
    expect(episode(share, 240 - share)).toEqual(one === other ? [] : ["lost_neutral"]);
  });

  it("replaces the high voltage of its own time only", () => {
    const log = [
      ...both(130, 130, -hours, -hours + 5 * minutes),
      ...both(120, 120, -hours + 5 * minutes, 0),
      ...both(160, 80, 0, 5 * minutes),
    ];
    expect(kinds(screen(log, legs)).toSorted()).toEqual(["high_voltage", "lost_neutral"]);
  });

  it("is not hidden by an outlet that tripped and shows nothing on the low leg", () => {
    const dead = both(160, 80, 0, 5 * minutes).map((reading) => (reading.outlet === "B2" ? { ...reading, volts: 0 } : reading));
    expect(kinds(screen(dead, legs))).toEqual(["lost_neutral"]);
  });

  it("is seen over several outlets: one reporting outlet on each leg suffices, one leg that is silent does not", () => {
    const of = (names: readonly string[]) =>
      kinds(
        screen(
          both(160, 80, 0, 5 * minutes).filter(({ outlet: at }) => names.includes(at)),
          legs,
        ),
      );
    expect(of(["A1", "B1"])).toEqual(["lost_neutral"]);
    expect(of(["A1", "A2"])).toEqual(["high_voltage"]);
    expect(of(["B1", "B2"])).toEqual(["low_voltage"]);
  });

  it("does not show at a balanced load", () => {
    expect(episode(120, 120)).toEqual([]);
  });
});
