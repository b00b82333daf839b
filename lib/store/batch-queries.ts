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

export async function insertAnswers(
  tx: Db,
  batches: readonly (AnsweredBatch & { readonly siteId: string; readonly answer: object; readonly at: Date })[],
): Promise<void> {
  for (const batch of batches) await tx.readingBatch.create({ data: batch });
}

/** Forgets the answers given before an instant. Returns how many there were. */
export async function forgetAnswers(tx: Db, before: Date): Promise<number> {
  return (await tx.readingBatch.deleteMany({ where: { at: { lt: before } } })).count;
}

export type ArrivalCount = Omit<ArrivalDay, "day"> & { readonly at: Date };

/** Adds to what a source sent on a day. */
export async function countArrival(tx: Db, { at, problem, problemAt, ...count }: ArrivalCount): Promise<void> {
  const { organisationId, siteId, source, batches, accepted, repeated, setAside } = count;
  const day = at.toISOString().slice(0, 10);
  const latest = problem === null ? {} : { problem, problemAt };
  await tx.arrivalDay.upsert({
    where: { siteId_source_day: { siteId, source, day } },
    create: { organisationId, siteId, source, day, batches, accepted, repeated, setAside, problem, problemAt },
    update: {
      batches: { increment: batches },
      accepted: { increment: accepted },
      repeated: { increment: repeated },
      setAside: { increment: setAside },
      ...latest,
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
