import type { Rating } from "./rating";

/** A plate of which nothing was read. */
export const unreadRating: Rating = {
  volts: [],
  hertz: [],
  watts: null,
  wattsAtVolts: [],
  voltAmperes: null,
  amps: null,
  horsepower: null,
  motorWatts: null,
  phases: null,
  protectionClass: null,
  ip: null,
  lamp: null,
  contradictions: [],
};
