/** Repeatable chance for the invented portfolio: the same seed gives the same building, to the last serial number. */
export interface Chance {
  /** A number from 0 up to, not including, 1. */
  readonly next: () => number;
  /** A whole number from `from` to `to`, both included. */
  readonly whole: (from: number, to: number) => number;
  readonly pick: <T>(list: readonly T[]) => T;
  /** True with the given probability. */
  readonly happens: (probability: number) => boolean;
}

/** The mulberry32 generator (public domain, Tommy Ettinger): 32 bits of state are plenty for a demo. */
export function makeChance(seed: number): Chance {
  let state = seed >>> 0;
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
  const whole = (from: number, to: number) => from + Math.floor(next() * (to - from + 1));
  const pick = <T>(list: readonly T[]): T => {
    const chosen = list[whole(0, list.length - 1)];
    if (chosen === undefined) throw new Error("Cannot pick from an empty list.");
    return chosen;
  };
  return { next, whole, pick, happens: (probability) => next() < probability };
}
