import { describe, expect, it } from "vitest";
import { appliance, days, hours, kinds, outlet, row, rows, screen, seconds } from "./log-builder";

const heater = appliance("120V 1500W", "heater", { outlet: null });
const plan = ["O1", "O2", "O3"].map((name) => outlet({ outlet: name }));
const trip = (at: number, cells: object = {}) => row(at, { event: "trip", ...cells });
const judged = (log: ReturnType<typeof row>[]) =>
  kinds(
    screen(
      log.sort((a, b) => a.atMs - b.atMs),
      plan,
      [heater],
    ),
  );

describe("trips", () => {
  it("are repeated when three of their own fall in 30 days; two in a year are not", () => {
    expect(judged([trip(0), trip(10 * days), trip(29 * days)])).toEqual(["repeated_trips O1"]);
    expect(judged([trip(0), trip(10 * days), trip(31 * days)])).toEqual([]);
    expect(judged([trip(0), trip(300 * days)])).toEqual([]);
  });

  it("show the exact Poisson bounds over the time in service", () => {
    const found = screen([row(-days, { watts: 1 }), trip(0), trip(10 * days), trip(29 * days)], plan, []);
    expect(found.results[0]).toMatchObject({ value: 3, limit: 3, unit: "trips" });
    expect(found.results[0]?.reasons.join(" ")).toContain("3 trips in 30 days in service: 0.619 to 8.767 per 30 days");
  });

  it("that are over stay what they were, and the next ones are told apart", () => {
    const first = [trip(0), trip(10 * days), trip(20 * days)];
    const until = (day: number, ...more: ReturnType<typeof row>[]) =>
      screen([row(-days, { watts: 1 }), ...first, ...more, row(day * days, { watts: 1 })], plan, []).results;
    const [over] = until(51);
    expect(over?.reasons.join(" ")).toContain("3 trips in 51 days in service");
    expect(until(200)).toEqual([over]);
    const later = [100, 110, 120].map((day) => trip(day * days));
    expect(until(300, ...later).map(({ fromMs, value }) => [(fromMs - over!.fromMs) / days, value])).toEqual([
      [0, 3],
      [100, 3],
    ]);
    expect(until(300, ...later)[0]).toEqual(over);
  });

  it.each(["manual", "schedule", "Manual (janitor)", "SCHEDULE"])("of cause %s are never counted", (cause) => {
    expect(judged([trip(0), trip(days), trip(2 * days, { cause }), trip(3 * days, { cause })])).toEqual([]);
  });

  it("of cause supply are not counted, of a fault they are", () => {
    expect(judged([0, 1, 2].map((day) => trip(day * days, { cause: "supply" })))).toEqual([]);
    expect(judged([0, 1, 2].map((day) => trip(day * days, { cause: "ground_fault" })))).toEqual(["repeated_trips O1"]);
  });

  it("that coincide across the site within 3 s count at most for their cause", () => {
    const together = (cause: string | null) =>
      [0, 1, 2].flatMap((day) => [
        trip(day * days, { cause }),
        trip(day * days + seconds, { outlet: "O2" }),
        trip(day * days + 3 * seconds, { outlet: "O3" }),
      ]);
    expect(judged(together(null))).toEqual([]);
    expect(judged(together("overload"))).toEqual(["repeated_trips O1"]);
  });

  it("within 5 s of a dip seen on every outlet that reports follow the supply", () => {
    const dip = (at: number, low: number) =>
      plan.flatMap(({ outlet: name }) =>
        rows(
          at - 60 * seconds,
          at + 60 * seconds,
          (time) => ({ outlet: name, volts: Math.abs(time - at) < 2 * seconds ? low : 120 }),
          seconds,
        ),
      );
    const log = (low: number) => [0, 1, 2].flatMap((day) => [...dip(day * days, low), trip(day * days + 3 * seconds)]);
    expect(judged(log(90))).toEqual([]);
    expect(judged(log(110))).toEqual(["repeated_trips O1"]);
  });

  it.each([
    [3 * seconds, []],
    [4 * seconds, ["repeated_trips O1", "repeated_trips O2"]],
  ])("of two outlets %d ms apart: %j (3 s; own policy)", (apart, expected) => {
    expect(judged([0, 1, 2].flatMap((day) => [trip(day * days), trip(day * days + apart, { outlet: "O2" })])).toSorted()).toEqual(expected);
  });

  it.each([
    ["4 s after it", 4 * seconds, ["O1", "O2", "O3"], []],
    ["4 s before it", -4 * seconds, ["O1", "O2", "O3"], []],
    ["6 s after it", 6 * seconds, ["O1", "O2", "O3"], ["repeated_trips O1"]],
    ["with it, where one outlet only reports", 2 * seconds, ["O1"], ["repeated_trips O1"]],
  ] as const)("near a dip follow the supply within 5 s, seen on two outlets at least: %s", (_, after, seenAt, expected) => {
    const dips = [0, 1, 2].flatMap((day) => [
      ...seenAt.map((name) => row(day * days, { outlet: name, volts: 90 })),
      trip(day * days + after),
      ...seenAt.map((name) => row(day * days + 20 * seconds, { outlet: name, volts: 120 })),
    ]);
    expect(judged(dips)).toEqual(expected);
  });

  it("after a dip that one reporting outlet did not see are counted", () => {
    const log = [0, 1, 2].flatMap((day) => [
      row(day * days, { volts: 90 }),
      row(day * days, { outlet: "O2", volts: 90 }),
      row(day * days, { outlet: "O3", volts: 120 }),
      trip(day * days + 2 * seconds),
    ]);
    expect(judged(log)).toEqual(["repeated_trips O1"]);
  });
});

describe("repeated trips belong", () => {
  it("to the appliance when they follow its tag from outlet to outlet", () => {
    expect(judged([trip(0, { tag: "T1" }), trip(days, { outlet: "O2", tag: "T1" }), trip(2 * days, { outlet: "O3", tag: "T1" })])).toEqual([
      "repeated_trips T1",
    ]);
  });

  it("to the outlet when several tags trip there", () => {
    expect(judged([trip(0, { tag: "T1" }), trip(days, { tag: "T2" }), trip(2 * days, { tag: "T3" })])).toEqual(["repeated_trips O1"]);
  });

  it("to either when one tag never left its outlet, and the reasons say what would tell them apart", () => {
    const found = screen(
      [0, 1, 2].map((day) => trip(day * days, { tag: "T1" })),
      plan,
      [heater],
    );
    expect(kinds(found)).toEqual(["repeated_trips O1 T1"]);
    expect(found.results[0]?.reasons.join(" ")).toContain("plug it in elsewhere");
  });

  it("to the tag last seen there when the trip's row has none: until it is unplugged, else for 24 h", () => {
    const seen = (day: number, name: string) => row(day * days - hours, { outlet: name, tag: "T1", watts: 100 });
    const followed = [0, 1, 2].flatMap((day) => [seen(day, plan[day]!.outlet), trip(day * days, { outlet: plan[day]!.outlet })]);
    expect(judged(followed)).toEqual(["repeated_trips T1"]);
    const unplugged = [0, 1, 2].flatMap((day) => [seen(day, "O1"), row(day * days - 1000, { event: "unplugged" }), trip(day * days)]);
    expect(judged(unplugged)).toEqual(["repeated_trips O1"]);
    const gone = [0, 1, 2].flatMap((day) => [seen(day, "O1"), row(day * days - 1000, { outlet: "O2", tag: "T1" }), trip(day * days)]);
    expect(judged(gone)).toEqual(["repeated_trips O1"]);
    const long = [0, 2, 4].flatMap((day) => [row(day * days - 25 * hours, { tag: "T1", watts: 100 }), trip(day * days)]);
    expect(judged(long)).toEqual(["repeated_trips O1"]);
  });
});
