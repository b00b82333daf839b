import type { Correction } from "@/lib/notices/correction";
import type { Coverage } from "@/lib/notices/coverage";
import type { Db } from "./client";
import type { Prisma } from "./generated/sqlite/client";

export interface NewCorrection {
  readonly id: string;
  readonly organisationId: string;
  readonly noticeId: string;
  readonly correction: Correction;
  readonly statementKey: string;
  readonly reason: string;
  readonly noticeHash: string;
  readonly byUserId: string | null;
  readonly at: Date;
}

export async function insertCorrection(tx: Db, { correction, ...rest }: NewCorrection): Promise<void> {
  const { act, statement, passage } = correction;
  const json = {
    ...(statement === null ? {} : { statement: statement as unknown as Prisma.InputJsonObject }),
    ...(passage === null ? {} : { passage: passage as unknown as Prisma.InputJsonObject }),
  };
  await tx.coverageCorrection.create({ data: { act, ...json, ...rest } });
}

function toCorrection<Row extends { act: string; statement: unknown; passage: unknown }>(row: Row) {
  const { act, statement, passage } = row;
  return { ...row, correction: { act, statement, passage } as unknown as Correction };
}

/** The corrections of a notice that stand, or all with those withdrawn, the oldest first. */
export async function findCorrections(db: Db, organisationId: string, noticeId: string, { withdrawn = false } = {}) {
  const rows = await db.coverageCorrection.findMany({
    where: { organisationId, noticeId, ...(withdrawn ? {} : { withdrawnAt: null }) },
    orderBy: [{ at: "asc" }, { id: "asc" }],
  });
  return rows.map(toCorrection);
}

export type StoredCorrection = Awaited<ReturnType<typeof findCorrections>>[number];

/** The standing corrections by notice, of some notices or of all. */
export async function findStandingCorrections(
  db: Db,
  organisationId: string,
  noticeIds?: readonly string[],
): Promise<ReadonlyMap<string, readonly Correction[]>> {
  const rows = await db.coverageCorrection.findMany({
    where: { organisationId, withdrawnAt: null, ...(noticeIds ? { noticeId: { in: [...noticeIds] } } : {}) },
    orderBy: [{ at: "asc" }, { id: "asc" }],
  });
  const byNotice = new Map<string, Correction[]>();
  for (const row of rows) byNotice.set(row.noticeId, [...(byNotice.get(row.noticeId) ?? []), toCorrection(row).correction]);
  return byNotice;
}

export async function withdrawStoredCorrection(
  tx: Db,
  id: string,
  by: { readonly userId: string | null; readonly at: Date; readonly why: string },
): Promise<void> {
  await tx.coverageCorrection.update({
    where: { id },
    data: { withdrawnAt: by.at, withdrawnByUserId: by.userId, withdrawnWhy: by.why },
  });
}

/** Our own readings of some corrected notices. */
export async function findReadings(db: Db, noticeIds: readonly string[]): Promise<ReadonlyMap<string, Coverage>> {
  const rows = await db.notice.findMany({ where: { id: { in: [...noticeIds] } }, select: { id: true, reading: true, coverage: true } });
  return new Map(rows.map(({ id, reading, coverage }) => [id, (reading ?? coverage) as unknown as Coverage]));
}

/** Keeps the coverage that decisions are about to rest on; the same one once. */
export async function keepCoverage(tx: Db, row: { noticeId: string; coverageHash: string; coverage: Coverage; at: Date }): Promise<void> {
  const { noticeId, coverageHash, coverage, at } = row;
  await tx.coverageVersion.upsert({
    where: { noticeId_coverageHash: { noticeId, coverageHash } },
    create: { noticeId, coverageHash, coverage: coverage as unknown as Prisma.InputJsonObject, keptAt: at },
    update: {},
  });
}

/** A coverage that a decision rested on, or null. */
export async function findCoverageVersion(db: Db, noticeId: string, coverageHash: string): Promise<Coverage | null> {
  const row = await db.coverageVersion.findUnique({ where: { noticeId_coverageHash: { noticeId, coverageHash } } });
  return row === null ? null : (row.coverage as unknown as Coverage);
}
