/** One thinned reading to be drawn. Values in one unit; `peak` is the highest single reading of its minute. */
export interface DrawPoint {
  readonly atMs: number;
  readonly mean: number;
  readonly peak: number;
}

/** What one column of a chart shows: the span of the means, and the highest single reading. */
export interface DrawColumn {
  readonly fromMs: number;
  readonly toMs: number;
  readonly first: number;
  readonly last: number;
  readonly low: number;
  readonly high: number;
  readonly peak: number;
  readonly points: number;
  /** No reading between this column and the one before: the line is broken here. */
  readonly afterGap: boolean;
}

/** A pause longer than this is drawn as a gap: a minute's row, and the minute that a reading holds. */
export const gapMs = 150_000;

/**
 * Thins points in time order to at most `columns` columns between two instants. Lowest and highest of each column are kept, so that no
 * excess and no pause disappears, whatever the stretch.
 */
export function thinDraw(
  points: readonly DrawPoint[],
  span: { readonly fromMs: number; readonly toMs: number; readonly columns: number },
): DrawColumn[] {
  const { fromMs, toMs, columns } = span;
  const width = Math.max(1, (toMs - fromMs) / columns);
  const found: DrawColumn[] = [];
  let index = -1;
  let before = Number.NEGATIVE_INFINITY;
  for (const { atMs, mean, peak } of points) {
    if (atMs < fromMs || atMs > toMs) continue;
    const here = Math.min(columns - 1, Math.floor((atMs - fromMs) / width));
    const isPaused = atMs - before > Math.max(gapMs, width * 1.5);
    const open = found[found.length - 1];
    if (open && here === index && !isPaused) {
      found[found.length - 1] = {
        ...open,
        toMs: atMs,
        last: mean,
        low: Math.min(open.low, mean),
        high: Math.max(open.high, mean),
        peak: Math.max(open.peak, peak),
        points: open.points + 1,
      };
    } else {
      found.push({ fromMs: atMs, toMs: atMs, first: mean, last: mean, low: mean, high: mean, peak, points: 1, afterGap: isPaused });
    }
    index = here;
    before = atMs;
  }
  return found;
}

/** Round steps for an axis from zero to at least `highest`: 1, 2, 2.5 or 5 times a power of ten, about `count` of them. */
export function axisSteps(highest: number, count = 4): number[] {
  const rough = Math.max(highest, 1e-9) / count;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 2.5, 5, 10].map((factor) => factor * power).find((size) => size >= rough * 0.999) ?? 10 * power;
  const steps = Math.ceil(highest / step - 1e-9);
  return Array.from({ length: Math.max(1, steps) + 1 }, (_, i) => Math.round(i * step * 1000) / 1000);
}
