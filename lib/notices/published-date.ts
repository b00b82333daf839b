import { monthNumber } from "./month-names";

/** A publication date as lists write it -> `YYYY-MM-DD`, or null. Takes the date as printed; a time and its zone are dropped, never applied. */
export function publishedDate(text: string): string | null {
  const iso = /^\s*(\d{4})[-/](\d{1,2})[-/](\d{1,2})(?:[T\s]|$)/.exec(text);
  if (iso) return wholeDay(Number(iso[1]), Number(iso[2]), Number(iso[3]));
  const words = /^\s*([A-Za-z]{3,9})\.?\s+(\d{1,2})(?:st|nd|rd|th)?,?\s+(\d{4})\b/.exec(text);
  if (words) return wholeDay(Number(words[3]), monthNumber(words[1] ?? "") ?? 0, Number(words[2]));
  const american = /^\s*(\d{1,2})\/(\d{1,2})\/(\d{4})\b/.exec(text);
  if (american) return wholeDay(Number(american[3]), Number(american[1]), Number(american[2]));
  return null;
}

/** `YYYY-MM-DD`, or null where the calendar has no such day. */
export function wholeDay(year: number, month: number, day: number): string | null {
  if (month < 1 || month > 12 || day < 1 || day > daysInMonth(year, month)) return null;
  return `${String(year).padStart(4, "0")}-${String(month).padStart(2, "0")}-${String(day).padStart(2, "0")}`;
}

export function daysInMonth(year: number, month: number): number {
  if (month === 2) return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0 ? 29 : 28;
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
}
