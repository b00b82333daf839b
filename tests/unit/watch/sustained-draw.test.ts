import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { SustainedDraw } from "@/lib/watch/sustained-draw";

const policy = { persistenceSeconds: 4, holdSeconds: 60 };

function largest(samples: readonly (readonly [seconds: number, watts: number])[]): number {
  const draw = new SustainedDraw(policy);
  for (const [seconds, watts] of samples) draw.observe(seconds * 1000, watts);
  return draw.largest;
}

/** The same by looking at every stretch: the lowest reading of each stretch longer than 4 s, and of these the largest. */
function byEveryStretch(samples: readonly (readonly [number, number])[]): number {
  let best = Number.NEGATIVE_INFINITY;
  for (let from = 0; from < samples.length; from++) {
    let lowest = samples[from]![1];
    for (let to = from + 1; to < samples.length && samples[to]![0] - samples[to - 1]![0] <= 60; to++) {
      lowest = Math.min(lowest, samples[to]![1]);
      if (samples[to]![0] - samples[from]![0] > 4) best = Math.max(best, lowest);
    }
  }
  return best;
}

describe("The largest sustained draw", () => {
  // Start-up multiples of running draw as in common practice: a compressor draws 5 to 8 times for 0.2 to 2 s.
  test("a compressor's start of two seconds does not count, its running does", () => {
    expect(
      largest([
        [0, 0],
        [1, 780],
        [2, 760],
        [3, 130],
        [4, 128],
        [6, 127],
        [9, 129],
      ]),
    ).toBe(127);
  });

  test("a draw held for exactly the persistence time is not yet sustained, a second more is", () => {
    expect(
      largest([
        [0, 1500],
        [4, 1500],
      ]),
    ).toBe(Number.NEGATIVE_INFINITY);
    expect(
      largest([
        [0, 1500],
        [5, 1500],
      ]),
    ).toBe(1500);
  });

  test("one reading alone says nothing, and a gap ends the stretch", () => {
    expect(largest([[0, 900]])).toBe(Number.NEGATIVE_INFINITY);
    expect(
      largest([
        [0, 900],
        [120, 900],
      ]),
    ).toBe(Number.NEGATIVE_INFINITY);
    expect(
      largest([
        [0, 900],
        [60, 900],
      ]),
    ).toBe(900);
  });

  test("switching off ends the stretch", () => {
    const draw = new SustainedDraw(policy);
    draw.observe(0, 1500);
    draw.end();
    draw.observe(5000, 1500);
    expect(draw.largest).toBe(Number.NEGATIVE_INFINITY);
  });

  test("equals what looking at every stretch gives", () => {
    const step = fc.tuple(fc.constantFrom(1, 2, 3, 5, 30, 61), fc.integer({ min: 0, max: 20 }));
    fc.assert(
      fc.property(fc.array(step, { maxLength: 40 }), (steps) => {
        let seconds = 0;
        const samples = steps.map(([gap, watts]) => {
          seconds += gap;
          return [seconds, watts] as const;
        });
        expect(largest(samples)).toBe(byEveryStretch(samples));
      }),
    );
  });
});
