import { longer } from "./columns";
import type { StateCarrier } from "./state-carrier";

const binsPerOctave = 12;
const octaves = 5;
const bins = binsPerOctave * octaves;
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
  private counts = new Uint8Array(0);
  private means = new Uint8Array(0);
  private seen = new Int32Array(0);
  private halvings = new Uint8Array(0);

  grow(places: number): void {
    this.counts = longer(this.counts, places * bins);
    this.means = longer(this.means, places * bins);
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
    const bin = place * bins + octave * binsPerOctave + step;
    const offset = Math.min(1, within - step) * 255;
    const count = this.counts[bin]! + 1;
    const mean = this.means[bin]!;
    this.means[bin] = Math.round(count === 1 ? offset : mean + (offset - mean) / Math.min(count, 16));
    this.counts[bin] = count;
    if (count === highestCount) this.halve(place);
  }

  private halve(place: number): void {
    this.halvings[place] = this.halvings[place]! + 1;
    for (let bin = place * bins; bin < (place + 1) * bins; bin++) this.counts[bin] = (this.counts[bin]! + (bin & 1)) >> 1;
  }

  /** The median as a multiple of the lowest; 0 when nothing was counted. */
  median(place: number): number {
    const first = place * bins;
    let total = 0;
    for (let bin = 0; bin < bins; bin++) total += this.counts[first + bin]!;
    let below = 0;
    for (let bin = 0; total > 0 && bin < bins; bin++) {
      below += this.counts[first + bin]!;
      if (below * 2 < total) continue;
      const within = (bin % binsPerOctave) + this.means[first + bin]! / 255;
      return (1 << Math.floor(bin / binsPerOctave)) * (1 + within / binsPerOctave);
    }
    return 0;
  }

  clear(place: number): void {
    this.counts.fill(0, place * bins, (place + 1) * bins);
    this.seen[place] = 0;
    this.halvings[place] = 0;
  }

  carry(place: number, state: StateCarrier): void {
    this.seen[place] = state.number(this.seen[place]!);
    this.halvings[place] = state.number(this.halvings[place]!);
    for (const column of [this.counts, this.means]) state.bytes(column, place * bins, (place + 1) * bins);
  }
}
