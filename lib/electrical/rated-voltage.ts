import type { Rating } from "./rating";

/**
 * Nominal systems take plates within this share of the nominal as made for them: 110 to 130 V on 120 V, 207 to 253 V on 230 V.
 * Common practice, no source.
 */
export const sameSystemShare = 0.1;

/** Whether a plate's voltages include the site's nominal within a tenth; true when either is unknown. */
export function fitsSupply(rating: Rating, siteVolts: number | null): boolean {
  if (siteVolts === null || rating.volts.length === 0) return true;
  return rating.volts.some(({ from, to }) => siteVolts >= from * (1 - sameSystemShare) && siteVolts <= to * (1 + sameSystemShare));
}

function distance(range: { from: number; to: number }, volts: number): number {
  if (volts < range.from) return range.from - volts;
  return volts > range.to ? volts - range.to : 0;
}

/**
 * The voltage at which the plate states its input, volts: of a list the entry nearest to the site's nominal, inside a range
 * the nominal itself, without a known nominal the middle of the first range. A plate made for another supply is referred to
 * the nominal, so that what it really draws there is judged; so is a plate that names no voltage. Null when nothing is known.
 */
export function ratedVoltage(rating: Rating, siteVolts: number | null): number | null {
  const [first] = rating.volts;
  if (first === undefined) return siteVolts;
  if (siteVolts === null) return (first.from + first.to) / 2;
  if (!fitsSupply(rating, siteVolts)) return siteVolts;
  const nearest = rating.volts.reduce((best, range) => (distance(range, siteVolts) < distance(best, siteVolts) ? range : best), first);
  return Math.min(Math.max(siteVolts, nearest.from), nearest.to);
}
