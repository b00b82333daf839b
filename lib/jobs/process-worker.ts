import type { Store } from "@/lib/store/client";
import { importJob, importJobKind } from "./import-job";
import { Worker } from "./worker";

const shared = globalThis as typeof globalThis & { platewardenWorker?: Worker };

/**
 * The process's one worker, started at the first call. It takes up jobs that a process before it left unfinished as soon as
 * their lease has run out.
 */
export function processWorker(db: Store): Worker {
  if (!shared.platewardenWorker) {
    shared.platewardenWorker = new Worker(db, { [importJobKind]: importJob }, { clock: () => new Date(), everyMs: 5_000 });
    shared.platewardenWorker.start();
  }
  return shared.platewardenWorker;
}
