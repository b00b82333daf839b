import { describe, expect, it } from "vitest";
import { hours, kinds, minutes, noon, outlet, row, rows, screen, seconds } from "./log-builder";

describe("an outlet", () => {
  const rated = outlet({ outletAmps: 15 });
  const pair = (from: number, to: number, upper: number, lower: number) => [
    ...rows(from, to, () => ({ receptacle: "upper", amps: upper })),
    ...rows(from, to, () => ({ receptacle: "2", amps: lower })),
  ];

  it("whose receptacles together exceed its rating is overloaded, each alone being within it", () => {
    const found = screen(pair(0, minutes, 8, 8), [rated]);
    expect(kinds(found)).toEqual(["outlet_overload O1"]);
    expect(found.results[0]).toMatchObject({ value: 16, limit: 15, tag: null });
    expect(kinds(screen(pair(0, minutes, 8, 7), [rated]))).toEqual([]);
  });

  it("adds watts / volts where no current is measured, with power factor 1 when unknown", () => {
    const watts = (value: number, powerFactor: number | null) =>
      kinds(
        screen(
          rows(0, minutes, () => ({ watts: value, volts: 120, powerFactor })),
          [rated],
        ),
      );
    expect(watts(1750, null)).toEqual([]);
    expect(watts(1850, null)).toEqual(["outlet_overload O1"]);
    expect(watts(1750, 0.9)).toEqual(["outlet_overload O1"]);
    expect(watts(1750, 90)).toEqual([]);
    expect(watts(1850, 90)).toEqual(["outlet_overload O1"]);
  });

  it("is not overloaded by a start-up that falls within seconds, nor for three seconds", () => {
    const start = [30, 24, 18, 13, 10, 8].map((amps, at) => row((20 + at) * seconds, { receptacle: "2", amps }));
    const log = [
      ...rows(0, minutes, () => ({ receptacle: "1", amps: 6 })),
      ...start,
      ...rows(26 * seconds, minutes, () => ({ receptacle: "2", amps: 6 })),
    ];
    expect(
      kinds(
        screen(
          log.sort((a, b) => a.atMs - b.atMs),
          [rated],
        ),
      ),
    ).toEqual([]);
  });

  it("forgets a receptacle that fell silent after 60 s, and one that was switched off at once", () => {
    const silent = [row(0, { receptacle: "2", amps: 10 }), ...rows(61 * seconds, 2 * minutes, () => ({ amps: 10 }))];
    expect(kinds(screen(silent, [rated]))).toEqual([]);
    const off = [
      row(0, { receptacle: "2", amps: 10 }),
      row(seconds, { receptacle: "2", event: "off" }),
      ...rows(2 * seconds, minutes, () => ({ amps: 10 })),
    ];
    expect(kinds(screen(off, [rated]))).toEqual([]);
  });
});

describe("a circuit", () => {
  const plan = [outlet({ circuit: "C1", deviceAmps: 15 }), outlet({ circuit: "C1", deviceAmps: 15, outlet: "O2" })];
  const both = (from: number, to: number, amps: number, every = 10 * seconds) =>
    rows(from, to, () => ({ amps: amps / 2 }), every).flatMap((reading) => [reading, { ...reading, outlet: "O2" }]);

  it("above its device's rating for a minute is overloaded, for half a minute it is not", () => {
    const found = screen([...both(0, 90 * seconds, 17), ...both(90 * seconds, 3 * minutes, 10)], plan);
    expect(kinds(found)).toEqual(["circuit_overload"]);
    expect(found.results[0]).toMatchObject({ circuit: "C1", value: 17, limit: 15, fromMs: noon, toMs: noon + 90 * seconds });
    expect(kinds(screen([...both(0, 30 * seconds, 17), ...both(30 * seconds, 3 * minutes, 10)], plan))).toEqual([]);
  });

  it("above 80 % for three hours is a continuous load too large (NEC Article 100, 210.20(A)): 12.5 A on 15 A", () => {
    const found = screen(both(0, 3 * hours + minutes, 12.5), plan);
    expect(found.results).toHaveLength(1);
    expect(found.results[0]).toMatchObject({ kind: "circuit_overload", limit: 12, value: 12.5 });
    expect(kinds(screen(both(0, 3 * hours + minutes, 11.9), plan))).toEqual([]);
    expect(kinds(screen(both(0, 2 * hours + 50 * minutes, 12.5), plan))).toEqual([]);
  });

  it("of 20 A carries 12.5 A for hours (under 16 A), and 8 A + 7 A at the two faces of an outlet, 75 % of it", () => {
    const on20 = plan.map((place) => ({ ...place, deviceAmps: 20, outletAmps: 15 }));
    expect(kinds(screen(both(0, 4 * hours, 12.5), on20))).toEqual([]);
    const faces = rows(0, 4 * hours, () => ({ amps: 8 }), 10 * seconds).flatMap((reading) => [
      reading,
      { ...reading, receptacle: "2", amps: 7 },
    ]);
    expect(kinds(screen(faces, on20))).toEqual([]);
  });

  it("across the two legs of a North American site has the 80 % test too: 240 V, 20 A, 17 A", () => {
    const across = [outlet({ circuit: "C1", deviceAmps: 20, volts: 240 }), outlet({ outlet: "O2" })];
    expect(
      kinds(
        screen(
          rows(0, 3 * hours + minutes, () => ({ amps: 17 }), 10 * seconds),
          across,
        ),
      ),
    ).toEqual(["circuit_overload"]);
  });

  it("forgets what tripped, was unplugged or fell silent for 60 s", () => {
    for (const event of ["off", "trip", "unplugged"] as const) {
      const ended = [row(0, { amps: 10 }), row(seconds, { event }), ...rows(2 * seconds, 3 * minutes, () => ({ outlet: "O2", amps: 10 }))];
      expect(kinds(screen(ended, plan))).toEqual([]);
    }
    const silent = [row(0, { amps: 10 }), ...rows(5 * seconds, 110 * seconds, () => ({ outlet: "O2", amps: 10 }))];
    expect(kinds(screen(silent, plan))).toEqual([]);
  });

  it("has one continuous load across dips shorter than 60 s, and two across longer ones", () => {
    const dipped = (length: number) => [
      ...both(0, 2 * hours, 12.5),
      ...both(2 * hours, 2 * hours + length, 1),
      ...both(2 * hours + length, 4 * hours, 12.5),
    ];
    expect(kinds(screen(dipped(50 * seconds), plan))).toEqual(["circuit_overload"]);
    expect(kinds(screen(dipped(90 * seconds), plan))).toEqual([]);
  });

  it("has no 80 % test on 230 V", () => {
    const on230 = plan.map((place) => ({ ...place, volts: 230 }));
    expect(kinds(screen(both(0, 4 * hours, 14), on230))).toEqual([]);
  });
});
