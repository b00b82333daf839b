import type { Db } from "@/lib/store/client";
import { type ArrivedPart, type KeptReading, openKeptPart, partsSince } from "@/lib/store/kept-log-queries";

/** Rows taken in one step: one transaction. */
const rowsAtOnce = 20_000;
const partsAtOnce = 200;

/** What came in after a position, as much as one transaction takes; `last` is the position after it. */
export interface FollowStep {
  readonly parts: readonly { readonly part: ArrivedPart; readonly rows: readonly KeptReading[] }[];
  readonly last: number;
}

/** Reads what came in at a site after a position; null when nothing did. */
export async function readStep(db: Db, siteId: string, position: number): Promise<FollowStep | null> {
  const parts: { part: ArrivedPart; rows: KeptReading[] }[] = [];
  let rows = 0;
  for (const part of await partsSince(db, siteId, position, partsAtOnce)) {
    if (parts.length > 0 && rows + part.rows > rowsAtOnce) break;
    parts.push({ part, rows: await openKeptPart(db, part.id) });
    rows += part.rows;
  }
  const last = parts.at(-1)?.part.arrival;
  return last === undefined ? null : { parts, last };
}
