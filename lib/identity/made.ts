/** A span of whole days, ISO 8601 `YYYY-MM-DD`; `null` is an open end. */
export interface DaySpan {
  readonly from: string | null;
  readonly to: string | null;
}

function daysInMonth(year: number, month: number): number {
  if (month === 2) return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28;
  return [4, 6, 9, 11].includes(month) ? 30 : 31;
}

/** A partly known date `YYYY`, `YYYY-MM` or `YYYY-MM-DD` as the span of days it may be; `null` when it is none of these. */
export function madeSpan(made: string): { from: string; to: string } | null {
  const parts = /^(\d{4})(?:-(\d{2})(?:-(\d{2}))?)?$/.exec(made.trim());
  if (!parts) return null;
  const [, year, month, day] = parts;
  if (month === undefined) return { from: `${year}-01-01`, to: `${year}-12-31` };
  if (Number(month) < 1 || Number(month) > 12) return null;
  const last = daysInMonth(Number(year), Number(month));
  if (day === undefined) return { from: `${year}-${month}-01`, to: `${year}-${month}-${last}` };
  if (Number(day) < 1 || Number(day) > last) return null;
  return { from: `${year}-${month}-${day}`, to: `${year}-${month}-${day}` };
}

/**
 * Where a partly known manufacture date lies against a window. It stands for its whole span: `overlap` when only some
 * of its days are in the window. `null` when the date cannot be read.
 */
export function compareMade(made: string, window: DaySpan): "inside" | "outside" | "overlap" | null {
  const span = madeSpan(made);
  if (span === null) return null;
  const from = window.from ?? "0000-00-00";
  const to = window.to ?? "9999-99-99";
  if (span.to < from || span.from > to) return "outside";
  return span.from >= from && span.to <= to ? "inside" : "overlap";
}
