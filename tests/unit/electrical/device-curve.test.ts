import { describe, expect, it } from "vitest";
import { cordAmps, deviceForContinuous, maxReceptacleLoad } from "@/lib/electrical/circuit-limits";
import { calibrationPoints, deviceModels, tripSeconds } from "@/lib/electrical/device-curve";

describe("the thermal model of an overcurrent device", () => {
  it.each([
    [1.1, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY],
    [1.2, 550.3, 194.61],
    [1.35, 327.12, 88.44],
    [1.5, 231.51, 55.18],
    [2, 108.08, 21.77],
    [3, 43.32, 7.98],
    [6, 10.26, 1.81],
  ])(
    "with k 1.10 and 300 s trips at %d times its rating after %d s cold, %d s from full load (by its formula)",
    (multiple, cold, loaded) => {
      const model = deviceModels["UL 489"];
      expect(tripSeconds(model, multiple)).toBeCloseTo(cold, 1);
      expect(tripSeconds(model, multiple, 1)).toBeCloseTo(loaded, 1);
    },
  );

  it.each(["UL 489", "IEC 60898-1"] as const)("keeps the calibration points of %s", (standard) => {
    for (const point of calibrationPoints[standard]) {
      const seconds = tripSeconds(deviceModels[standard], point.multiple);
      if (point.trips) expect(seconds).toBeLessThanOrEqual(point.seconds);
      else expect(seconds).toBe(Number.POSITIVE_INFINITY);
    }
  });

  it("trips at 2.55 times after more than a second and less than a minute (IEC 60898-1 test c)", () => {
    expect(tripSeconds(deviceModels["IEC 60898-1"], 2.55)).toBeCloseTo(50.07, 1);
    expect(tripSeconds(deviceModels["IEC 60898-1"], 2.55)).toBeGreaterThan(1);
  });

  it("holds 1.13 times for ever, and raised from there to 1.45 times trips after 44.0 s, within the hour (IEC 60898-1 tests a and b)", () => {
    expect(tripSeconds(deviceModels["IEC 60898-1"], 1.13)).toBe(Number.POSITIVE_INFINITY);
    expect(tripSeconds(deviceModels["IEC 60898-1"], 1.45, 1.13)).toBeCloseTo(44, 1);
  });

  it("has a time constant within what the UL 489 tests allow at k 1.10: 333.10 s for 200 % in 2 min, 3301.5 s for 135 % in 1 h", () => {
    const longest = (multiple: number, seconds: number) => seconds / Math.log(multiple ** 2 / (multiple ** 2 - 1.1 ** 2));
    expect(longest(2, 120)).toBeCloseTo(333.1, 1);
    expect(longest(1.35, 3600)).toBeCloseTo(3301.5, 1);
    expect(deviceModels["UL 489"].k).toBe(1.1);
    expect(deviceModels["UL 489"].tauSeconds).toBeLessThanOrEqual(longest(2, 120));
    expect(deviceModels["UL 489"].tauSeconds).toBeLessThanOrEqual(longest(1.35, 3600));
  });
});

describe("limits of circuits and receptacles", () => {
  it.each([
    [15, 15, 12],
    [20, 15, 12],
    [20, 20, 16],
    [30, 30, 24],
    [15, 20, null],
  ])("a %d A circuit with a %d A receptacle may feed %s A (NEC Table 210.21(B)(2))", (circuit, receptacle, amps) => {
    expect(maxReceptacleLoad(circuit, receptacle)).toBe(amps);
  });

  it.each([
    [8, 10],
    [9.6, 12],
    [12, 15],
    [12.5, 15.625],
    [12.8, 16],
    [16, 20],
    [24, 30],
  ])("a continuous load of %d A asks for a device of %d A (NEC 210.20(A): 125 %%)", (amps, device) => {
    expect(deviceForContinuous(amps)).toBe(device);
  });

  it("a cord of 16 AWG carries 13 A (NEC Table 400.5(A), column B)", () => {
    expect(cordAmps[16]).toBe(13);
  });
});
