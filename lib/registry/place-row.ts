import { type CellProblem, type CellReading, plainCell, readFigure, saysUnknown } from "./cell-text";
import { matchHeaders } from "./column-guess";

/** The columns of a places file, in the order they are written; `time_zone` may follow. */
export const placeColumns = [
  "site",
  "unit",
  "circuit",
  "device_amps",
  "volts",
  "leg",
  "outlet",
  "outlet_amps",
  "receptacles",
  "time_zone",
] as const;
export type PlaceColumn = (typeof placeColumns)[number];
export type PlaceMapping = Readonly<Record<string, PlaceColumn | null>>;

/** One outlet of a places file, or a site, unit or circuit alone. Null is an empty cell: unknown. */
export interface PlaceRow {
  readonly site: string | null;
  readonly unit: string | null;
  readonly circuit: string | null;
  /** Rating of the circuit's protective device, amperes. */
  readonly deviceAmps: number | null;
  readonly volts: number | null;
  readonly leg: string | null;
  readonly outlet: string | null;
  readonly outletAmps: number | null;
  readonly receptacles: number | null;
  /** IANA name of the site's time zone. */
  readonly timeZone: string | null;
}

/** Other names that spreadsheets give to the columns, as `headerKey` folds them. The product's own list. */
const placeColumnNames: Readonly<Record<PlaceColumn, readonly string[]>> = {
  site: ["building", "bldg", "property", "campus", "sitename", "premises", "block"],
  unit: ["apt", "apartment", "room", "flat", "suite", "unitno", "unitnumber", "roomno", "dwelling", "space"],
  circuit: ["circuitno", "circuitid", "circuitname", "branchcircuit", "breaker", "breakerno", "way", "ckt"],
  device_amps: ["deviceamps", "breakeramps", "breakerrating", "circuitamps", "fuseamps", "mcbrating", "devicerating", "ocpdamps"],
  volts: ["voltage", "v", "circuitvolts", "nominalvolts", "volt"],
  leg: ["phase", "line", "pole"],
  outlet: ["outletno", "outletid", "outletname", "socket", "wallsocket", "outletcode"],
  outlet_amps: ["outletrating", "socketamps", "socketrating", "ratedamps", "amps"],
  receptacles: ["receptaclecount", "positions", "gangs", "sockets", "noofreceptacles", "ports"],
  time_zone: ["timezone", "tz", "zone"],
};

/** Which of our columns each header of a places file is, by its name; null where none of ours. */
export function guessPlaceMapping(headers: readonly string[]): Record<string, PlaceColumn | null> {
  return matchHeaders<PlaceColumn>(headers, placeColumnNames);
}

function isTimeZone(name: string): boolean {
  try {
    new Intl.DateTimeFormat("en", { timeZone: name });
    return /^[A-Za-z]/.test(name);
  } catch {
    return false;
  }
}

function countOf(text: string): CellReading {
  const bare = /^(\d{1,2})(?:\.0+)?$/.exec(text)?.[1];
  if (bare !== undefined && Number(bare) >= 1) return { value: String(Number(bare)) };
  return { value: null, problem: `"${text}" is no number of receptacles: write a whole number from 1 to 99.` };
}

const zones = new Map<string, boolean>();

function zoneOf(text: string): CellReading {
  const known = zones.get(text) ?? isTimeZone(text);
  if (zones.size < 1000) zones.set(text, known);
  return known ? { value: text } : { value: null, problem: `"${text}" is no IANA time zone: write it like America/Chicago.` };
}

const longestCell = 200;

function textOf(text: string): CellReading {
  if (text.length <= longestCell) return { value: text };
  return { value: null, problem: `The cell has ${text.length} characters, more than the ${longestCell} that a name may have.` };
}

const readers: Readonly<Record<PlaceColumn, (text: string) => CellReading>> = {
  site: textOf,
  unit: textOf,
  circuit: textOf,
  device_amps: (text) => readFigure(text, "A"),
  volts: (text) => readFigure(text, "V"),
  leg: textOf,
  outlet: textOf,
  outlet_amps: (text) => readFigure(text, "A"),
  receptacles: countOf,
  time_zone: zoneOf,
};

export interface ReadPlaceRow {
  readonly row: PlaceRow;
  readonly problems: readonly CellProblem<PlaceColumn>[];
}

const figure = (text: string | undefined): number | null => (text === undefined ? null : Number(text));

/** Reads one record of a places file under a mapping. A cell that cannot be read is null and named among the problems. */
export function readPlaceRow(record: Readonly<Record<string, string>>, mapping: PlaceMapping): ReadPlaceRow {
  const cells: Partial<Record<PlaceColumn, string>> = {};
  const problems: CellProblem<PlaceColumn>[] = [];
  for (const [header, column] of Object.entries(mapping)) {
    const text = column === null ? null : plainCell(record[header]);
    if (column === null || text === null || saysUnknown(text)) continue;
    const reading = readers[column](text);
    if (reading.value !== null) cells[column] = reading.value;
    if ("problem" in reading) problems.push({ column, problem: reading.problem });
    else if ("mended" in reading) problems.push({ column, problem: reading.mended, mended: reading.value });
  }
  const row: PlaceRow = {
    site: cells.site ?? null,
    unit: cells.unit ?? null,
    circuit: cells.circuit ?? null,
    deviceAmps: figure(cells.device_amps),
    volts: figure(cells.volts),
    leg: cells.leg ?? null,
    outlet: cells.outlet ?? null,
    outletAmps: figure(cells.outlet_amps),
    receptacles: figure(cells.receptacles),
    timeZone: cells.time_zone ?? null,
  };
  return { row, problems };
}
