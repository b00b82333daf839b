import type { Rating, WattsAtVolts } from "./rating";

/** Mechanical watts of one horsepower, 550 ft lbf/s, by definition and rounded. */
export const wattsPerHorsepower = 746;

/** Rounding of printed figures is let pass up to this share. Own choice, no source. */
const slack = 0.06;

function short(value: number): string {
  return String(Math.round(value * 100) / 100);
}

/** W above V x A, which would be a power factor above 1. Volts: the highest that the plate names. */
function powerAboveProduct(rating: Rating): string[] {
  if (rating.watts === null || rating.amps === null || rating.volts.length === 0 || (rating.phases ?? 1) > 1) return [];
  const volts = Math.max(...rating.volts.map((range) => range.to));
  const product = volts * rating.amps;
  if (rating.watts <= product * (1 + slack)) return [];
  return [
    `${short(volts)} V x ${short(rating.amps)} A = ${short(product)} VA, less than the ${short(rating.watts)} W printed; ${short(rating.watts)} W would be ${short(rating.watts / volts)} A.`,
  ];
}

/** From this input on, a printed power factor below the lowest is likelier a misread figure than a load. Common practice, no source. */
const doubtedFromWatts = 200;
/** A lower power factor is doubted on such a plate. Own choice, no source. */
const lowestPowerFactor = 0.5;

/** W far below V x A. Volts: the lowest that the plate names, where the amps of a range are drawn; with horsepower the W may be output. */
function powerFarBelowProduct(rating: Rating): string[] {
  const { watts, amps, volts, horsepower } = rating;
  if (watts === null || watts < doubtedFromWatts || amps === null || volts.length === 0 || horsepower !== null) return [];
  const lowest = Math.min(...volts.map((range) => range.from));
  const product = lowest * amps;
  if (watts >= lowestPowerFactor * product) return [];
  return [
    `${short(lowest)} V x ${short(amps)} A = ${short(product)} VA, far more than the ${short(watts)} W printed: a power factor of ${short(watts / product)}.`,
  ];
}

function powerAboveApparent(rating: Rating): string[] {
  if (rating.watts === null || rating.voltAmperes === null || rating.watts <= rating.voltAmperes * (1 + slack)) return [];
  return [
    `${short(rating.watts)} W / ${short(rating.voltAmperes)} VA = power factor ${short(rating.watts / rating.voltAmperes)}, which cannot be above 1.`,
  ];
}

function outputAboveInput(rating: Rating): string[] {
  if (rating.watts === null || rating.horsepower === null) return [];
  const output = rating.horsepower * wattsPerHorsepower;
  if (output <= rating.watts * (1 + slack)) return [];
  return [
    `${short(rating.horsepower)} hp x 746 W = ${short(output)} W of mechanical output, more than the ${short(rating.watts)} W of input.`,
  ];
}

/** A resistance follows (V2 / V1)^2; pairs further than 15 % from it, or falling with voltage, are misread or not of one load. */
function pairAgainstSquare(low: WattsAtVolts, high: WattsAtVolts): string[] {
  const expected = low.watts * (high.volts / low.volts) ** 2;
  if (Math.abs(high.watts - expected) <= 0.15 * expected) return [];
  return [
    `(${short(high.volts)} / ${short(low.volts)})^2 x ${short(low.watts)} W = ${short(expected)} W, but the plate prints ${short(high.watts)} W at ${short(high.volts)} V.`,
  ];
}

function unevenPairs(rating: Rating): string[] {
  const sorted = [...rating.wattsAtVolts].sort((a, b) => a.volts - b.volts);
  return sorted.slice(1).flatMap((high, index) => pairAgainstSquare(sorted[index]!, high));
}

/** One sentence, with the arithmetic, for each disagreement among the figures of a plate. */
export function figureContradictions(rating: Rating): string[] {
  return [
    ...powerAboveProduct(rating),
    ...powerFarBelowProduct(rating),
    ...powerAboveApparent(rating),
    ...outputAboveInput(rating),
    ...unevenPairs(rating),
  ];
}

/** Motor and heater that do not add up to the whole, within 5 %. */
export function partContradictions(total: number | null, motor: number | null, heater: number | null): string[] {
  if (total === null || motor === null || heater === null || Math.abs(motor + heater - total) <= 0.05 * total) return [];
  return [`Motor ${short(motor)} W + heater ${short(heater)} W = ${short(motor + heater)} W, but the plate prints ${short(total)} W.`];
}

/** Several inputs printed without a word that tells them apart. */
export function rivalContradictions(rivals: readonly number[], unit: string): string[] {
  if (rivals.length < 2) return [];
  return [`The plate prints ${rivals.map((value) => `${short(value)} ${unit}`).join(" and ")}; the highest is used.`];
}
