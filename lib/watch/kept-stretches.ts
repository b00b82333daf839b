import { FreePlaces, longer, roomFor } from "./columns";
import type { StateCarrier } from "./state-carrier";

/** Stretches that lasted and wait for another that may join them; each at a place that it has only so long. Times in ms. */
export class KeptStretches {
  private readonly places = new FreePlaces();
  from = new Float64Array(0);
  to = new Float64Array(0);
  peak = new Float64Array(0);

  /** Keeps a stretch; its place. */
  add(fromMs: number, toMs: number, peak: number): number {
    const at = this.places.take();
    if (at >= this.from.length) this.grow(roomFor(at + 1, this.from.length));
    this.from[at] = fromMs;
    this.to[at] = toMs;
    this.peak[at] = peak;
    return at;
  }

  private grow(capacity: number): void {
    this.from = longer(this.from, capacity);
    this.to = longer(this.to, capacity);
    this.peak = longer(this.peak, capacity);
  }

  /** Goes on until `toMs`. */
  join(at: number, toMs: number, peak: number): void {
    this.to[at] = toMs;
    if (peak > this.peak[at]!) this.peak[at] = peak;
  }

  remove(at: number): void {
    this.places.give(at);
  }

  /** Carries the stretch of a place, -1 for none; its place then. */
  carry(at: number, state: StateCarrier): number {
    if (!state.flag(at >= 0)) return -1;
    const kept = state.isReading ? this.add(0, 0, 0) : at;
    for (const column of [this.from, this.to, this.peak]) column[kept] = state.number(column[kept]!);
    return kept;
  }
}
