import { checkTagCode, isOwnTag } from "@/lib/identity/tag-code";
import { type CellProblem, type CellReading, plainCell, readFigure, saysUnknown, withoutFieldName } from "./cell-text";
import { matchHeaders } from "./column-guess";
import { type LabelColumn, labelColumnNames } from "./label-columns";
import { readMade } from "./made-cell";

export { type LabelColumn, labelColumns } from "./label-columns";

/** One row of a labels file. Null is an empty cell: unknown, never "none". Figures stay text until they are read. */
export interface LabelRow {
  readonly tag: string | null;
  readonly site: string | null;
  readonly unit: string | null;
  readonly outlet: string | null;
  /** A name, or the receptacle's number as text, 1 the upper. */
  readonly receptacle: string | null;
  readonly category: string | null;
  readonly brand: string | null;
  readonly model: string | null;
  readonly serial: string | null;
  readonly made: string | null;
  readonly ratedVolts: string | null;
  readonly ratedHertz: string | null;
  readonly ratedWatts: string | null;
  readonly ratedAmps: string | null;
  readonly labelText: string | null;
  readonly protectionClass: string | null;
  readonly maxLampWatts: string | null;
  readonly mark: string | null;
  readonly upc: string | null;
  readonly owner: string | null;
  readonly notes: string | null;
  readonly dateCode: string | null;
}

/** A header's column; `keep_in_notes` adds the cell to the notes under the header's name; null leaves it out. */
export type LabelTarget = LabelColumn | "keep_in_notes";
export type LabelMapping = Readonly<Record<string, LabelTarget | null>>;

const fieldOf: Readonly<Record<LabelColumn, keyof LabelRow>> = {
  tag: "tag",
  site: "site",
  unit: "unit",
  outlet: "outlet",
  receptacle: "receptacle",
  category: "category",
  brand: "brand",
  model: "model",
  serial: "serial",
  made: "made",
  rated_volts: "ratedVolts",
  rated_hertz: "ratedHertz",
  rated_watts: "ratedWatts",
  rated_amps: "ratedAmps",
  label_text: "labelText",
  class: "protectionClass",
  max_lamp_watts: "maxLampWatts",
  mark: "mark",
  upc: "upc",
  owner: "owner",
  notes: "notes",
  date_code: "dateCode",
};

/** What our own downloads add before the columns; of no use when they come back. */
const ownAdditions = new Set(["line", "reason"]);

/**
 * Which of our columns each header of a file is, by its name; what is none of ours goes to the notes, so that nothing is lost,
 * except for the columns that a download of set-aside rows adds.
 */
export function guessMapping(headers: readonly string[]): Record<string, LabelTarget | null> {
  const mapping: Record<string, LabelTarget | null> = matchHeaders<LabelColumn>(headers, labelColumnNames);
  for (const header of headers) {
    if (mapping[header] === null && !ownAdditions.has(header.toLowerCase())) mapping[header] = "keep_in_notes";
  }
  return mapping;
}

const longestCell = 500;
const longestText = 8000;

// A map, not an object: a cell may say "constructor".
const positions: ReadonlyMap<string, string> = new Map([
  ["upper", "1"],
  ["lower", "2"],
]);

function receptacleOf(text: string): CellReading {
  const position = positions.get(text.toLowerCase());
  if (position !== undefined) return { value: position };
  return /^0+$/.test(text) ? { value: null, problem: `Receptacles count from 1, and "upper" is 1; "${text}" is none.` } : { value: text };
}

function tagOf(text: string): CellReading {
  if (!isOwnTag(text)) return { value: text };
  const check = checkTagCode(text);
  if (!check.ok) return { value: null, problem: check.problem };
  return { value: check.tag };
}

/** `120`, `100-240`, `120/240`, with or without a unit. */
function voltsOf(text: string): CellReading {
  const bare = text.replace(/\s+/g, "").replace(/(?:~|v(?:olts?)?(?:ac|dc)?~?|vac|vdc)$/i, "");
  if (!/^\d+(?:\.\d+)?(?:[-–/]\d+(?:\.\d+)?)*$/.test(bare)) {
    return { value: null, problem: `"${text}" is no rated voltage: write it like 120, 100-240 or 120/240.` };
  }
  const value = bare.replace(/–/g, "-");
  return value === text ? { value } : { value, mended: `read as ${value} V` };
}

function hertzOf(text: string): CellReading {
  const bare = text.replace(/\s+/g, "").replace(/(?:hz|hertz)$/i, "");
  if (/^\d+(?:\.\d+)?(?:[-–/]\d+(?:\.\d+)?)?$/.test(bare))
    return bare === text ? { value: bare } : { value: bare, mended: `read as ${bare} Hz` };
  return { value: null, problem: `"${text}" is no frequency: write it like 60 or 50/60.` };
}

const readers: Partial<Readonly<Record<LabelColumn, (text: string) => CellReading>>> = {
  tag: tagOf,
  receptacle: receptacleOf,
  model: (text) => withoutFieldName(text, "model"),
  serial: (text) => withoutFieldName(text, "serial"),
  made: readMade,
  rated_volts: voltsOf,
  rated_hertz: hertzOf,
  rated_watts: (text) => readFigure(text, "W"),
  rated_amps: (text) => readFigure(text, "A"),
};

const longTexts = new Set<LabelColumn>(["label_text", "notes"]);

function tooLong(text: string, column: LabelColumn): CellReading | null {
  const limit = longTexts.has(column) ? longestText : longestCell;
  if (text.length <= limit) return null;
  return {
    value: null,
    problem: `The cell has ${text.length} characters, more than the ${limit} that ${column} may have: a quotation mark may be missing.`,
  };
}

/** A row and what stood in the way of reading its cells as they are; a cell without a mended value reads as null. */
export interface ReadLabelRow {
  readonly row: LabelRow;
  readonly problems: readonly CellProblem<LabelColumn>[];
}

/** Written out, since copies of an object with so many computed names are slow to make and to read. */
const emptyRow: LabelRow = {
  tag: null,
  site: null,
  unit: null,
  outlet: null,
  receptacle: null,
  category: null,
  brand: null,
  model: null,
  serial: null,
  made: null,
  ratedVolts: null,
  ratedHertz: null,
  ratedWatts: null,
  ratedAmps: null,
  labelText: null,
  protectionClass: null,
  maxLampWatts: null,
  mark: null,
  upc: null,
  owner: null,
  notes: null,
  dateCode: null,
};

/** Prepares the reading of many rows of one file by their cells, in the order of its headers; the mapping is looked at once. */
export function labelCellsReader(headers: readonly string[], mapping: LabelMapping): (cells: readonly string[]) => ReadLabelRow {
  const named: (readonly [number, LabelColumn, ((text: string) => CellReading) | undefined])[] = [];
  const kept: (readonly [number, string])[] = [];
  for (const [at, header] of headers.entries()) {
    const target = mapping[header] ?? null;
    if (target === "keep_in_notes") kept.push([at, header]);
    else if (target !== null) named.push([at, target, readers[target]]);
  }
  return (cells) => {
    const row: Record<keyof LabelRow, string | null> = { ...emptyRow };
    const problems: CellProblem<LabelColumn>[] = [];
    for (const [at, column, reader] of named) {
      const text = plainCell(cells[at]);
      if (text === null || saysUnknown(text)) continue;
      const reading = tooLong(text, column) ?? (reader ? reader(text) : { value: text });
      row[fieldOf[column]] = reading.value;
      if ("problem" in reading) problems.push({ column, problem: reading.problem });
      else if ("mended" in reading) problems.push({ column, problem: reading.mended, mended: reading.value });
    }
    if (kept.length > 0) row.notes = withKept(row.notes, cells, kept);
    return { row, problems };
  };
}

/** The same by header names, for records of any source. */
export function labelRowReader(mapping: LabelMapping): (record: Readonly<Record<string, string>>) => ReadLabelRow {
  const headers = Object.keys(mapping);
  const read = labelCellsReader(headers, mapping);
  return (record) => read(headers.map((header) => record[header] ?? ""));
}

function withKept(notes: string | null, cells: readonly string[], kept: readonly (readonly [number, string])[]): string | null {
  const lines = kept.flatMap(([at, header]) => {
    const text = plainCell(cells[at]);
    return text === null ? [] : [`${header}: ${text}`];
  });
  return lines.length === 0 ? notes : [...(notes === null ? [] : [notes]), ...lines].join("\n");
}

/** Reads one record of a labels file under a mapping; see `labelRowReader` for many. */
export function readLabelRow(record: Readonly<Record<string, string>>, mapping: LabelMapping): ReadLabelRow {
  return labelRowReader(mapping)(record);
}
