import { instantsOf, isTimeZone, usualOffset } from "./zone-time";

const isoTime = /^(\d{4})-(\d{2})-(\d{2})[Tt ](\d{2}):(\d{2})(?::(\d{2})(?:[.,](\d{1,9}))?)?\s?(?:([Zz])|([+-]|\u2212)(\d{2}):?(\d{2})?)?$/;

/** A log's time as written: the wall clock as if UTC, and minutes east of UTC; null offset where none is written. */
export interface WrittenTime {
  readonly wallMs: number;
  readonly offsetMinutes: number | null;
}

/** Reads an ISO 8601 time; null when the text is none or names a day or time that does not exist. */
export function readIsoTime(text: string): WrittenTime | null {
  const found = isoTime.exec(text.trim());
  if (found === null) return null;
  const [year, month, day, hour, minute, second] = [1, 2, 3, 4, 5, 6].map((at) => Number(found[at] ?? 0)) as [
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const wallMs = Date.UTC(year, month - 1, day, hour, minute, second) + Number((found[7] ?? "").padEnd(3, "0").slice(0, 3));
  const date = new Date(wallMs);
  const exists =
    date.getUTCFullYear() === year &&
    date.getUTCMonth() === month - 1 &&
    date.getUTCDate() === day &&
    hour < 24 &&
    minute < 60 &&
    second < 60;
  if (!exists) return null;
  if (found[8] !== undefined) return { wallMs, offsetMinutes: 0 };
  if (found[9] === undefined) return { wallMs, offsetMinutes: null };
  const [offsetHours, offsetMinutes] = [Number(found[10]), Number(found[11] ?? 0)];
  if (offsetHours > 15 || offsetMinutes > 59) return null;
  return { wallMs, offsetMinutes: (found[9] === "+" ? 1 : -1) * (offsetHours * 60 + offsetMinutes) };
}

export type LogTime =
  | { readonly atMs: number; readonly ambiguousHour: boolean }
  | { readonly setAside: "no_time" | "no_zone" | "no_such_local_time" };

/**
 * The instant of a log's time. Without an offset it is read in `zone` (IANA); in the repeated hour of a clock change the earlier
 * instant is taken, the later one once the log has passed it (`afterMs`), and the row is marked.
 */
export function logTime(text: string, zone: string | null, afterMs: number): LogTime {
  const written = readIsoTime(text);
  if (written === null) return { setAside: "no_time" };
  if (written.offsetMinutes !== null) return { atMs: written.wallMs - written.offsetMinutes * 60_000, ambiguousHour: false };
  if (zone === null || !isTimeZone(zone)) return { setAside: "no_zone" };
  const usual = usualOffset(zone, written.wallMs);
  if (usual !== null) return { atMs: written.wallMs - usual, ambiguousHour: false };
  const [earlier, later] = instantsOf(zone, written.wallMs);
  if (earlier === undefined) return { setAside: "no_such_local_time" };
  if (later === undefined) return { atMs: earlier, ambiguousHour: false };
  return { atMs: earlier < afterMs - 60_000 ? later : earlier, ambiguousHour: true };
}
