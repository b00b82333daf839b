import { describe, expect, it } from "vitest";
import type { PlannedOutlet } from "@/lib/watch/outlet-plan";
import { type ScreeningPolicy, screeningPolicy } from "@/lib/watch/policy";
import type { Reading } from "@/lib/watch/reading";
import { makeScreening } from "@/lib/watch/screening";
import { appliance, days, hours, minutes, outlet, row, rows, seconds } from "./log-builder";

const heater = appliance("120V 1500W", "space heater");
const plan = [outlet({ circuit: "C1", deviceAmps: 15 }), outlet({ outlet: "O2" })];

function kindsBy(figures: Partial<ScreeningPolicy>, log: readonly Reading[], outlets: readonly PlannedOutlet[] = plan): string[] {
  const screening = makeScreening({ outlets, appliances: [heater], policy: { ...screeningPolicy, ...figures } });
  for (const reading of log) screening.take(reading);
  return [...new Set(screening.finish().results.map(({ kind }) => kind))];
}

const excess = (length: number) => rows(0, 2 * minutes, (at) => ({ watts: at >= minutes && at < minutes + length ? 2100 : 1500 }));
const load = (amps: number, length: number) => rows(0, length, () => ({ amps, receptacle: "2" }), 10 * seconds);
const line = (volts: number, length: number) => rows(0, length, () => ({ volts }), 5 * seconds);
const trips = (...at: readonly number[]) => at.map((day) => row(day * days, { event: "trip" }));
const pairs = (apart: number) =>
  [0, 1, 2].flatMap((day) => [row(day * days, { event: "trip" }), row(day * days + apart, { outlet: "O2", event: "trip" })]);

describe("a figure that a site states changes what is found there", () => {
  it.each([
    ["persistence of 10 s", { persistenceSeconds: 10 }, excess(7 * seconds), ["over_rating"], []],
    ["a circuit above its device for 5 min", { circuitSeconds: 300 }, load(17, 2 * minutes), ["circuit_overload"], []],
    ["a continuous share of 0.7", { continuousShare: 0.7 }, load(11, 3 * hours + minutes), [], ["circuit_overload"]],
    ["continuous after 1 h", { continuousSeconds: 3600 }, load(12.5, hours + minutes), [], ["circuit_overload"]],
    ["a dip of 10 s ends what is continuous", { continuousDipSeconds: 10 }, dipped(), ["circuit_overload"], []],
    ["106 V, as older editions of ANSI C84.1 have it", { lowVoltageNorthAmerica: 106 }, line(105, 5 * minutes), [], ["low_voltage"]],
    ["126 V, its Range A", { highVoltageNorthAmerica: 126 }, line(126.5, 5 * minutes), [], ["high_voltage"]],
    ["a line outside for 10 min", { voltageSecondsNorthAmerica: 600 }, line(130, 5 * minutes), ["high_voltage"], []],
    ["two trips are repeated", { tripCount: 2 }, trips(0, 10), [], ["repeated_trips"]],
    ["trips within a week", { tripDays: 7 }, trips(0, 10, 20), ["repeated_trips"], []],
    ["trips coincide within 10 s", { coincidenceSeconds: 10 }, pairs(8 * seconds), ["repeated_trips"], []],
  ] as const)("%s", (_, figures, log, usual, changed) => {
    expect(kindsBy({}, log)).toEqual(usual);
    expect(kindsBy(figures, log)).toEqual(changed);
  });
});

it("the confidence that a site states is that of its bounds: 3 trips are 0.818 to 7.754 with 90 % (Garwood, exact Poisson)", () => {
  const log = [row(-days, { watts: 1 }), ...trips(0, 10, 29)];
  const screening = makeScreening({ outlets: plan, appliances: [], policy: { poissonConfidence: 0.9 } });
  for (const reading of log) screening.take(reading);
  expect(screening.finish().results[0]?.reasons.join(" ")).toContain("0.818 to 7.754 per 30 days with 90 % confidence");
});

/** Above 80 % for 4 h, but for half a minute in the middle. */
function dipped(): Reading[] {
  return load(12.5, 4 * hours).map((reading) =>
    Math.abs(reading.atMs - row(2 * hours).atMs) < 15 * seconds ? { ...reading, amps: 1 } : reading,
  );
}
