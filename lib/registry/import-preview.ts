import type { CellProblem } from "./cell-text";
import { openCsvFile } from "./csv-source";
import type { ByteSource } from "./csv-text";
import { type LabelMapping, labelRowReader } from "./label-row";
import { type PlaceMapping, readPlaceRow } from "./place-row";
import { incomplete } from "./places-import-enter";

/** A cell as the file has it, and what stands in its way or was mended. */
export interface PreviewCell {
  readonly text: string;
  readonly problem?: string;
  readonly mended?: string;
}

export interface PreviewRow {
  readonly line: number;
  /** In the order of `columns`. */
  readonly cells: readonly PreviewCell[];
  /** Why the row as a whole cannot come in, or null. */
  readonly problem: string | null;
}

/** A look at the beginning of a file under a mapping, before anything is stored. */
export interface ImportPreview {
  readonly delimiter: string;
  readonly headers: readonly string[];
  /** First value under each header, for recognising it. */
  readonly firstValues: Readonly<Record<string, string>>;
  /** The headers whose cells are shown. */
  readonly columns: readonly string[];
  readonly looked: number;
  /** True when the look ended before the file. */
  readonly isPart: boolean;
  readonly asTheyAre: number;
  readonly mended: number;
  readonly troubled: number;
  /** Rows that need a look, mended ones after those with problems; the first rows where there are none. */
  readonly rows: readonly PreviewRow[];
}

export interface PreviewRequest {
  readonly kind: "labels" | "places";
  readonly source: ByteSource;
  readonly targets: Readonly<Record<string, string | null>>;
}

const rowsLookedAt = 5_000;
const rowsShown = 12;
const columnsShown = 7;

type ReadCells = (record: Readonly<Record<string, string>>) => { problems: readonly CellProblem[]; problem: string | null };

function readerOf({ kind, targets }: PreviewRequest): ReadCells {
  if (kind === "places") {
    return (record) => {
      const { row, problems } = readPlaceRow(record, targets as PlaceMapping);
      return { problems, problem: incomplete(row) };
    };
  }
  const read = labelRowReader(targets as LabelMapping);
  return (record) => {
    const { row, problems } = read(record);
    return { problems, problem: row.site === null ? "no site" : null };
  };
}

interface Looked {
  readonly row: PreviewRow & { readonly record: Readonly<Record<string, string>>; readonly problems: readonly CellProblem[] };
  readonly weight: 0 | 1 | 2;
}

/** The columns to show: those with problems first, then those that tell what a row is, in the file's order. */
function columnsToShow(headers: readonly string[], targets: PreviewRequest["targets"], shown: readonly Looked[]): string[] {
  const troubled = new Set(shown.flatMap(({ row }) => row.problems.map((problem) => problem.column)));
  const telling = ["tag", "site", "unit", "brand", "model", "label_text", "circuit", "outlet", "device_amps", "serial"];
  const rank = (header: string) => {
    const target = targets[header] ?? "";
    const place = telling.indexOf(target);
    return troubled.has(target) ? -1 : place < 0 ? telling.length : place;
  };
  const used = headers.filter((header) => targets[header] !== null && targets[header] !== "keep_in_notes");
  const chosen = new Set([...used].sort((a, b) => rank(a) - rank(b)).slice(0, columnsShown));
  return used.filter((header) => chosen.has(header));
}

function cellOf(header: string, target: string | null | undefined, row: Looked["row"]): PreviewCell {
  const text = row.record[header] ?? "";
  const found = row.problems.find((problem) => problem.column === target);
  if (!found) return { text };
  return found.mended === undefined ? { text, problem: found.problem } : { text, mended: found.mended };
}

/** Looks at the first rows of a CSV file under a mapping: what can go in as it is, what is mended, what needs a person. */
export async function previewImport(request: PreviewRequest): Promise<ImportPreview> {
  const file = await openCsvFile(request.source);
  const read = readerOf(request);
  const kept: Looked[][] = [[], [], []];
  const counts = [0, 0, 0];
  const firstValues: Record<string, string> = {};
  let looked = 0;
  let isPart = false;
  for await (const batch of file.batches) {
    for (const { line, record, problem } of batch) {
      looked += 1;
      for (const header of file.headers) if (record[header] && !firstValues[header]) firstValues[header] = record[header];
      const cells = read(record);
      const whole = problem ?? cells.problem;
      const weight = whole !== null || cells.problems.some((one) => one.mended === undefined) ? 2 : cells.problems.length > 0 ? 1 : 0;
      counts[weight] = (counts[weight] ?? 0) + 1;
      const shelf = kept[weight] ?? [];
      if (shelf.length < rowsShown) shelf.push({ weight, row: { line, cells: [], problem: whole, record, problems: cells.problems } });
    }
    isPart = looked >= rowsLookedAt;
    if (isPart) break;
  }
  const shown = [...(kept[2] ?? []), ...(kept[1] ?? []), ...(kept[0] ?? [])].slice(0, rowsShown).sort((a, b) => a.row.line - b.row.line);
  const columns = columnsToShow(file.headers, request.targets, shown);
  const rows = shown.map(({ row }) => ({
    line: row.line,
    problem: row.problem,
    cells: columns.map((header) => cellOf(header, request.targets[header], row)),
  }));
  const [asTheyAre = 0, mended = 0, troubled = 0] = counts;
  return { delimiter: file.delimiter, headers: file.headers, firstValues, columns, looked, isPart, asTheyAre, mended, troubled, rows };
}
