import type { Rating } from "./rating";

/** Short texts for the fields of a plate; null where nothing was read. */
export interface RatingCells {
  readonly volts: string | null;
  readonly hertz: string | null;
  readonly watts: string | null;
  readonly amps: string | null;
}

function number(value: number): string {
  return String(Math.round(value * 1000) / 1000);
}

function voltWords(rating: Rating): string | null {
  if (rating.volts.length === 0) return null;
  return rating.volts.map(({ from, to }) => (from === to ? number(from) : `${number(from)}-${number(to)}`)).join("/");
}

function wattWords(rating: Rating): string | null {
  if (rating.wattsAtVolts.length > 1) return rating.wattsAtVolts.map((pair) => number(pair.watts)).join("/");
  if (rating.watts !== null) return number(rating.watts);
  if (rating.lamp === null) return null;
  return rating.lamp.count === 1 ? `max ${number(rating.lamp.wattsEach)}` : `${rating.lamp.count} x max ${number(rating.lamp.wattsEach)}`;
}

/** The plate's fields as short texts without units, such as `100-240`, `50/60`, `1850/2200`, `12.5`; lamps as `3 x max 40`. */
export function ratingCells(rating: Rating): RatingCells {
  return {
    volts: voltWords(rating),
    hertz: rating.hertz.length === 0 ? null : rating.hertz.map(number).join("/"),
    watts: wattWords(rating),
    amps: rating.amps === null ? null : number(rating.amps),
  };
}
