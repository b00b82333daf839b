import type { Db } from "./client";
import type { Job, JobState } from "./generated/sqlite/client";

export type { Job, JobState };

export interface NewJob {
  readonly id: string;
  readonly organisationId: string;
  readonly kind: string;
  readonly payload: object;
  readonly byUserId: string | null;
  readonly at: Date;
}

/** Queues a job; one that was there under the same id and has ended is queued again. */
export async function queueJob(db: Db, { id, at, ...rest }: NewJob): Promise<void> {
  const waiting = waitingSince(at);
  await db.job.upsert({ where: { id }, create: { id, ...rest, ...waiting, createdAt: at }, update: { ...rest, ...waiting } });
}

function waitingSince(at: Date) {
  return {
    state: "waiting" as const,
    runAfter: at,
    done: 0,
    total: null,
    message: null,
    cancelAsked: false,
    attempts: 0,
    startedAt: null,
    leaseUntil: null,
    finishedAt: null,
  };
}

/** Queues a job unless one of the same id waits or runs: of several who ask at once, one queues it, and the others get that one. */
export async function queueJobOnce(db: Db, { id, at, ...rest }: NewJob): Promise<void> {
  const waiting = waitingSince(at);
  const again = { where: { id, state: { in: ["done", "failed", "cancelled"] satisfies JobState[] } }, data: { ...rest, ...waiting } };
  if ((await db.job.updateMany(again)).count > 0 || (await db.job.findUnique({ where: { id }, select: { id: true } }))) return;
  await db.job.create({ data: { id, ...rest, ...waiting, createdAt: at } }).catch(async (error: unknown) => {
    if (!(await db.job.findUnique({ where: { id }, select: { id: true } }))) throw error;
  });
}

/** The next job that is due: waiting, or running at a worker whose lease has run out. */
function findDue(db: Db, at: Date) {
  return db.job.findFirst({
    where: {
      OR: [
        { state: "waiting", runAfter: { lte: at } },
        { state: "running", leaseUntil: { lt: at } },
      ],
    },
    orderBy: [{ runAfter: "asc" }, { id: "asc" }],
  });
}

/**
 * Claims the next due job until `leaseUntil`; null when none is due. Of several workers only one gets it: the update names the
 * state and lease that were seen.
 */
export async function claimJob(db: Db, at: Date, leaseUntil: Date): Promise<Job | null> {
  for (;;) {
    const due = await findDue(db, at);
    if (!due) return null;
    const { count } = await db.job.updateMany({
      where: { id: due.id, state: due.state, leaseUntil: due.leaseUntil, attempts: due.attempts },
      data: { state: "running", leaseUntil, attempts: due.attempts + 1, startedAt: due.startedAt ?? at },
    });
    if (count === 1) return { ...due, state: "running", leaseUntil, attempts: due.attempts + 1 };
  }
}

/** Lengthens the lease with how far the job is. False when the claim of this attempt is lost, true when it goes on. */
export async function advanceJob(
  db: Db,
  job: Pick<Job, "id" | "attempts">,
  change: { readonly leaseUntil: Date; readonly done?: number; readonly total?: number | null },
): Promise<boolean> {
  const { count } = await db.job.updateMany({ where: { id: job.id, state: "running", attempts: job.attempts }, data: change });
  return count === 1;
}

export async function endJob(
  db: Db,
  job: Pick<Job, "id" | "attempts">,
  end: { readonly state: JobState; readonly message: string | null; readonly finishedAt: Date },
): Promise<void> {
  await db.job.updateMany({ where: { id: job.id, state: "running", attempts: job.attempts }, data: { ...end, leaseUntil: null } });
}

/** Asks a job to stop: one that waits is cancelled at once, a running one at its next step. */
export async function askCancel(db: Db, organisationId: string, id: string, at: Date): Promise<void> {
  await db.job.updateMany({
    where: { id, organisationId, state: "waiting" },
    data: { state: "cancelled", cancelAsked: true, finishedAt: at },
  });
  await db.job.updateMany({ where: { id, organisationId, state: "running" }, data: { cancelAsked: true } });
}

export function findJob(db: Db, organisationId: string, id: string): Promise<Job | null> {
  return db.job.findFirst({ where: { id, organisationId } });
}

/** Jobs of a kind whose ids begin alike, the latest queued first. */
export function findJobsLike(
  db: Db,
  { organisationId, kind, start }: { organisationId: string; kind: string; start: string },
): Promise<Job[]> {
  return db.job.findMany({ where: { organisationId, kind, id: { startsWith: start } }, orderBy: [{ runAfter: "desc" }, { id: "asc" }] });
}

export async function isCancelAsked(db: Db, id: string): Promise<boolean> {
  return (await db.job.findFirst({ where: { id }, select: { cancelAsked: true } }))?.cancelAsked ?? false;
}
