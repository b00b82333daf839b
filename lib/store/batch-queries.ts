import { bulkInsert } from "./bulk";
import type { Db } from "./client";
import type { ArrivalDay } from "./generated/sqlite/client";

export type { ArrivalDay };

/** A batch that was answered before. */
export interface AnsweredBatch {
  readonly source: string;
  readonly batchId: string;
  readonly bodyHash: string;
  readonly answer: unknown;
}

/** The answers given to these batches of these sources before. */
export function findAnswers(db: Db, batches: readonly { readonly source: string; readonly batchId: string }[]): Promise<AnsweredBatch[]> {
  if (batches.length === 0) return Promise.resolve([]);
  return db.readingBatch.findMany({
    where: {
      source: { in: [...new Set(batches.map(({ source }) => source))] },
      batchId: { in: [...new Set(batches.map(({ batchId }) => batchId))] },
    },
    select: { source: true, batchId: true, bodyHash: true, answer: true },
  });
}

const text = (name: string) => ({ name, type: "text" }) as const;
const instant = (name: string) => ({ name, type: "timestamp" }) as const;
const integer = (name: string) => ({ name, type: "integer" }) as const;

export async function insertAnswers(
  tx: Db,
  batches: readonly (AnsweredBatch & { readonly siteId: string; readonly answer: object; readonly at: Date })[],
): Promise<void> {
  await bulkInsert(tx, {
    table: "ReadingBatch",
    columns: [...["source", "batchId", "siteId", "bodyHash"].map(text), { name: "answer", type: "json" }, instant("at")],
    rows: batches.map(({ source, batchId, siteId, bodyHash, answer, at }) => [source, batchId, siteId, bodyHash, answer, at]),
  });
}

/** Forgets the answers given before an instant. Returns how many there were. */
export async function forgetAnswers(tx: Db, before: Date): Promise<number> {
  return (await tx.readingBatch.deleteMany({ where: { at: { lt: before } } })).count;
}

export type ArrivalCount = Omit<ArrivalDay, "day"> & { readonly at: Date };

/** Adds to what sources sent on a day, with one statement; each source and day once. */
export async function countArrivals(tx: Db, counts: readonly ArrivalCount[]): Promise<void> {
  await bulkInsert(tx, {
    table: "ArrivalDay",
    columns: [
      ...["organisationId", "siteId", "source", "day"].map(text),
      ...["batches", "accepted", "repeated", "setAside"].map(integer),
      text("problem"),
      instant("problemAt"),
    ],
    rows: counts.map((count) => [
      count.organisationId,
      count.siteId,
      count.source,
      count.at.toISOString().slice(0, 10),
      count.batches,
      count.accepted,
      count.repeated,
      count.setAside,
      count.problem,
      count.problemAt,
    ]),
    onConflict: {
      key: ["siteId", "source", "day"],
      add: ["batches", "accepted", "repeated", "setAside"],
      replaceKnown: ["problem", "problemAt"],
    },
  });
}

/** What came in from a day on, newest day first. */
export function findArrivalDays(
  db: Db,
  where: { readonly organisationId: string; readonly siteIds: readonly string[] | null; readonly fromDay: string },
): Promise<ArrivalDay[]> {
  const { organisationId, siteIds, fromDay } = where;
  return db.arrivalDay.findMany({
    where: { organisationId, day: { gte: fromDay }, ...(siteIds === null ? {} : { siteId: { in: [...siteIds] } }) },
    orderBy: [{ day: "desc" }, { siteId: "asc" }, { source: "asc" }],
  });
}
