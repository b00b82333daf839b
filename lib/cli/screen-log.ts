import { openLog } from "@/lib/registry/log-lines";
import { type LogRow, makeLogRowReader } from "@/lib/watch/log-rows";
import type { Screening } from "@/lib/watch/screening";
import { PlainCsvLog } from "./plain-csv-log";
import { openInput } from "./screen-plan";

/** Zone of an outlet's site; null when it has none, undefined when the outlet is unknown. */
export type ZoneOfOutlet = (outlet: string) => string | null | undefined;

/** What became of the log's rows besides what the screening counts. */
export interface LogAccount {
  /** Rows in the repeated hour of a clock change. */
  repeatedHour: number;
}

type Bytes = AsyncIterable<Uint8Array>;

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

/** The usual way of any log, CSV of any make or JSON lines. */
async function takeAny(source: Bytes, screening: Screening, zoneOf: ZoneOfOutlet, account: LogAccount): Promise<void> {
  const file = await openLog(source);
  const read = makeLogRowReader(file.header, zoneOf);
  const take = taker(screening, account);
  for await (const batch of file.batches) {
    for (const { row, problem } of batch) {
      if (problem !== null) screening.takeSetAside("unparsable");
      else take(read(row));
    }
  }
}

async function* chain(first: readonly Uint8Array[], rest: AsyncIterator<Uint8Array>): AsyncGenerator<Uint8Array> {
  yield* first;
  for (let next = await rest.next(); next.done !== true; next = await rest.next()) yield next.value;
}

/**
 * Feeds a log, CSV or JSON lines, to a screening; never more of it in memory than a piece. Plain CSV is read from its bytes;
 * what is not plain goes the usual way, from wherever it begins.
 */
export async function takeLogBytes(source: Bytes, screening: Screening, zoneOf: ZoneOfOutlet): Promise<LogAccount> {
  const account: LogAccount = { repeatedHour: 0 };
  const pieces = source[Symbol.asyncIterator]();
  const first = await pieces.next();
  const head = first.done === true ? new Uint8Array(0) : first.value;
  const plain = PlainCsvLog.open(head, zoneOf, {
    take: (reading) => screening.take(reading),
    takeRow: taker(screening, account),
    takeBroken: () => screening.takeSetAside("unparsable"),
  });
  if (plain === null) {
    await takeAny(chain([head], pieces), screening, zoneOf, account);
    return account;
  }
  for (let next = await pieces.next(); next.done !== true && plain.goesOn; next = await pieces.next()) plain.feed(next.value);
  const left = plain.finish();
  if (left !== null) await takeAny(chain(left, pieces), screening, zoneOf, account);
  return account;
}

/** Feeds the log of a path, `-` for standard input; see `takeLogBytes`. */
export function takeLog(path: string, screening: Screening, zoneOf: ZoneOfOutlet): Promise<LogAccount> {
  return takeLogBytes(openInput(path), screening, zoneOf);
}
