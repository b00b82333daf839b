import fc from "fast-check";
import { screeningPolicy } from "@/lib/watch/policy";
import type { OutletEvent, Reading } from "@/lib/watch/reading";
import { appliance, days, hours, minutes, outlet, row, rows, seconds } from "./log-builder";

/** A site where everything can go wrong: two legs, a shared circuit, a heater, a lamp, a fan, and an unregistered tag. */
export const plan = {
  outlets: [
    outlet({ outlet: "O1", circuit: "C1", deviceAmps: 15, leg: "A", outletAmps: 15 }),
    outlet({ outlet: "O2", circuit: "C1", deviceAmps: 15, leg: "A", outletAmps: 15 }),
    outlet({ outlet: "O3", circuit: "C2", deviceAmps: 20, leg: "B", outletAmps: 20, receptacles: 1 }),
    outlet({ outlet: "O4", site: "Birch House", volts: 230, timeZone: "Europe/Prague", receptacles: 1 }),
  ],
  appliances: [
    appliance("120V~ 60Hz 1500W", "space heater"),
    appliance("120V 60Hz 75W", "fan", { tag: "T2", receptacle: "2" }),
    appliance("MAX 60W TYPE A E26", "table lamp", { tag: "T3", outlet: "O2", receptacle: null }),
    appliance("230V~ 1000W", "kettle", { tag: "", outlet: "O4", receptacle: null }),
  ],
  policy: {
    ...screeningPolicy,
    baselineDays: 2,
    driftDays: 2,
    circuitSeconds: 20,
    voltageSecondsNorthAmerica: 20,
    voltageSecondsElsewhere: 20,
  },
};

const receptacleOf = fc.constantFrom("1", "2", null);
const outletOf = fc.constantFrom("O1", "O1", "O2", "O3", "O4", "O9");
const at = fc.integer({ min: 0, max: 600 }).map((steps) => steps * seconds);

/** Steady rows of one receptacle with whatever value. */
const stretch = fc
  .record({
    from: at,
    length: fc.integer({ min: 1, max: 90 }),
    outlet: outletOf,
    receptacle: receptacleOf,
    tag: fc.constantFrom(null, null, null, "T1", "T-2", "X9"),
    watts: fc.constantFrom(null, 10, 50, 74, 90, 140, 1400, 1570, 1700, 2300),
    amps: fc.constantFrom(null, null, 4, 12.5, 14, 17),
    volts: fc.constantFrom(null, 120, 119.5, 90, 103, 131, 230, 260),
  })
  .map(({ from, length, ...cells }) => rows(from, from + length * seconds, () => cells));

const events: readonly OutletEvent[] = ["trip", "off", "on", "restore", "plugged", "unplugged"];
const event = fc
  .record({
    from: at,
    outlet: outletOf,
    receptacle: receptacleOf,
    event: fc.constantFrom(...events),
    cause: fc.constantFrom(null, "overload", "manual", "supply"),
  })
  .map(({ from, ...cells }) => [row(from, cells)]);

/** Legs that move to opposite sides. */
const neutral = at.map((from) =>
  rows(from, from + 40 * seconds, () => ({ volts: 140 })).flatMap((reading) => [
    reading,
    { ...reading, outlet: "O2", volts: 141 },
    { ...reading, outlet: "O3", volts: 100 },
  ]),
);

/** Days of a fan that drags more and more. */
const drifting = fc
  .constantFrom([50, 50, 62, 63, 50], [50, 50, 65, 65, 65])
  .map((draws) =>
    draws.flatMap((watts, day) =>
      rows(day * days - 12 * hours, day * days - 12 * hours + 5 * minutes, () => ({ receptacle: "2", watts }), minutes),
    ),
  );

const trips = fc
  .array(fc.tuple(fc.integer({ min: 0, max: 20 }), outletOf), { minLength: 3, maxLength: 6 })
  .map((list) => list.map(([day, name]) => row(day * days, { outlet: name, event: "trip", receptacle: null })));

/**
 * Logs of every kind of trouble: stretches laid over each other in time order, then each row some places early or late, and now and then
 * repeated, negative, or with a clock that stepped.
 */
export const arbitraryLog: fc.Arbitrary<Reading[]> = fc
  .record({
    parts: fc.array(fc.oneof({ weight: 5, arbitrary: stretch }, { weight: 2, arbitrary: event }, neutral, drifting, trips), {
      minLength: 1,
      maxLength: 14,
    }),
    seed: fc.integer({ min: 1, max: 2 ** 30 }),
    lateness: fc.constantFrom(0, 3, 20, 200),
  })
  .map(({ parts, seed, lateness }) => {
    let state = seed;
    const next = (below: number) => {
      state = (Math.imul(state, 48_271) >>> 0) % 2_147_483_647 || 1;
      return state % below;
    };
    return parts
      .flat()
      .map((reading) => ({ reading, key: reading.atMs + next(lateness + 1) * seconds }))
      .sort((a, b) => a.key - b.key)
      .flatMap(({ reading }) => {
        const odd = next(400);
        if (odd === 0) return [reading, { ...reading }];
        if (odd === 1) return [reading, { ...reading, watts: -1 }];
        return odd === 2 ? [{ ...reading, atMs: reading.atMs + (next(3) - 1) * 26 * hours }] : [reading];
      });
  });
