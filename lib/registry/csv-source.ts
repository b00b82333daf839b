import Papa from "papaparse";
import { Trouble } from "@/lib/access/trouble";
import { separatorOf } from "@/lib/notices/csv-records";
import { CsvRows, type RawRow } from "./csv-rows";
import { type ByteSource, readText, unreadable } from "./csv-text";

/** One record: the line it begins on (1-based), its cells in the file's order and by header name, and why it cannot be read. */
export interface CsvRow {
  readonly line: number;
  readonly cells: readonly string[];
  readonly record: Readonly<Record<string, string>>;
  readonly problem: string | null;
}

/** An opened file: its headers are known, its records come in batches as they are asked for. */
export interface CsvFile {
  readonly headers: readonly string[];
  readonly delimiter: string;
  readonly batches: AsyncIterable<readonly CsvRow[]>;
}

export interface CsvOptions {
  /** Told of each piece of the file as it is read. */
  readonly onBytes?: (count: number) => void;
}

const longestHeader = 64 * 1024;

/** Each header once and none empty, so that no column hides another. */
function distinctHeaders(cells: readonly string[]): string[] {
  const taken = new Set<string>();
  return cells.map((cell, at) => {
    const name = cell.trim().replace(/\s+/g, " ") || `column ${at + 1}`;
    let distinct = name;
    for (let count = 2; taken.has(distinct); count++) distinct = `${name} (${count})`;
    taken.add(distinct);
    return distinct;
  });
}

interface Header {
  readonly headers: string[];
  readonly delimiter: string;
  readonly rest: string;
  readonly nextLine: number;
}

/** Reads the header off the text so far; null while it is not complete. */
function readHeader(text: string, isLast: boolean): Header | null {
  const start = /^(?:[\s;,\t]*\n)*/.exec(text)?.[0].length ?? 0;
  const said = /^sep=(.)\n/i.exec(text.slice(start));
  const from = start + (said ? said[0].length : 0);
  const body = text.slice(from);
  const delimiter = said?.[1] ?? separatorOf(body);
  const parser = new Papa.Parser({ delimiter, newline: "\n", preview: 1 });
  const parsed = parser.parse(body, 0, !isLast) as { data: string[][]; meta: { cursor: number } };
  const cells = parsed.data[0];
  if (!cells) return null;
  const length = parsed.data.length === 1 && parsed.meta.cursor > 0 ? parsed.meta.cursor : body.length;
  const used = headerLength(body, length);
  const nextLine = text.slice(0, from + used).split("\n").length;
  return { headers: distinctHeaders(cells), delimiter, rest: body.slice(used), nextLine };
}

/** The library's short cut for text without quotation marks reports the end of a later row; the header then is the first line. */
function headerLength(body: string, reported: number): number {
  if (body.includes('"')) return reported;
  const end = body.indexOf("\n");
  return end < 0 ? body.length : end + 1;
}

/** A record that is looked up by header only where someone asks for that: a large file's rows are held by the thousand. */
class HeadedRow implements CsvRow {
  constructor(
    readonly line: number,
    readonly cells: readonly string[],
    readonly problem: string | null,
    private readonly headers: readonly string[],
  ) {}

  get record(): Readonly<Record<string, string>> {
    return Object.fromEntries(this.headers.map((header, at) => [header, this.cells[at] ?? ""]));
  }
}

function withRecords(rows: readonly RawRow[], headers: readonly string[]): CsvRow[] {
  return rows.map(({ line, cells, problem }) => {
    const damaged = cells.some((cell) => cell.includes(unreadable));
    return new HeadedRow(line, cells, problem ?? (damaged ? damagedText(line) : null), headers);
  });
}

function damagedText(line: number): string {
  return `Line ${line} holds bytes that are no UTF-8 text in a file that otherwise is: save the file as UTF-8 again from where it was written.`;
}

async function* batchesFrom(header: Header, text: AsyncIterator<string>): AsyncGenerator<readonly CsvRow[]> {
  const rows = new CsvRows(header.delimiter, header.headers.length, header.nextLine);
  const first = rows.take(header.rest, false);
  if (first.length > 0) yield withRecords(first, header.headers);
  for (;;) {
    const piece = await text.next();
    const ready = rows.take(piece.done ? "" : piece.value, piece.done === true);
    if (ready.length > 0) yield withRecords(ready, header.headers);
    if (piece.done) return;
  }
}

/**
 * Opens CSV of any usual make (comma, semicolon or tab, with or without a byte order mark, any line ends, blank lines, quoted
 * cells over several lines) and reads its header. Memory stays that of one piece, whatever the file's length. Throws `Trouble`
 * ("unreadable") when the bytes are no CSV at all; a record that cannot be read comes with its `problem` and is never dropped.
 */
export async function openCsvFile(source: ByteSource, options: CsvOptions = {}): Promise<CsvFile> {
  const text = readText(source, options.onBytes);
  let head = "";
  for (;;) {
    const piece = await text.next();
    head += piece.done ? "" : piece.value;
    const header = head === "" ? null : readHeader(head, piece.done === true);
    if (header) return { headers: header.headers, delimiter: header.delimiter, batches: batchesFrom(header, text) };
    if (piece.done) throw new Trouble("unreadable", "The file is empty: the first line must name the columns.");
    if (head.length > longestHeader)
      throw new Trouble("unreadable", "The file's first line is no header: name the columns there, separated by commas.");
  }
}

/** The records of a CSV file one by one; see `openCsvFile`. */
export async function* openCsv(source: ByteSource, options: CsvOptions = {}): AsyncGenerator<CsvRow> {
  const file = await openCsvFile(source, options);
  for await (const batch of file.batches) yield* batch;
}

/** The header names of a CSV text or its first bytes. */
export async function csvHeaders(start: Uint8Array | string): Promise<readonly string[]> {
  return (
    await openCsvFile(
      (async function* () {
        yield start;
      })(),
    )
  ).headers;
}
