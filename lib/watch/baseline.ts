import { studentQuantile } from "./baseline-t";

/** Mean and spread of daily values. */
export interface DailySample {
  readonly days: number;
  readonly mean: number;
  /** Standard deviation of the sample, n - 1 in the denominator. */
  readonly deviation: number;
}

/** Two periods compared: the later one minus the baseline, with its confidence interval. */
export interface PeriodComparison {
  readonly baseline: DailySample;
  readonly later: DailySample;
  readonly difference: number;
  /** Difference over the baseline's mean; null where that is zero. */
  readonly share: number | null;
  readonly standardError: number;
  /** Welch and Satterthwaite's degrees of freedom. */
  readonly degrees: number;
  readonly t: number;
  readonly confidence: number;
  readonly low: number;
  readonly high: number;
  /** Whether the interval leaves out zero. */
  readonly isClear: boolean;
}

/** Fewest days of a period that are compared. Own choice: with fewer the interval says nothing. */
export const fewestDays = 3;

/** Mean and standard deviation of daily values. */
export function dailySample(values: readonly number[]): DailySample {
  const days = values.length;
  const mean = values.reduce((sum, value) => sum + value, 0) / Math.max(1, days);
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return { days, mean, deviation: days < 2 ? 0 : Math.sqrt(squares / (days - 1)) };
}

/**
 * Welch's comparison of two means with unequal variances: days are taken as independent, which weekly habits make a little too
 * confident. Periods without any spread have an interval of no width. Null with fewer than `fewestDays` days in either.
 */
export function comparePeriods(baseline: DailySample, later: DailySample, confidence: number): PeriodComparison | null {
  if (baseline.days < fewestDays || later.days < fewestDays) return null;
  const [a, b] = [baseline.deviation ** 2 / baseline.days, later.deviation ** 2 / later.days];
  const standardError = Math.sqrt(a + b);
  const difference = later.mean - baseline.mean;
  const degrees =
    standardError === 0 ? Number.POSITIVE_INFINITY : (a + b) ** 2 / (a ** 2 / (baseline.days - 1) + b ** 2 / (later.days - 1));
  const t = standardError === 0 ? (difference === 0 ? 0 : Math.sign(difference) * Number.POSITIVE_INFINITY) : difference / standardError;
  const margin = standardError === 0 ? 0 : studentQuantile((1 + confidence) / 2, degrees) * standardError;
  const [low, high] = [difference - margin, difference + margin];
  const share = baseline.mean === 0 ? null : difference / baseline.mean;
  return { baseline, later, difference, share, standardError, degrees, t, confidence, low, high, isClear: low > 0 || high < 0 };
}
