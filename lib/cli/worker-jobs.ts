import { startWorker } from "@/lib/jobs/process-worker";
import type { StartService } from "./service";

/** Due jobs, one after the other, and the schedules that make them due. */
export const jobService: StartService = async (db) => {
  const worker = startWorker(db);
  return { name: "jobs and schedules", stop: () => worker.stop() };
};
