/** A seeded source of numbers (mulberry32, public domain), so that every run measures the same world. */
export class Random {
  private state: number;

  constructor(seed: number) {
    this.state = seed >>> 0;
  }

  /** At least 0, below 1. */
  next(): number {
    this.state = (this.state + 0x6d2b79f5) >>> 0;
    let t = this.state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  }

  /** A whole number from 0 to n - 1. */
  below(n: number): number {
    return Math.floor(this.next() * n);
  }

  chance(probability: number): boolean {
    return this.next() < probability;
  }

  pick<T>(from: readonly T[]): T {
    return from[this.below(from.length)] as T;
  }

  /** Rank from 0 to n - 1, low ranks oftener (Zipf with exponent 1, by inversion of the continuous law). */
  zipf(n: number): number {
    return Math.min(n - 1, Math.floor(Math.exp(this.next() * Math.log(n + 1))) - 1);
  }

  /** At least 1, with this mean. */
  geometric(mean: number): number {
    return 1 + Math.floor(Math.log(1 - this.next()) / Math.log(1 - 1 / mean));
  }
}
