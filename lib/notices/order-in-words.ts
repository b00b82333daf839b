import { lowerAt } from "./cues";
import { type Place, placeAt } from "./places";
import type { Token } from "./token";

/** A run of digits and what it tells, as the text explains its date codes. */
interface Told {
  readonly place: Place;
  readonly unit: "Y" | "M" | "W" | "D";
  readonly count: number;
}

const says =
  /^(?:represents?|indicates?|stands?|for|is|are|being|shows?|denotes?|identif(?:y|ies)|designates?|signif(?:y|ies)|reflects?|refers?|to|corresponds?|tells?|gives?|the|a|last|digits?|of|in|that|which|number|calendar|production|manufacture|,)$/;
const units: Readonly<Record<string, Told["unit"]>> = { year: "Y", month: "M", week: "W", day: "D" };
const farthest = 12;

/**
 * How date codes run by what the text says of their places: "the first two digits are the week and the last two the year"
 * -> `WWYY`, "the first digit is the year and the next two are the week" -> `YWW`. Null where it explains fewer than two
 * places or they do not follow each other from the start.
 */
export function orderInWords(tokens: readonly Token[]): string | null {
  const told: Told[] = [];
  tokens.forEach((_, at) => {
    const place = placeAt(tokens, at);
    const one = place && toldBy(tokens, place);
    if (one && !told.some((other) => other.unit === one.unit)) told.push(one);
  });
  return told.length < 2 ? null : inOrder(told);
}

function toldBy(tokens: readonly Token[], place: Place): Told | null {
  for (let at = place.next; at < place.next + farthest; at++) {
    const word = lowerAt(tokens, at);
    const unit = Object.hasOwn(units, word.replace(/s$/, "")) ? units[word.replace(/s$/, "")] : undefined;
    if (unit !== undefined) return { place, unit, count: countOf(tokens, at, place, unit) };
    if (!says.test(word)) return null;
  }
  return null;
}

/** As many digits as the phrase says; "the first digits" of a month or week are two. A day of the year has three. */
function countOf(tokens: readonly Token[], at: number, place: Place, unit: Told["unit"]): number {
  if (place.count !== null) return place.count;
  return unit === "D" && lowerAt(tokens, at + 1) === "of" && /^(?:the|year)$/.test(lowerAt(tokens, at + 2)) ? 3 : 2;
}

function inOrder(told: readonly Told[]): string | null {
  const starts = told.filter(({ place }) => place.at === "start").sort((one, other) => (one.place.from ?? 0) - (other.place.from ?? 0));
  const rest = [...told.filter(({ place }) => place.at === "next"), ...told.filter(({ place }) => place.at === "end")];
  let order = "";
  for (const { place, unit, count } of [...starts, ...rest]) {
    if (place.at === "start" && place.from !== order.length + 1) return null;
    order += unit.repeat(count);
  }
  return order;
}
