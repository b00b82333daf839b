/**
 * Date codes as makers print them: digits for year, month, week or day in an order that only the notice can tell.
 * The order is written as it runs: `YYWW`, `WWYY`, `YYYYMM`, `YYDDD`, `MMDDYY`, `YMM` ...; `YMM-from-5` says that
 * the year's one digit starts again at 5 (5 is earlier than 4).
 */
export interface DateOrder {
  /** Runs of one letter: Y year, M month, W week, D day of the month or, three long, of the year. */
  readonly parts: readonly { readonly unit: "Y" | "M" | "W" | "D"; readonly length: number }[];
  /** First year digit of the ring, for years of one or two digits. */
  readonly yearFrom: number;
}

/** Two-digit years 70 to 99 are taken as 1970 to 1999, the usual POSIX pivot being 69 (from memory). */
const twoDigitYearFrom = 70;

const partPattern = /Y+|M+|W+|D+/g;

/** The order a notice states, or `null` when it is not one of these. */
export function dateOrder(stated: string): DateOrder | null {
  const written = /^([YMWD]{2,8})(?:-FROM-(\d{1,2}))?$/.exec(stated.toUpperCase().replace(/[\s/]+/g, ""));
  if (!written?.[1]) return null;
  const parts = (written[1].match(partPattern) ?? []).map((run) => ({ unit: run[0] as "Y" | "M" | "W" | "D", length: run.length }));
  const years = parts.filter((part) => part.unit === "Y");
  if (years.length !== 1) return null;
  const isTwoDigit = years[0]?.length === 2;
  return { parts, yearFrom: written[2] === undefined ? (isTwoDigit ? twoDigitYearFrom : 0) : Number(written[2]) };
}

/** How many digits a code of this order begins with. */
export function dateOrderLength(order: DateOrder): number {
  return order.parts.reduce((sum, part) => sum + part.length, 0);
}

const highest = { M: 12, W: 53, D: 366 } as const;

/**
 * The place in time of the digits a code begins with, as a number that grows with time within this order; `null` when
 * the digits are none (month 13, week 60, a letter).
 */
export function dateOrdinal(code: string, order: DateOrder): number | null {
  let at = 0;
  let year = 0;
  let within = 0;
  const units = [...order.parts].sort((left, right) => "YMWD".indexOf(left.unit) - "YMWD".indexOf(right.unit));
  const values = new Map<string, number>();
  for (const part of order.parts) {
    const digits = code.slice(at, at + part.length);
    if (digits.length < part.length || !/^\d+$/.test(digits)) return null;
    values.set(part.unit, Number(digits));
    at += part.length;
  }
  for (const { unit, length } of units) {
    const value = values.get(unit) ?? 0;
    if (unit === "Y") {
      const ring = length >= 4 ? 0 : 10 ** length;
      year = ring === 0 ? value : (value - order.yearFrom + ring) % ring;
      continue;
    }
    if (value < 1 || value > highest[unit]) return null;
    within = within * (highest[unit] + 1) + value;
  }
  return year * 1_000_000 + within;
}
