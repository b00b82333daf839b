const form = new Intl.DateTimeFormat("en-GB", { day: "numeric", month: "short", year: "numeric", timeZone: "UTC" });

/** A day as `24 Nov 2026`, in UTC: accounts belong to no site and so to no time zone. */
export function dayWords(at: Date): string {
  return form.format(at);
}
