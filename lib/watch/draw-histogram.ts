import type { StateCarrier } from "./state-carrier";

const binsPerOctave = 16;
const octaves = 6;
const bins = binsPerOctave * octaves;
const highestCount = 65_535;

/**
 * Counts draws in 96 bins of equal ratio over a span of 1 to 64, with the mean inside each bin, so that a median is known in
 * about 400 bytes: exact for a steady draw, within a bin (4 to 6 %) where the draw spreads.
 */
export class DrawHistogram {
  private readonly counts = new Uint16Array(bins);
  private readonly means = new Uint16Array(bins);
  private total = 0;
  private readonly perLowest: number;

  /** `lowest` is the lower end of the span, in the unit of the draws. */
  constructor(private readonly lowest: number) {
    this.perLowest = 1 / lowest;
  }

  get size(): number {
    return this.total;
  }

  add(draw: number): void {
    const scaled = draw * this.perLowest;
    if (!(scaled >= 1)) return;
    const octave = Math.min(31 - Math.clz32(scaled), octaves - 1);
    const within = (scaled / (1 << octave) - 1) * binsPerOctave;
    const step = within >= binsPerOctave ? binsPerOctave - 1 : within | 0;
    const bin = octave * binsPerOctave + step;
    const offset = Math.min(1, within - step) * 65_535;
    const count = this.counts[bin]! + 1;
    const mean = this.means[bin]!;
    this.means[bin] = count === 1 ? offset : mean + (offset - mean) / Math.min(count, 64);
    this.counts[bin] = count;
    this.total++;
    if (count === highestCount) this.halve();
  }

  private halve(): void {
    this.total = 0;
    for (let bin = 0; bin < bins; bin++) {
      this.counts[bin] = this.counts[bin]! >> 1;
      this.total += this.counts[bin]!;
    }
  }

  /** The median draw; null when nothing was counted. */
  median(): number | null {
    if (this.total === 0) return null;
    let below = 0;
    for (let bin = 0; bin < bins; bin++) {
      below += this.counts[bin]!;
      if (below * 2 < this.total) continue;
      const octave = (bin / binsPerOctave) | 0;
      const within = (bin % binsPerOctave) + this.means[bin]! / 65_535;
      return this.lowest * (1 << octave) * (1 + within / binsPerOctave);
    }
    return null;
  }

  carry(state: StateCarrier): void {
    this.total = state.number(this.total);
    for (let bin = 0; bin < bins; bin++) {
      this.counts[bin] = state.number(this.counts[bin]!);
      this.means[bin] = state.number(this.means[bin]!);
    }
  }

  clear(): void {
    this.counts.fill(0);
    this.means.fill(0);
    this.total = 0;
  }
}
