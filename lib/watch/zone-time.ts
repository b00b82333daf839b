const formats = new Map<string, Intl.DateTimeFormat>();

function formatOf(zone: string): Intl.DateTimeFormat {
  const known = formats.get(zone);
  if (known) return known;
  const format = new Intl.DateTimeFormat("en-US", {
    timeZone: zone,
    hourCycle: "h23",
    era: "short",
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
    hour: "2-digit",
    minute: "2-digit",
    second: "2-digit",
  });
  formats.set(zone, format);
  return format;
}

/** Whether a name is an IANA time zone that this runtime knows. */
export function isTimeZone(zone: string): boolean {
  try {
    formatOf(zone);
    return true;
  } catch {
    return false;
  }
}

/** The wall clock of a zone at an instant, as if it were UTC, ms. */
export function wallClock(zone: string, atMs: number): number {
  const whole = Math.floor(atMs / 1000) * 1000;
  const parts: Record<string, number> = {};
  for (const part of formatOf(zone).formatToParts(whole)) parts[part.type] = Number(part.value);
  return Date.UTC(parts["year"]!, parts["month"]! - 1, parts["day"], parts["hour"], parts["minute"], parts["second"]) + (atMs - whole);
}

/**
 * The instants that a wall clock shows in a zone: none where the clock was put forward over it, two in the repeated hour,
 * else one. In time order.
 */
export function instantsOf(zone: string, wallMs: number): number[] {
  const offsets = [-86_400_000, 0, 86_400_000].map((shift) => wallClock(zone, wallMs + shift) - (wallMs + shift));
  const instants = [...new Set(offsets)].map((offset) => wallMs - offset).filter((atMs) => wallClock(zone, atMs) === wallMs);
  return instants.sort((a, b) => a - b);
}

const quarterMs = 900_000;
const quarters = new Map<string, { quarter: number; offset: number | null }>();

function onlyOffset(zone: string, quarter: number): number | null {
  const [from, to] = [quarter * quarterMs, (quarter + 1) * quarterMs];
  const [first, last] = [instantsOf(zone, from), instantsOf(zone, to)];
  const single = first.length === 1 && last.length === 1 && to - last[0]! === from - first[0]!;
  return single ? from - first[0]! : null;
}

/**
 * The offset of a wall clock, ms east of UTC, where its quarter of an hour has one only; null near a clock change, which
 * `instantsOf` settles. Zones change at quarter hours; the last quarter of each zone is remembered.
 */
export function usualOffset(zone: string, wallMs: number): number | null {
  const quarter = Math.floor(wallMs / quarterMs);
  const known = quarters.get(zone);
  if (known?.quarter === quarter) return known.offset;
  const offset = onlyOffset(zone, quarter);
  quarters.set(zone, { quarter, offset });
  return offset;
}

/** The end of the local day of an instant (its next local midnight), ms; UTC days where no zone is known. */
export function endOfLocalDay(zone: string | null, atMs: number): number {
  if (zone === null) return (Math.floor(atMs / 86_400_000) + 1) * 86_400_000;
  const midnight = (Math.floor(wallClock(zone, atMs) / 86_400_000) + 1) * 86_400_000;
  return instantsOf(zone, midnight)[0] ?? midnight - (wallClock(zone, atMs) - atMs);
}
