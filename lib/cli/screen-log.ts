import { openLog } from "@/lib/registry/log-lines";
import { type LogRow, makeLogRowReader } from "@/lib/watch/log-rows";
import type { Reading } from "@/lib/watch/reading";
import { PlainCsvLog } from "./plain-csv-log";
import { openInput } from "./screen-plan";

/** Zone of an outlet's site; null when it has none, undefined when the outlet is unknown. */
export type ZoneOfOutlet = (outlet: string) => string | null | undefined;

/** What became of the log's rows besides what the screening counts. */
export interface LogAccount {
  /** Rows in the repeated hour of a clock change. */
  repeatedHour: number;
  /** Rows with a time, and the span of their times, ms. */
  rows: number;
  firstMs: number;
  lastMs: number;
}

/** What takes the rows of a log: a screening, or something in front of one. */
export interface RowSink {
  take(reading: Reading): void;
  takeSetAside(reason: string): void;
}

type Bytes = AsyncIterable<Uint8Array>;

function noted(sink: RowSink, account: LogAccount): (reading: Reading) => void {
  return (reading) => {
    const { atMs } = reading;
    account.rows++;
    if (atMs < account.firstMs) account.firstMs = atMs;
    if (atMs > account.lastMs) account.lastMs = atMs;
    sink.take(reading);
  };
}

function taker(sink: RowSink, account: LogAccount): (row: LogRow) => void {
  const take = noted(sink, account);
  return (row) => {
    if ("setAside" in row) {
      sink.takeSetAside(row.reason);
      return;
    }
    if (row.ambiguousHour) account.repeatedHour++;
    take(row.reading);
  };
}

/** The usual way of any log, CSV of any make or JSON lines. */
async function takeAny(source: Bytes, sink: RowSink, zoneOf: ZoneOfOutlet, account: LogAccount): Promise<void> {
  const file = await openLog(source);
  const read = makeLogRowReader(file.header, zoneOf);
  const take = taker(sink, account);
  for await (const batch of file.batches) {
    for (const { row, problem } of batch) {
      if (problem !== null) sink.takeSetAside("unparsable");
      else take(read(row));
    }
  }
}

async function* chain(first: readonly Uint8Array[], rest: AsyncIterator<Uint8Array>): AsyncGenerator<Uint8Array> {
  yield* first;
  for (let next = await rest.next(); next.done !== true; next = await rest.next()) yield next.value;
}

/**
 * Feeds a log, CSV or JSON lines, to a screening or its like; never more of it in memory than a piece. Plain CSV is read from its bytes;
 * what is not plain goes the usual way, from wherever it begins.
 */
export async function takeLogBytes(source: Bytes, sink: RowSink, zoneOf: ZoneOfOutlet): Promise<LogAccount> {
  const account: LogAccount = { repeatedHour: 0, rows: 0, firstMs: Number.POSITIVE_INFINITY, lastMs: Number.NEGATIVE_INFINITY };
  const pieces = source[Symbol.asyncIterator]();
  const first = await pieces.next();
  const head = first.done === true ? new Uint8Array(0) : first.value;
  const plain = PlainCsvLog.open(head, zoneOf, {
    take: noted(sink, account),
    takeRow: taker(sink, account),
    takeBroken: () => sink.takeSetAside("unparsable"),
  });
  if (plain === null) {
    await takeAny(chain([head], pieces), sink, zoneOf, account);
    return account;
  }
  for (let next = await pieces.next(); next.done !== true && plain.goesOn; next = await pieces.next()) plain.feed(next.value);
  const left = plain.finish();
  if (left !== null) await takeAny(chain(left, pieces), sink, zoneOf, account);
  return account;
}

/** Feeds the log of a path, `-` for standard input; see `takeLogBytes`. */
export function takeLog(path: string, sink: RowSink, zoneOf: ZoneOfOutlet): Promise<LogAccount> {
  return takeLogBytes(openInput(path), sink, zoneOf);
}
