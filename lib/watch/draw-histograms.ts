import { longer } from "./columns";
import type { StateCarrier } from "./state-carrier";

const binsPerOctave = 12;
const octaves = 5;
const binCount = binsPerOctave * octaves;
const bytesEach = binCount * 2;
const highestCount = 255;

/** Bits of a number that look like chance; so the readings that are counted do not beat with an appliance that switches in a rhythm. */
function scatter(number: number): number {
  const mixed = Math.imul(number ^ (number >>> 15), 0x2c1b3c6d);
  return Math.imul(mixed ^ (mixed >>> 12), 0x297a2d39) >>> 8;
}

/**
 * Medians of draws, each histogram at a place of its own: 60 bins of equal width within each of five octaves above 1, a byte for the
 * count and a byte for the mean inside the bin. When a count is full all are halved, and from then on one draw in two, four, ... is
 * counted, so that the whole time keeps its weight. A steady draw's median is exact within 0.02 % (a bin is at most 8.4 % wide, the
 * mean has 255 steps), one that spreads within its bin. Draws above 32 are counted as 32.
 */
export class DrawHistograms {
  /** The count and the mean of each bin, side by side. */
  private bins = new Uint8Array(0);
  private seen = new Int32Array(0);
  private halvings = new Uint8Array(0);

  grow(places: number): void {
    this.bins = longer(this.bins, places * bytesEach);
    this.seen = longer(this.seen, places);
    this.halvings = longer(this.halvings, places);
  }

  /** Whether the next draw is one that is counted. */
  isCounted(place: number): boolean {
    const seen = this.seen[place]! + 1;
    this.seen[place] = seen;
    return (scatter(seen) & ((1 << this.halvings[place]!) - 1)) === 0;
  }

  /** Counts a draw, given as a multiple of the lowest, at least 1. */
  count(place: number, multiple: number): void {
    const octave = multiple >= 1 << octaves ? octaves - 1 : 31 - Math.clz32(multiple);
    const within = (multiple / (1 << octave) - 1) * binsPerOctave;
    const step = within >= binsPerOctave ? binsPerOctave - 1 : within | 0;
    const bin = place * bytesEach + (octave * binsPerOctave + step) * 2;
    const offset = Math.min(1, within - step) * 255;
    const { bins } = this;
    const count = bins[bin]! + 1;
    const mean = bins[bin + 1]!;
    bins[bin] = count;
    bins[bin + 1] = Math.round(count === 1 ? offset : mean + (offset - mean) / Math.min(count, 16));
    if (count === highestCount) this.halve(place);
  }

  private halve(place: number): void {
    this.halvings[place] = this.halvings[place]! + 1;
    const first = place * bytesEach;
    for (let bin = 0; bin < binCount; bin++) this.bins[first + bin * 2] = (this.bins[first + bin * 2]! + (bin & 1)) >> 1;
  }

  /** The median as a multiple of the lowest; 0 when nothing was counted. */
  median(place: number): number {
    const { bins } = this;
    const first = place * bytesEach;
    let total = 0;
    for (let bin = 0; bin < binCount; bin++) total += bins[first + bin * 2]!;
    let below = 0;
    for (let bin = 0; total > 0 && bin < binCount; bin++) {
      below += bins[first + bin * 2]!;
      if (below * 2 < total) continue;
      const within = (bin % binsPerOctave) + bins[first + bin * 2 + 1]! / 255;
      return (1 << Math.floor(bin / binsPerOctave)) * (1 + within / binsPerOctave);
    }
    return 0;
  }

  clear(place: number): void {
    this.bins.fill(0, place * bytesEach, (place + 1) * bytesEach);
    this.seen[place] = 0;
    this.halvings[place] = 0;
  }

  carry(place: number, state: StateCarrier): void {
    this.seen[place] = state.number(this.seen[place]!);
    this.halvings[place] = state.number(this.halvings[place]!);
    state.bytes(this.bins, place * bytesEach, (place + 1) * bytesEach);
  }
}
