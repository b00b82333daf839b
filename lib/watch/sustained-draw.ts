import type { ScreeningPolicy } from "./policy";

interface Sample {
  readonly atMs: number;
  readonly value: number;
}

/** Where following one appliance's draw stands, as plain values. */
export interface SustainedDrawState {
  readonly rising: readonly Sample[];
  readonly times: readonly number[];
  readonly lastMs: number | null;
  readonly largest: number | null;
  readonly largestAtMs: number | null;
}

const finite = (value: number) => (Number.isFinite(value) ? value : null);

/**
 * The largest draw that one appliance held for longer than the persistence time: start-up spikes do not count. Holding means that no
 * reading of the stretch was lower; a gap longer than a reading holds ends the stretch. Values in one unit, times in ms.
 */
export class SustainedDraw {
  /** Samples of the last stretch as rising values, so that the first is the lowest since its time. */
  private rising: Sample[] = [];
  private times: number[] = [];
  private lastMs = Number.NEGATIVE_INFINITY;
  largest = Number.NEGATIVE_INFINITY;
  largestAtMs = Number.NaN;

  constructor(private readonly policy: Pick<ScreeningPolicy, "persistenceSeconds" | "holdSeconds">) {}

  /** Takes a reading; rows must come in time order. */
  observe(atMs: number, value: number): void {
    if (atMs - this.lastMs > this.policy.holdSeconds * 1000) this.end();
    this.lastMs = atMs;
    while (this.rising.length > 0 && this.rising[this.rising.length - 1]!.value >= value) this.rising.pop();
    this.rising.push({ atMs, value });
    this.times.push(atMs);
    const begin = this.windowBegin(atMs);
    if (begin === null) return;
    while (this.rising[0]!.atMs < begin) this.rising.shift();
    const held = this.rising[0]!.value;
    if (held > this.largest) {
      this.largest = held;
      this.largestAtMs = atMs;
    }
  }

  /** Where the shortest stretch begins that ends now and is longer than the persistence time; null while there is none. */
  private windowBegin(atMs: number): number | null {
    const latest = atMs - this.policy.persistenceSeconds * 1000;
    while (this.times.length > 1 && this.times[1]! < latest) this.times.shift();
    const first = this.times[0]!;
    return first < latest ? first : null;
  }

  /** Whether a stretch goes on. */
  get isHeld(): boolean {
    return this.times.length > 0;
  }

  /** Ends the stretch: switched off, unplugged, or nothing known since. */
  end(): void {
    this.rising = [];
    this.times = [];
  }

  save(): SustainedDrawState {
    const { rising, times, lastMs, largest, largestAtMs } = this;
    return { rising, times, lastMs: finite(lastMs), largest: finite(largest), largestAtMs: finite(largestAtMs) };
  }

  /** Goes on from where another left off. */
  restore({ rising, times, lastMs, largest, largestAtMs }: SustainedDrawState): void {
    this.rising = [...rising];
    this.times = [...times];
    this.lastMs = lastMs ?? Number.NEGATIVE_INFINITY;
    this.largest = largest ?? Number.NEGATIVE_INFINITY;
    this.largestAtMs = largestAtMs ?? Number.NaN;
  }
}
