import { type LogColumn, logColumnPlaces, logColumns } from "./log-columns";
import { logTime } from "./log-time";
import type { OutletEvent, Reading } from "./reading";
import { receptacleName } from "./receptacle-name";
import { type SetAsideReason, setAsideReasons } from "./set-aside";

/** One row read: a reading, or the sentence why it is set aside with the name it is counted under. */
export type LogRow =
  | { readonly reading: Reading; readonly ambiguousHour: boolean }
  | { readonly setAside: string; readonly reason: SetAsideReason };

/** Reads the cells of a CSV row, or the object of a JSON line. */
export type LogRowReader = (row: readonly string[] | Readonly<Record<string, unknown>>) => LogRow;

const events: Readonly<Record<string, OutletEvent>> = {
  trip: "trip",
  tripped: "trip",
  restore: "restore",
  restored: "restore",
  off: "off",
  on: "on",
  plugged: "plugged",
  unplugged: "unplugged",
};

/** Cells that say "not known". */
const emptyWords = new Set(["", "-", "--", "null", "none", "n/a", "na"]);

function cellText(value: unknown): string {
  if (typeof value === "string") return value.trim();
  return typeof value === "number" || typeof value === "boolean" ? String(value) : "";
}

/** A measured value: null when empty, else a number or why it is none. A comma is taken as decimal mark. */
export function measuredValue(cell: string): number | null | "bad_number" | "not_finite" | "negative" {
  if (cell === "") return null;
  const lower = cell.toLowerCase();
  if (emptyWords.has(lower)) return null;
  if (/^[+-]?(?:nan|inf|infinity)$/.test(lower)) return "not_finite";
  if (!/^[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:e[+-]?\d+)?$/.test(lower)) return "bad_number";
  const value = Number(lower.replace(",", "."));
  if (!Number.isFinite(value)) return "not_finite";
  return value < 0 ? "negative" : value + 0;
}

function known(cell: string): string | null {
  return cell === "" ? null : cell;
}

function aside(reason: SetAsideReason, detail?: string): LogRow {
  const sentence = setAsideReasons[reason];
  return { setAside: detail === undefined ? sentence : `${sentence} (${detail})`, reason };
}

const measures = ["watts", "amps", "volts", "power_factor"] as const;

interface Measured {
  readonly watts: number | null;
  readonly amps: number | null;
  readonly volts: number | null;
  readonly powerFactor: number | null;
}

function measuredCells(cell: (column: LogColumn) => string): Measured | LogRow {
  const values: (number | null)[] = [];
  for (const column of measures) {
    const value = measuredValue(cell(column));
    if (typeof value === "string") return aside(value, `${column} is "${cell(column).slice(0, 40)}"`);
    values.push(value);
  }
  return { watts: values[0]!, amps: values[1]!, volts: values[2]!, powerFactor: values[3]! };
}

function eventOf(cell: string): OutletEvent | null | undefined {
  const word = cell.toLowerCase();
  return word === "" || word === "reading" ? null : Object.hasOwn(events, word) ? events[word] : undefined;
}

/**
 * Makes the reader of an outlet log's rows for a CSV header, or for JSON lines. `zoneOfOutlet` gives the IANA zone of an
 * outlet's site, null when it has none, undefined when the outlet is unknown. Values: watts, amps, volts; empty is unknown.
 */
export function makeLogRowReader(
  header: readonly string[] | "jsonl",
  zoneOfOutlet: (outlet: string) => string | null | undefined,
): LogRowReader {
  const places = header === "jsonl" ? null : logColumnPlaces(header);
  const newest = new Map<string, number>();
  const keys = new Set<string>(logColumns);

  const cellOf = (row: Parameters<LogRowReader>[0]) => {
    if (Array.isArray(row)) return (column: LogColumn) => cellText(row[places?.[column] ?? -1]);
    const record = row as Readonly<Record<string, unknown>>;
    const named = Object.keys(record).some((key) => keys.has(key)) ? record : {};
    return (column: LogColumn) => cellText(named[column]);
  };

  return (row) => {
    const cell = cellOf(row);
    const outlet = cell("outlet");
    if (outlet === "") return aside("no_outlet");
    const zone = zoneOfOutlet(outlet);
    const time = logTime(cell("at"), zone ?? null, newest.get(outlet) ?? Number.NEGATIVE_INFINITY);
    if ("setAside" in time) return aside(zone === undefined && time.setAside === "no_zone" ? "unknown_outlet" : time.setAside);
    const values = measuredCells(cell);
    if ("setAside" in values || "reading" in values) return values;
    const event = eventOf(cell("event"));
    if (event === undefined) return aside("unknown_event", cell("event").slice(0, 40));
    if (time.ambiguousHour) newest.set(outlet, Math.max(newest.get(outlet) ?? 0, time.atMs));
    const reading: Reading = {
      atMs: time.atMs,
      outlet,
      receptacle: receptacleName(cell("receptacle")),
      tag: known(cell("tag")),
      ...values,
      event,
      cause: known(cell("cause")),
    };
    return { reading, ambiguousHour: time.ambiguousHour };
  };
}
