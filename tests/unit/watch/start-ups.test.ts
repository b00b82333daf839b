import { describe, expect, it } from "vitest";
import { appliance, kinds, minutes, outlet, row, rows, screen, seconds } from "./log-builder";

/** Idle, then `start` (multiples of running, one row a second), then running. */
function log(running: number, start: readonly number[], unit: "watts" | "amps") {
  return [
    ...rows(-10 * seconds, 0, () => ({ [unit]: 0 })),
    ...start.map((multiple, at) => row(at * seconds, { [unit]: multiple * running })),
    ...rows(start.length * seconds, 2 * minutes, () => ({ [unit]: running })),
  ];
}

const lamp = appliance("MAX 60W TYPE A E26", "table lamp");
const adaptor = appliance("INPUT 100-240V~ 1.5A", "laptop charger");
const motor = appliance("115V 60Hz 6A", "vacuum cleaner");
const fridge = appliance("115V 60Hz 6A", "refrigerator");
const heater = appliance("120V 1500W", "space heater");
const microwave = appliance("120V 60Hz 1550W", "microwave oven");

// Multiples of running current. A 500 W lamp measured at 41 A peak of 5.7 A, 7.2 times, and the other weak or strong sources: a lighting
// trade article on inrush. Heaters, compressors and microwave ovens: from memory.
describe("the start of", () => {
  it.each([
    ["a filament lamp: 10 to 15 times by theory, 7.2 times measured, settled by 0.5 s", lamp, 60, [7.2], "watts"],
    ["the same at 15 times", lamp, 60, [15], "watts"],
    ["a switch-mode input: 20 to 50 times for some milliseconds", adaptor, 1.4, [50], "amps"],
    ["an induction motor: 20 times at first, then 4 to 8 times for several seconds", motor, 5.5, [20, 8, 6.5, 5, 4, 2.5, 1.4], "amps"],
    ["a transformer: 20 times, settled after 30 to 40 cycles", adaptor, 1.4, [20, 1.1], "amps"],
    ["a resistance: 1.4 times for some seconds at most", heater, 1500, [1.4, 1.25, 1.1], "watts"],
    ["a compressor: 5 to 8 times for 0.2 to 2 s", fridge, 5.5, [8, 8], "amps"],
    ["a microwave oven: 2 to 5 times for 10 to 50 ms", microwave, 1500, [5], "watts"],
  ] as const)("%s is left alone", (_, thing, running, start, unit) => {
    expect(kinds(screen(log(running, start, unit), undefined, [thing]))).toEqual([]);
  });

  it.each([
    ["a compressor with its rotor locked for minutes", fridge, 5.5, Array(100).fill(6), "amps"],
    ["a motor that stays at four times", motor, 5.5, Array(20).fill(4), "amps"],
    ["a heater that stays at 1.4 times", heater, 1500, Array(8).fill(1.4), "watts"],
    ["a lamp twice too strong", lamp, 60, [15, ...Array(60).fill(2)], "watts"],
  ] as const)("%s is no start and is reported", (_, thing, running, start, unit) => {
    expect(screen(log(running, start, unit), undefined, [thing]).results.map(({ tag }) => tag)).toEqual(["T1"]);
  });
});

describe("the start at an outlet of 15 A beside a load of 6 A", () => {
  const outlets = [outlet({ outletAmps: 15 })];
  const beside = (amps: readonly number[]) =>
    [...rows(-10 * seconds, minutes, () => ({ amps: 6 })), ...amps.map((value, at) => row(at * seconds, { receptacle: "2", amps: value }))]
      .concat(rows(amps.length * seconds, minutes, () => ({ receptacle: "2", amps: 5 })))
      .sort((a, b) => a.atMs - b.atMs);

  it("that falls within seconds is no overload of the outlet, one that is stuck is", () => {
    expect(kinds(screen(beside([30, 24, 18, 13, 10, 8]), outlets))).toEqual([]);
    expect(kinds(screen(beside(Array(12).fill(30)), outlets))).toEqual(["outlet_overload O1"]);
  });
});
