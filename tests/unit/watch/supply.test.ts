import { describe, expect, it } from "vitest";
import { kinds, minutes, noon, outlet, row, rows, screen, seconds } from "./log-builder";

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
    ["1200 W against 300 W", 48, 192],
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

  it("does not show at a balanced load", () => {
    expect(episode(120, 120)).toEqual([]);
  });
});
