import { ratedVoltage } from "./rated-voltage";
import type { Rating } from "./rating";

/** Upper end of extra-low voltage, volts (DC 60 V; IEC 61140 takes 120 V DC, 50 V AC, from memory). */
const extraLowVoltsLimit = 60;

export interface RatedInput {
  readonly watts: number | null;
  readonly amps: number | null;
}

interface Paired {
  readonly volts: number;
  readonly value: number;
}

/**
 * The figure of printed pairs at the site's voltage: the pair that fits; between two pairs of a range the value in proportion
 * (at the middle of a narrow range the mean, as IEC 60335-1 10.1 refers to the mean of the range).
 */
function pairedFigure(pairs: readonly Paired[], volts: number | null): number | null {
  const sorted = [...pairs].sort((a, b) => a.volts - b.volts);
  const last = sorted[sorted.length - 1];
  if (last === undefined) return null;
  if (volts === null) return Math.max(...sorted.map((pair) => pair.value));
  const above = sorted.find((pair) => pair.volts >= volts) ?? last;
  const below = sorted.findLast((pair) => pair.volts <= volts) ?? sorted[0]!;
  if (above.volts <= below.volts) return above.value;
  const narrow = above.volts - below.volts <= 0.1 * ((above.volts + below.volts) / 2);
  if (!narrow) return volts - below.volts < above.volts - volts ? below.value : above.value;
  return below.value + ((above.value - below.value) * (volts - below.volts)) / (above.volts - below.volts);
}

/** The highest voltage of a plate that names extra-low ones only; its amps are not those at the outlet. Null otherwise. */
function extraLowVolts(rating: Rating): number | null {
  const highest = Math.max(0, ...rating.volts.map((range) => range.to));
  return highest > 0 && highest <= extraLowVoltsLimit ? highest : null;
}

/**
 * The rated input at the site's nominal voltage: watts as printed, of pairs the one that fits; amps likewise. Nothing else
 * is derived, so a mains plate with amps only has no watts; of an extra-low-voltage plate V x A stands for the watts. A lamp limit is not an input.
 */
export function ratedInput(rating: Rating, siteVolts: number | null): RatedInput {
  const volts = siteVolts === null ? null : ratedVoltage(rating, siteVolts);
  const wattPairs = rating.wattsAtVolts.map((pair) => ({ volts: pair.volts, value: pair.watts }));
  const ampPairs = (rating.ampsAtVolts ?? []).map((pair) => ({ volts: pair.volts, value: pair.amps }));
  const watts = pairedFigure(wattPairs, volts) ?? rating.watts;
  const amps = pairedFigure(ampPairs, volts) ?? rating.amps;
  const lowVolts = extraLowVolts(rating);
  if (lowVolts === null) return { watts, amps };
  return { watts: watts ?? (rating.amps === null ? null : lowVolts * rating.amps), amps: null };
}
