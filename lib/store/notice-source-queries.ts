import type { Db, Store } from "./client";
import type { ListCheckOutcome, NoticeSource, NoticeSourceCheck, Prisma } from "./generated/sqlite/client";
import { newId } from "./ids";
import { queueJob } from "./job-queries";

export type { ListCheckOutcome, NoticeSource, NoticeSourceCheck };

export type NewSource = Pick<NoticeSource, "id" | "organisationId" | "name" | "url" | "everyHours" | "nextDueAt" | "createdAt">;

export async function insertSource(tx: Db, source: NewSource): Promise<void> {
  await tx.noticeSource.create({ data: source });
}

export async function updateSource(tx: Db, id: string, change: Prisma.NoticeSourceUncheckedUpdateInput): Promise<void> {
  await tx.noticeSource.update({ where: { id }, data: change });
}

export function findSource(db: Db, organisationId: string, id: string): Promise<NoticeSource | null> {
  return db.noticeSource.findFirst({ where: { id, organisationId, removedAt: null } });
}

export function findSources(db: Db, organisationId: string): Promise<NoticeSource[]> {
  return db.noticeSource.findMany({ where: { organisationId, removedAt: null }, orderBy: [{ name: "asc" }, { id: "asc" }] });
}

/** Another source of the organisation with the same address. */
export function findSourceAt(db: Db, organisationId: string, url: string): Promise<NoticeSource | null> {
  return db.noticeSource.findFirst({ where: { organisationId, url, removedAt: null } });
}

/** The checks of an organisation's lists, or of one of them, the latest first. */
export function findChecks(
  db: Db,
  organisationId: string,
  page: { readonly sourceId?: string; readonly skip: number; readonly take: number },
) {
  const { sourceId, ...part } = page;
  return db.noticeSourceCheck.findMany({
    where: { organisationId, ...(sourceId === undefined ? {} : { sourceId }) },
    include: { source: { select: { name: true, url: true, removedAt: true } } },
    orderBy: [{ at: "desc" }, { id: "desc" }],
    ...part,
  });
}

export function countChecks(db: Db, organisationId: string, sourceId?: string): Promise<number> {
  return db.noticeSourceCheck.count({ where: { organisationId, ...(sourceId === undefined ? {} : { sourceId }) } });
}

export function findCheck(db: Db, organisationId: string, id: string): Promise<NoticeSourceCheck | null> {
  return db.noticeSourceCheck.findFirst({ where: { id, organisationId } });
}

/** The addresses from which a source's lists were taken in. */
export async function findTakenAddresses(db: Db, sourceId: string): Promise<Set<string>> {
  const rows = await db.noticeSourceCheck.findMany({ where: { sourceId, outcome: "loaded" }, select: { answeredBy: true } });
  return new Set(rows.flatMap(({ answeredBy }) => (answeredBy === null ? [] : [answeredBy])));
}

export type NewCheck = Omit<NoticeSourceCheck, "decidedAt" | "decidedBy" | "takenIn">;

export async function insertCheck(tx: Db, check: NewCheck): Promise<void> {
  await tx.noticeSourceCheck.create({ data: check });
}

/** Notes what a person decided on a held list; false when someone decided before. The kept file is no longer named. */
export async function decideCheck(
  tx: Db,
  id: string,
  decision: { readonly decidedAt: Date; readonly decidedBy: string; readonly takenIn: boolean; readonly importRunId?: string },
): Promise<boolean> {
  const { count } = await tx.noticeSourceCheck.updateMany({ where: { id, decidedAt: null }, data: { ...decision, upload: null } });
  return count === 1;
}

/** The sources that are due and switched on, of all organisations. */
export function findDueSources(db: Db, at: Date): Promise<NoticeSource[]> {
  return db.noticeSource.findMany({
    where: { isOn: true, removedAt: null, nextDueAt: { lte: at } },
    orderBy: [{ nextDueAt: "asc" }],
    take: 100,
  });
}

const hourMs = 3_600_000;

export interface SourceJob {
  readonly kind: string;
  readonly at: Date;
  readonly byUserId: string | null;
  /** What the job is told beside the source. */
  readonly payload?: object;
}

/**
 * Makes work on a source a job, once: of several workers that see it due, the one whose update still finds it as it was seen gets
 * it. A source whose last job is still waiting or running is left alone. Returns whether a job was queued.
 */
export function claimSource(db: Store, seen: NoticeSource, { kind, at, byUserId, payload = {} }: SourceJob): Promise<boolean> {
  return db.$transaction(async (tx) => {
    const last = seen.jobId === null ? null : await tx.job.findUnique({ where: { id: seen.jobId }, select: { state: true } });
    if (last?.state === "waiting" || last?.state === "running") return false;
    const jobId = newId();
    const { count } = await tx.noticeSource.updateMany({
      where: { id: seen.id, jobId: seen.jobId, nextDueAt: seen.nextDueAt, removedAt: null },
      data: { jobId, nextDueAt: new Date(at.getTime() + seen.everyHours * hourMs) },
    });
    if (count === 0) return false;
    await queueJob(tx, { id: jobId, organisationId: seen.organisationId, kind, payload: { ...payload, sourceId: seen.id }, byUserId, at });
    return true;
  });
}

/** The jobs that some sources' work is or was. */
export async function findSourceJobs(db: Db, sources: readonly Pick<NoticeSource, "jobId">[]) {
  const ids = sources.flatMap(({ jobId }) => (jobId === null ? [] : [jobId]));
  const jobs = await db.job.findMany({ where: { id: { in: ids } }, select: { id: true, state: true, message: true } });
  return new Map(jobs.map((job) => [job.id, job]));
}
