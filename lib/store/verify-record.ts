import type { Db } from "./client";
import { entryHash, entryLine, firstLink } from "./record";
import { headProblem, type RecordHead } from "./record-head";
import type { RecordEntry } from "./rows";

export interface RecordVerdict {
  readonly entries: number;
  /** The first entry that does not fit, and how; null when the chain is whole. */
  readonly broken: { readonly number: number; readonly why: string } | null;
  /** The hash of the last entry that fits. */
  readonly lastHash: string;
}

const chunk = 1000;

async function* entriesOf(db: Db, organisationId: string): AsyncGenerator<RecordEntry> {
  let after = 0;
  for (;;) {
    const rows = await db.recordEntry.findMany({
      where: { organisationId, number: { gt: after } },
      orderBy: { number: "asc" },
      take: chunk,
    });
    yield* rows;
    const last = rows.at(-1);
    if (!last || rows.length < chunk) return;
    after = last.number;
  }
}

/** Why this row cannot be the next entry of the chain; null when it is. */
function problemOf(row: RecordEntry, number: number, lastHash: string): string | null {
  if (row.number !== number) return "this entry is missing";
  if (row.previousHash !== lastHash) return "it does not follow the entry before it";
  return entryHash(row.number, row, lastHash) === row.hash ? null : "its content was changed after it was written";
}

/**
 * Reads an organisation's whole record in order and recomputes every hash; finds what was changed, removed or put in between. A
 * head written down earlier finds what the hashes alone cannot: an end cut off, and a record rewritten with new hashes.
 */
export async function verifyRecord(db: Db, organisationId: string, head?: RecordHead | null): Promise<RecordVerdict> {
  let number = 0;
  let lastHash = firstLink;
  let hashAtHead = firstLink;
  for await (const row of entriesOf(db, organisationId)) {
    const why = problemOf(row, number + 1, lastHash);
    if (why !== null) return { entries: number, lastHash, broken: { number: number + 1, why } };
    number = row.number;
    lastHash = row.hash;
    if (number === head?.number) hashAtHead = row.hash;
  }
  return { entries: number, lastHash, broken: head ? headProblem(head, number, hashAtHead) : null };
}

/**
 * The record as JSON Lines, oldest entry first, each line exactly the text that its hash was taken over. So the SHA-256 of a line
 * (without its line end) is the `previousHash` of the next, and that of the last line is the head: any SHA-256 program can verify it.
 */
export async function* recordLines(db: Db, organisationId: string): AsyncGenerator<string> {
  for await (const row of entriesOf(db, organisationId)) yield `${entryLine(row.number, row, row.previousHash)}\n`;
}
