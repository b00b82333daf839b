import { openCsvFile } from "@/lib/registry/csv-source";
import { readText } from "@/lib/registry/csv-text";
import { type LogRow, makeLogRowReader } from "@/lib/watch/log-rows";
import type { Screening } from "@/lib/watch/screening";
import { openInput } from "./screen-plan";

/** Zone of an outlet's site; null when it has none, undefined when the outlet is unknown. */
export type ZoneOfOutlet = (outlet: string) => string | null | undefined;

/** What became of the log's rows besides what the screening counts. */
export interface LogAccount {
  /** Rows in the repeated hour of a clock change. */
  repeatedHour: number;
}

function taker(screening: Screening, account: LogAccount): (row: LogRow) => void {
  return (row) => {
    if ("setAside" in row) {
      screening.takeSetAside(row.reason);
      return;
    }
    if (row.ambiguousHour) account.repeatedHour++;
    screening.take(row.reading);
  };
}

async function* withHead(head: Uint8Array, rest: AsyncIterator<Uint8Array>): AsyncGenerator<Uint8Array> {
  yield head;
  for (let next = await rest.next(); next.done !== true; next = await rest.next()) yield next.value;
}

/** JSON lines begin with a brace; anything else is CSV. */
function isJsonLines(head: Uint8Array): boolean {
  return /^\uFEFF?\s*\{/.test(Buffer.from(head.subarray(0, 1024)).toString("utf8"));
}

async function takeJsonLines(
  source: AsyncIterable<Uint8Array>,
  screening: Screening,
  zoneOf: ZoneOfOutlet,
  account: LogAccount,
): Promise<void> {
  const read = makeLogRowReader("jsonl", zoneOf);
  const take = taker(screening, account);
  const takeLine = (line: string) => {
    if (line.trim() === "") return;
    try {
      const row: unknown = JSON.parse(line);
      if (typeof row === "object" && row !== null && !Array.isArray(row)) take(read(row as Record<string, unknown>));
      else screening.takeSetAside("unparsable");
    } catch {
      screening.takeSetAside("unparsable");
    }
  };
  let held = "";
  for await (const piece of readText(source)) {
    const lines = (held + piece).split("\n");
    held = lines.pop() ?? "";
    for (const line of lines) takeLine(line);
  }
  takeLine(held);
}

async function takeCsv(source: AsyncIterable<Uint8Array>, screening: Screening, zoneOf: ZoneOfOutlet, account: LogAccount): Promise<void> {
  const file = await openCsvFile(source);
  const read = makeLogRowReader(file.headers, zoneOf);
  const take = taker(screening, account);
  for await (const batch of file.batches) {
    for (const { cells, problem } of batch) {
      if (problem !== null) screening.takeSetAside("unparsable");
      else take(read(cells));
    }
  }
}

/** Feeds a log file, CSV or JSON lines, to a screening; never more of it in memory than a piece. */
export async function takeLog(path: string, screening: Screening, zoneOf: ZoneOfOutlet): Promise<LogAccount> {
  const account: LogAccount = { repeatedHour: 0 };
  const pieces = openInput(path)[Symbol.asyncIterator]() as AsyncIterator<Uint8Array>;
  const first = await pieces.next();
  const head = first.done === true ? new Uint8Array(0) : first.value;
  const source = withHead(head, pieces);
  await (isJsonLines(head) ? takeJsonLines : takeCsv)(source, screening, zoneOf, account);
  return account;
}
