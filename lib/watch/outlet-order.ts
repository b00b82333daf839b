import type { Reading } from "./reading";
import type { SetAsideReason } from "./set-aside";

/**
 * Tells, outlet by outlet, which rows of a log come later than a window allows: late ones, and the ones that go on from a late
 * row, which show a clock that stepped back. For logs whose outlets follow one another instead of being mixed by time.
 */
export class OutletOrder {
  private readonly newest = new Map<string, { ms: number; behindMs: number }>();

  constructor(
    private readonly windowMs: number,
    private readonly stepMs: number,
  ) {}

  /** Null when the row is in order. */
  reasonFor({ outlet, atMs }: Reading): SetAsideReason | null {
    const seen = this.newest.get(outlet);
    if (seen === undefined) {
      this.newest.set(outlet, { ms: atMs, behindMs: Number.NEGATIVE_INFINITY });
      return null;
    }
    if (atMs >= seen.ms - this.windowMs) {
      if (atMs > seen.ms) seen.ms = atMs;
      return null;
    }
    const goesOn = atMs >= seen.behindMs && atMs - seen.behindMs < this.stepMs;
    seen.behindMs = atMs;
    return goesOn ? "clock_stepped" : "late";
  }
}
