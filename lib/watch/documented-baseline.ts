import { endOfLocalDay, instantsOf } from "./zone-time";

/** The days whose median a person documented as an appliance's usual running draw: calendar days `YYYY-MM-DD` of a zone, both counted. */
export interface DocumentedBaseline {
  readonly from: string;
  readonly to: string;
  /** IANA zone of the site's clock; UTC where none is known. */
  readonly timeZone: string | null;
}

/** The same as instants, ms: its days end after `fromMs` and not after `toMs`. */
export interface BaselineStretch {
  readonly fromMs: number;
  readonly toMs: number;
}

const halfDayMs = 43_200_000;

/** The end of a calendar day, given as its wall-clock midnight, found from its noon. */
function endOfDay(zone: string | null, wallMs: number): number {
  const noonMs = wallMs + halfDayMs;
  return endOfLocalDay(zone, zone === null ? noonMs : (instantsOf(zone, noonMs)[0] ?? noonMs));
}

export function baselineStretch({ from, to, timeZone }: DocumentedBaseline): BaselineStretch {
  const before = Date.parse(from) - 2 * halfDayMs;
  return { fromMs: endOfDay(timeZone, before), toMs: endOfDay(timeZone, Date.parse(to)) };
}

const months = "January February March April May June July August September October November December".split(" ");

/** The days in words: `1 to 14 March 2026`, `25 February to 14 March 2026`, `1 March 2026`. */
export function baselineDaysWords({ from, to }: Pick<DocumentedBaseline, "from" | "to">): string {
  const words = (date: string, parts: number) =>
    [String(Number(date.slice(8))), months[Number(date.slice(5, 7)) - 1], date.slice(0, 4)].slice(0, parts).join(" ");
  if (from === to) return words(to, 3);
  const own = from.slice(0, 7) === to.slice(0, 7) ? 1 : from.slice(0, 4) === to.slice(0, 4) ? 2 : 3;
  return `${words(from, own)} to ${words(to, 3)}`;
}
