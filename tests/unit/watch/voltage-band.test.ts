import { describe, expect, it } from "vitest";
import { screeningPolicy } from "@/lib/watch/policy";
import { voltageBand } from "@/lib/watch/voltage-band";
import { kinds, minutes, outlet, rows, screen, seconds } from "./log-builder";

const bandOf = (nominal: number) => voltageBand(nominal, screeningPolicy);

describe("the band of a nominal voltage", () => {
  it("at 120 V is 104 to 127 V, 0.8667 to 1.0583 of it (ANSI C84.1 Range B, newer editions; individual volts from memory)", () => {
    const { low, high } = bandOf(120);
    expect([low, high]).toEqual([104, 127]);
    expect(low / 120).toBeCloseTo(0.8667, 4);
    expect(high / 120).toBeCloseTo(1.0583, 4);
  });

  it("at 230 V is 207 to 253 V (EN 50160: within 10 %; IEC 60038 the same, from memory)", () => {
    expect(bandOf(230)).toMatchObject({ low: 207, high: 253, northAmerican: false, lastingMs: 15 * minutes });
  });

  it.each([
    [100, true],
    [120, true],
    [127, true],
    [128, false],
    [208, false],
    [230, false],
    [240, false],
  ])("at %d V goes by the North American rule: %s (up to 127 V; own policy)", (nominal, expected) => {
    expect(bandOf(nominal).northAmerican).toBe(expected);
  });

  it.each([
    [12, 0.1],
    [108, 0.9],
  ])("calls %d V of 120 V the edge, %d of nominal, of an interruption or a sag (IEEE 1159-2009)", (volts, share) => {
    const { interrupted, dip } = bandOf(120);
    expect(share < 0.5 ? interrupted : dip).toBeCloseTo(volts, 9);
  });
});

describe("a line outside its band", () => {
  const seen = (nominal: number, volts: number, length: number) =>
    kinds(
      screen(
        [...rows(0, length, () => ({ volts }), seconds), ...rows(length, length + minutes, () => ({ volts: nominal }), seconds)],
        [outlet({ volts: nominal })],
      ),
    );

  // IEEE 1159-2009: 0.80 of nominal for 2 s is a momentary sag, for more than a minute an undervoltage. The 2 min are the product's own.
  it.each([
    [120, 96, 2 * seconds, []],
    [120, 96, 90 * seconds, []],
    [120, 96, 118 * seconds, []],
    [120, 96, 121 * seconds, ["low_voltage"]],
    [120, 128, 118 * seconds, []],
    [120, 128, 121 * seconds, ["high_voltage"]],
    [230, 254, 15 * minutes - 2 * seconds, []],
    [230, 254, 15 * minutes + seconds, ["high_voltage"]],
    // EN 50160: no 10-minute mean below 85 %, which is 195.5 V.
    [230, 195.5, 15 * minutes + seconds, ["low_voltage"]],
  ] as const)("of %d V, at %d V for %d ms: %j", (nominal, volts, length, expected) => {
    expect(seen(nominal, volts, length)).toEqual(expected);
  });
});
