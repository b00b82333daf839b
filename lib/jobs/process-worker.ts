import type { Store } from "@/lib/store/client";
import { jobWorks, schedules } from "./job-works";
import { Worker } from "./worker";

const shared = globalThis as typeof globalThis & { platewardenWorker?: Worker };

/** How often a worker looks for work that nobody woke it for. */
const everyMs = 5_000;

/** A worker that does every kind of job and keeps every schedule, started. Stop it before the database is closed. */
export function startWorker(db: Store): Worker {
  const worker = new Worker(db, jobWorks, { clock: () => new Date(), everyMs, schedules });
  worker.start();
  return worker;
}

/**
 * The process's one worker, started at the first call. It takes up jobs that a process before it left unfinished as soon as
 * their lease has run out.
 */
export function processWorker(db: Store): Worker {
  shared.platewardenWorker ??= startWorker(db);
  return shared.platewardenWorker;
}
