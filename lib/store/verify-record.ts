import type { Db } from "./client";
import { entryHash, firstLink } from "./record";

export interface RecordVerdict {
  readonly entries: number;
  /** The first entry that does not fit, and how; null when the chain is whole. */
  readonly broken: { readonly number: number; readonly why: string } | null;
  /** The hash of the last entry: written down elsewhere, it proves later that nothing was cut off the end. */
  readonly lastHash: string;
}

const chunk = 1000;

/** Reads an organisation's whole record in order and recomputes every hash; finds what was changed, removed or put in between. */
export async function verifyRecord(db: Db, organisationId: string): Promise<RecordVerdict> {
  let number = 0;
  let lastHash = firstLink;
  for (;;) {
    const rows = await db.recordEntry.findMany({
      where: { organisationId, number: { gt: number } },
      orderBy: { number: "asc" },
      take: chunk,
    });
    for (const row of rows) {
      if (row.number !== number + 1) return { entries: number, lastHash, broken: { number: number + 1, why: "this entry is missing" } };
      if (row.previousHash !== lastHash)
        return { entries: number, lastHash, broken: { number: row.number, why: "it does not follow the entry before it" } };
      const content = { ...row, before: row.before ?? undefined, after: row.after ?? undefined };
      if (entryHash(row.number, content, lastHash) !== row.hash) {
        return { entries: number, lastHash, broken: { number: row.number, why: "its content was changed after it was written" } };
      }
      number = row.number;
      lastHash = row.hash;
    }
    if (rows.length < chunk) return { entries: number, lastHash, broken: null };
  }
}
