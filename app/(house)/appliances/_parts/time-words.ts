const minuteMs = 60_000;
const hourMs = 60 * minuteMs;
const dayMs = 24 * hourMs;

/** How long ago, in the largest fitting unit: `4 min`, `9 h`, `19 d`. */
export function agoWords(at: Date, now: Date): string {
  const ms = Math.max(0, now.getTime() - at.getTime());
  if (ms < hourMs) return `${Math.floor(ms / minuteMs)} min`;
  if (ms < 2 * dayMs) return `${Math.floor(ms / hourMs)} h`;
  return `${Math.floor(ms / dayMs)} d`;
}

/** A day in the site's zone, such as `1 Mar 2027`. */
export function dayWords(at: Date, timeZone: string | null): string {
  return new Intl.DateTimeFormat("en-GB", { day: "numeric", month: "short", year: "numeric", timeZone: timeZone ?? "UTC" }).format(at);
}

/** A day and time in the site's zone, such as `24 Nov 2026, 09:38`. */
export function timeWords(at: Date, timeZone: string | null): string {
  const clock = new Intl.DateTimeFormat("en-GB", { hour: "2-digit", minute: "2-digit", timeZone: timeZone ?? "UTC" }).format(at);
  return `${dayWords(at, timeZone)}, ${clock}`;
}
