import { figureContradictions, partContradictions, rivalContradictions } from "./contradictions";
import { isProven, type LookAlike, lookAlikes } from "./look-alikes";
import { type PlacedQuantity, placeQuantities } from "./plate-context";
import { ampPairs, inputQuantities, plateInput, wattPairs } from "./plate-input";
import { lampLimitOf, lampQuantities } from "./plate-lamps";
import { horsepowerOf, ipCodeOf, phasesOf, protectionClassOf } from "./plate-marks";
import { plateQuantities } from "./plate-quantities";
import { plainPlateText } from "./plate-text";
import type { Rating, VoltageRange } from "./rating";

/** Plate texts are read up to this many characters; a longer one is not a rating plate. Own choice. */
export const plateTextLimit = 4000;

function rangesOf(quantity: PlacedQuantity): VoltageRange[] {
  if (quantity.joiner !== "range") return quantity.values.map((value) => ({ from: value, to: value }));
  return [{ from: Math.min(...quantity.values), to: Math.max(...quantity.values) }];
}

/** Voltages of the supply: with INPUT words only theirs; a fuse's own voltage is passed over. */
function voltsOf(quantities: readonly PlacedQuantity[]): VoltageRange[] {
  const volts = quantities.filter((quantity) => quantity.family === "V");
  const named = volts.filter((quantity) => quantity.section === "input");
  const ranges = (named.length > 0 ? named : volts).flatMap(rangesOf);
  return ranges.filter((range, index) => ranges.findIndex((other) => other.from === range.from && other.to === range.to) === index);
}

function hertzOf(quantities: readonly PlacedQuantity[]): number[] {
  return [...new Set(quantities.filter((quantity) => quantity.family === "Hz").flatMap((quantity) => quantity.values))];
}

function familyOf(quantities: readonly PlacedQuantity[], family: PlacedQuantity["family"]): PlacedQuantity[] {
  return quantities.filter((quantity) => quantity.family === family);
}

/** `3~` and `1N~` count phases; as figures they would join the voltage behind them. */
const phaseMark = /(?<![\d.,A-Za-z])[123]\s*N?\s*~/g;

/** `1 PH 3W` counts wires, not watts. */
const wireCount = /(?<=\bPH(?:ASE)?S?[\s,/.]*)[2-5]\s*W(?:IRES?)?(?![A-Za-z])/gi;

const blank = (found: string) => " ".repeat(found.length);

/**
 * A plate that gives its motor in amps and its heater in watts has no total of its own: the heater and V x A of the motor together,
 * at a power factor of 1, so that the total is rather too high than too low.
 */
function withMotorAmps(rating: Rating, inputs: readonly PlacedQuantity[], heater: number | null): Rating {
  const [watts, amps] = [familyOf(inputs, "W"), familyOf(inputs, "A")];
  const apart =
    heater !== null && amps.length > 0 && watts.every(({ role }) => role === "heater") && amps.every(({ role }) => role === "motor");
  const volts = rating.volts.reduce((most, { to }) => Math.max(most, to), 0);
  if (!apart || rating.amps === null) return rating;
  const motor = volts * rating.amps;
  return { ...rating, watts: volts === 0 ? null : heater + motor, motorWatts: volts === 0 ? null : motor, amps: null };
}

/** All but the look-alikes and the figure contradictions. */
function readFigures(text: string): Rating {
  const figures = text.replace(phaseMark, blank).replace(wireCount, blank);
  const placed = placeQuantities(figures, plateQuantities(figures));
  const lamps = lampQuantities(text, placed);
  const inputs = inputQuantities(placed).filter((quantity) => !lamps.includes(quantity));
  const pairs = wattPairs(inputs);
  const watts = plateInput(familyOf(inputs, "W"), pairs.length > 0);
  const amps = plateInput(familyOf(inputs, "A"), pairs.length > 0);
  const ampsPairs = ampPairs(inputs);
  const rating: Rating = {
    volts: voltsOf(inputs),
    hertz: hertzOf(inputs),
    watts: watts.total,
    wattsAtVolts: pairs,
    voltAmperes: plateInput(familyOf(inputs, "VA"), false).total,
    amps: amps.total,
    ...(ampsPairs.length === 0 ? {} : { ampsAtVolts: ampsPairs }),
    horsepower: horsepowerOf(text),
    motorWatts: watts.motor,
    phases: phasesOf(text),
    protectionClass: protectionClassOf(text),
    ip: ipCodeOf(text),
    lamp: lampLimitOf(text, lamps),
    contradictions: [
      ...partContradictions(watts.total, watts.motor, watts.heater),
      ...rivalContradictions(watts.rivals, "W"),
      ...rivalContradictions(amps.rivals, "A"),
    ],
  };
  return withMotorAmps(rating, inputs, watts.heater);
}

function withMended(rating: Rating, alike: LookAlike): Rating {
  if (alike.unit.family === "V") return { ...rating, volts: [{ from: alike.value, to: alike.value }] };
  return alike.unit.family === "W" ? { ...rating, watts: alike.value } : { ...rating, amps: alike.value };
}

/** A figure with letters among its digits is refused, unless the plate's two other figures prove it by W = V x A. */
function settleLookAlike(rating: Rating, alike: LookAlike): Rating {
  const anchors = { volts: rating.volts[0]?.to ?? null, watts: rating.watts, amps: rating.amps };
  const mended = isProven(alike, anchors);
  const sentence = mended
    ? `"${alike.printed}" has letters among its digits; V x A = W proves ${alike.value}.`
    : `"${alike.printed}" has letters among its digits, so it is not read; type the figure as it stands on the plate.`;
  return { ...(mended ? withMended(rating, alike) : rating), contradictions: [...rating.contradictions, sentence] };
}

/**
 * Reads the text of a rating plate, on one line or several, with other words around it: volts (single, range, list), hertz,
 * W, kW, VA, A, mA, hp, phases, protection class, IP, lamp limits, motor and heater parts. INPUT counts, OUTPUT does not;
 * of a span the upper value is the rating. Never throws; what cannot be read stays null, what disagrees is said in
 * `contradictions`. Markings as IEC 60335-1 clause 7.1 and NEC 422.60(A) ask for them.
 */
export function parseRatingText(text: string): Rating {
  const plain = plainPlateText(text.slice(0, plateTextLimit));
  const rating = lookAlikes(plain).reduce(settleLookAlike, readFigures(plain));
  return { ...rating, contradictions: [...rating.contradictions, ...figureContradictions(rating)] };
}
