const dayMs = 86_400_000;

/** The calendar day of an instant in a zone, counted in days. */
function dayNumber(at: Date, timeZone: string): number {
  const parts = new Intl.DateTimeFormat("en-CA", { year: "numeric", month: "2-digit", day: "2-digit", timeZone }).format(at);
  return Date.parse(`${parts}T00:00:00Z`) / dayMs;
}

/** How long something has waited, as a number and its unit: `9 days`, `1 day`, `5 hours`, `12 minutes`. */
export function waiting(since: Date, now: Date): { readonly count: number; readonly unit: string } {
  const ms = Math.max(0, now.getTime() - since.getTime());
  const [size, name] = ms >= dayMs ? [dayMs, "day"] : ms >= 3_600_000 ? [3_600_000, "hour"] : [60_000, "minute"];
  const count = Math.floor(ms / size);
  return { count, unit: count === 1 ? name : `${name}s` };
}

/** A due date as a person says it, in the site's zone, and whether it is past. */
export function dueWords(dueAt: Date, now: Date, timeZone: string): { readonly words: string; readonly late: boolean } {
  const days = dayNumber(dueAt, timeZone) - dayNumber(now, timeZone);
  if (dueAt < now) return { words: days === 0 ? "Due today, past" : `Overdue by ${-days} ${days === -1 ? "day" : "days"}`, late: true };
  if (days === 0) return { words: "Due today", late: false };
  if (days === 1) return { words: "Due tomorrow", late: false };
  const format = days < 7 ? ({ weekday: "short", day: "numeric", month: "short" } as const) : ({ day: "numeric", month: "short" } as const);
  const year = dueAt.getUTCFullYear() === now.getUTCFullYear() ? {} : ({ year: "numeric" } as const);
  return { words: `Due ${new Intl.DateTimeFormat("en-GB", { ...format, ...year, timeZone }).format(dueAt).replace(",", "")}`, late: false };
}
