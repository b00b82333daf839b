import type { Store } from "@/lib/store/client";
import { advanceJob, claimJob, endJob, isCancelAsked, type Job } from "@/lib/store/job-queries";

/** What the work of a job is given: the job, the clock, and ways to say how far it is and to ask whether to stop. */
export interface JobHandle {
  readonly job: Job;
  readonly clock: () => Date;
  /** Notes progress and keeps the claim alive; throws `ClaimLost` when another worker has taken over. */
  readonly advance: (done: number, total: number | null) => Promise<void>;
  readonly isCancelled: () => Promise<boolean>;
}

/** The work of one kind of job; returns the sentence to keep, and whether it was cut short on request. */
export type JobWork = (db: Store, handle: JobHandle) => Promise<{ readonly message: string | null; readonly cancelled?: boolean }>;

/** Queues what its plan makes due by now; of many workers that ask at once, one queues each thing. */
export type Schedule = (db: Store, at: Date) => Promise<void>;

/** Another worker holds the job now, because this one gave no sign of life for the length of its lease. */
export class ClaimLost extends Error {
  override readonly name = "ClaimLost";
}

/** How long a claim lasts without a sign of life. */
const leaseMs = 60_000;
/** A job that took its process down this often is not tried again. */
const mostAttempts = 3;

function handleOf(db: Store, job: Job, clock: () => Date): JobHandle {
  return {
    job,
    clock,
    isCancelled: () => isCancelAsked(db, job.id),
    advance: async (done, total) => {
      const leaseUntil = new Date(clock().getTime() + leaseMs);
      if (!(await advanceJob(db, job, { leaseUntil, done, total }))) throw new ClaimLost(`Job ${job.id} was taken over.`);
    },
  };
}

/** Claims and does the next due job. Returns its id, or null when none was due. A job that fails keeps the sentence of its error. */
export async function runNextJob(db: Store, works: Readonly<Record<string, JobWork>>, clock: () => Date): Promise<string | null> {
  const at = clock();
  const job = await claimJob(db, at, new Date(at.getTime() + leaseMs));
  if (!job) return null;
  const fail = (message: string) => endJob(db, job, { state: "failed", message, finishedAt: clock() });
  const work = works[job.kind];
  if (!work) await fail(`Nothing here knows how to do "${job.kind}".`);
  else if (job.attempts > mostAttempts) await fail(`Given up: it was begun ${mostAttempts} times and never came to its end.`);
  else {
    try {
      const { message, cancelled } = await work(db, handleOf(db, job, clock));
      await endJob(db, job, { state: cancelled ? "cancelled" : "done", message, finishedAt: clock() });
    } catch (error) {
      if (!(error instanceof ClaimLost)) await fail(error instanceof Error ? error.message : String(error));
    }
  }
  return job.id;
}

function sayTrouble(error: unknown): void {
  process.stderr.write(`The worker could not look for jobs: ${error instanceof Error ? error.message : String(error)}\n`);
}

/** One worker of a process: does due jobs one after the other, and looks for new ones and what schedules make due from time to time and when it is woken. */
export class Worker {
  private timer: NodeJS.Timeout | null = null;
  private busy: Promise<void> | null = null;
  private again = false;
  private stopping = false;

  constructor(
    private readonly db: Store,
    private readonly works: Readonly<Record<string, JobWork>>,
    private readonly options: { readonly clock: () => Date; readonly everyMs: number; readonly schedules?: readonly Schedule[] },
  ) {}

  start(): void {
    if (this.timer) return;
    this.timer = setInterval(() => this.look(), this.options.everyMs);
    this.timer.unref();
    this.look();
  }

  /** A database that does not answer now may answer at the next look, so that is no reason to end. */
  private look(): void {
    this.wake().catch(sayTrouble);
  }

  /** Does what is due now; resolves when nothing is left. */
  wake(): Promise<void> {
    this.again = true;
    this.busy ??= this.drain().finally(() => {
      this.busy = null;
    });
    return this.busy;
  }

  /** Ends after the job in hand; what is left waits for another worker. */
  async stop(): Promise<void> {
    this.stopping = true;
    if (this.timer) clearInterval(this.timer);
    this.timer = null;
    await this.busy?.catch(() => {});
  }

  private async drain(): Promise<void> {
    while (this.again && !this.stopping) {
      this.again = false;
      for (const schedule of this.options.schedules ?? []) await schedule(this.db, this.options.clock()).catch(sayTrouble);
      while (!this.stopping && (await runNextJob(this.db, this.works, this.options.clock)) !== null);
    }
  }
}
