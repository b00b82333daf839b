import type { Store } from "@/lib/store/client";

/** Something that the worker command keeps running until it is told to end. */
export interface Service {
  /** What it does, as the command says it: "jobs and schedules". */
  readonly name: string;
  /** Ends what is in hand cleanly; resolves when nothing of it runs any more. */
  readonly stop: () => Promise<void>;
}

/** Starts a service; it is asked to stop before the database is closed. */
export type StartService = (db: Store) => Promise<Service>;
