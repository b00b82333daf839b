import { describe, expect, it } from "vitest";
import { appliance, hours, kinds, minutes, outlet, row, rows, screen, seconds } from "./log-builder";

const heater = appliance("120V 1500W", "heater");
const steady = rows(0, 10 * minutes, () => ({ watts: 1000 }));
const counts = (log: Parameters<typeof screen>[0], outlets = [outlet(), outlet({ outlet: "O2" })]) => screen(log, outlets, [heater]).counts;

describe("rows of a log", () => {
  it("are all accounted for: read is judged and set aside", () => {
    const log = [
      ...steady,
      row(0, { outlet: "O9" }),
      row(5 * minutes, { watts: -1 }),
      row(5 * minutes, { watts: Number.NaN }),
      row(5 * minutes, { volts: Number.POSITIVE_INFINITY }),
    ];
    expect(counts(log)).toEqual({ read: 604, judged: 600, setAside: { unknown_outlet: 1, negative: 1, not_finite: 2 }, apart: 0 });
  });

  it("that repeat are counted once, also some rows later", () => {
    expect(counts([...steady.slice(0, 20), steady[5]!, ...steady.slice(20)])).toMatchObject({ judged: 600, setAside: { repeated: 1 } });
    expect(counts(steady.flatMap((reading) => [reading, { ...reading }]))).toMatchObject({ judged: 600, setAside: { repeated: 600 } });
  });

  it("may be 60 s late, no later", () => {
    const moved = (by: number) => [...steady.filter((_, at) => at !== 100), ...[]].toSpliced(100 + by, 0, steady[100]!);
    expect(counts(moved(59))).toMatchObject({ judged: 600, setAside: {} });
    expect(counts(moved(65))).toMatchObject({ judged: 599, setAside: { late: 1 } });
  });

  it("of a clock that stepped back are set aside until it has caught up, and said to be so", () => {
    const log = [...steady, ...rows(5 * minutes, 12 * minutes, () => ({ watts: 1000.5 }))];
    const found = counts(log);
    expect(found.setAside["late"]).toBe(1);
    expect(found.setAside["clock_stepped"]).toBeGreaterThan(200);
    expect(found.judged + found.setAside["late"]! + found.setAside["clock_stepped"]!).toBe(found.read);
  });

  it("of a clock far ahead do not carry the rest of the log away", () => {
    const log = steady.flatMap((reading, at) => (at === 300 ? [{ ...reading, atMs: reading.atMs + 1000 * hours }, reading] : [reading]));
    expect(counts(log)).toMatchObject({ judged: 600, setAside: { clock_stepped: 1 } });
  });

  it("of an outlet whose clock runs a day ahead are judged by themselves, and the others with each other", () => {
    const log = steady.flatMap((reading) => [reading, { ...reading, atMs: reading.atMs + 24 * hours, outlet: "O2" }]);
    expect(counts(log)).toMatchObject({ judged: 1200, setAside: {} });
  });

  it("of a log of events only, weeks apart and outlet after outlet, are all judged", () => {
    const trips = (name: string) => [0, 10, 20].map((day) => row(day * 24 * hours, { outlet: name, event: "trip" }));
    const found = screen([...trips("O1"), ...trips("O2")], [outlet(), outlet({ outlet: "O2" })]);
    expect(found.counts).toMatchObject({ judged: 6, setAside: {} });
  });

  it("after a night without any are taken as they come", () => {
    const log = [...steady, ...rows(10 * hours, 10 * hours + minutes, () => ({ watts: 2000 }))];
    const found = screen(log, undefined, [heater]);
    expect(found.counts).toMatchObject({ judged: 660, setAside: {} });
    expect(kinds(found)).toEqual(["over_rating O1 T1"]);
  });

  it("of an outlet that runs behind are judged by themselves, and with the rest once it caught up", () => {
    const behind = rows(0, 10 * minutes, () => ({ outlet: "O2", watts: 10 }));
    const log = [...steady, ...behind, ...rows(10 * minutes, 11 * minutes, () => ({ outlet: "O2", watts: 10 }))];
    const found = counts(log);
    expect(found.setAside).toEqual({});
    expect(found.apart).toBeGreaterThan(400);
    expect(found.apart).toBeLessThan(660);
  });

  it("with several values at one instant are all taken", () => {
    expect(counts([row(0, { watts: 5 }), row(0, { watts: 6 }), row(seconds, { watts: 5 })])).toMatchObject({ judged: 3, setAside: {} });
  });
});
