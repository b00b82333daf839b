import { Trouble } from "@/lib/access/trouble";
import { logColumnPlaces } from "@/lib/watch/log-columns";
import { openCsvFile } from "./csv-source";
import { type ByteSource, readText } from "./csv-text";

/** One row of a log as it stands in the file; `problem` says why it cannot be read at all. */
export interface LogLine {
  readonly line: number;
  readonly row: readonly string[] | Readonly<Record<string, unknown>>;
  readonly problem: string | null;
  /** The row's own text, for the download of set-aside rows. */
  readonly content: string;
}

/** An opened log: how its rows are to be read, and the rows in batches. */
export interface LogFile {
  readonly header: readonly string[] | "jsonl";
  readonly batches: AsyncIterable<readonly LogLine[]>;
}

const batchLines = 2000;

/** The first piece of a source looked at, and the source whole again. */
async function peek(source: ByteSource): Promise<{ start: string; whole: ByteSource }> {
  const pieces = source[Symbol.asyncIterator]();
  const first = await pieces.next();
  const piece = first.done ? "" : first.value;
  const start = typeof piece === "string" ? piece.slice(0, 200) : new TextDecoder().decode(piece.subarray(0, 200));
  async function* whole(): AsyncGenerator<Uint8Array | string> {
    if (!first.done) yield first.value;
    for (let next = await pieces.next(); !next.done; next = await pieces.next()) yield next.value;
  }
  return { start, whole: whole() };
}

function csvCell(cell: string): string {
  return /[",\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
}

function requireColumns(headers: readonly string[]): void {
  const places = logColumnPlaces(headers);
  const missing = (["at", "outlet"] as const).filter((column) => places[column] < 0);
  if (missing.length > 0)
    throw new Trouble(
      "unreadable",
      `This is no outlet log: its first line has no column ${missing.map((name) => `"${name}"`).join(" and ")}. It names ${headers.slice(0, 8).join(", ")}.`,
    );
}

async function openCsvLog(source: ByteSource): Promise<LogFile> {
  const file = await openCsvFile(source);
  requireColumns(file.headers);
  async function* batches(): AsyncGenerator<readonly LogLine[]> {
    for await (const batch of file.batches)
      yield batch.map(({ line, cells, problem }) => ({ line, row: cells, problem, content: cells.map(csvCell).join(",") }));
  }
  return { header: file.headers, batches: batches() };
}

function readJsonLine(line: number, content: string): LogLine {
  try {
    const value: unknown = JSON.parse(content);
    if (value !== null && typeof value === "object" && !Array.isArray(value))
      return { line, row: value as Record<string, unknown>, problem: null, content };
  } catch {
    // told below like any other line that is no object
  }
  return {
    line,
    row: {},
    problem: `Line ${line} is no JSON object: write one object a line, such as {"at": "...", "outlet": "..."}.`,
    content,
  };
}

async function* jsonBatches(source: ByteSource): AsyncGenerator<readonly LogLine[]> {
  let rest = "";
  let line = 0;
  let batch: LogLine[] = [];
  const take = (content: string) => {
    line += 1;
    if (content.trim() !== "") batch.push(readJsonLine(line, content));
  };
  for await (const text of readText(source)) {
    const lines = (rest + text).split("\n");
    rest = lines.pop() ?? "";
    for (const content of lines) {
      take(content);
      if (batch.length < batchLines) continue;
      yield batch;
      batch = [];
    }
  }
  if (rest !== "") take(rest);
  if (batch.length > 0) yield batch;
}

/** Opens an outlet log, CSV or JSON Lines, told apart by its first character. Throws `Trouble` when it is neither. */
export async function openLog(source: ByteSource): Promise<LogFile> {
  const { start, whole } = await peek(source);
  const isJson = start
    .replace(/^\uFEFF/, "")
    .trimStart()
    .startsWith("{");
  return isJson ? { header: "jsonl", batches: jsonBatches(whole) } : openCsvLog(whole);
}
