import { hostname } from "node:os";
import type { Db } from "@/lib/store/client";
import { findRunning, type RunChoices, type StoredRun, updateRun } from "@/lib/store/import-queries";

/** Where this process runs, as a run keeps it. */
export const thisProcess = { host: hostname(), pid: process.pid };

/** A run of another machine, or of an unknown process, counts as dead when it gave no sign of life for this long. */
const silenceMs = 5 * 60_000;
/** On our own machine the system says whether the process is there; a number may be taken again, so silence counts too, if longer. */
const silenceOfLivingMs = 60 * 60_000;

/** Whether a process of this machine is there. */
export function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === "EPERM";
  }
}

/** Whether the process behind a running run has died. */
export function isBrokenOff(run: Pick<StoredRun, "state" | "choices" | "heartbeatAt">, now: Date): boolean {
  if (run.state !== "running") return false;
  const silence = now.getTime() - run.heartbeatAt.getTime();
  const where = (run.choices as RunChoices | null)?.process;
  if (where?.host !== thisProcess.host) return silence > silenceMs;
  return isAlive(where.pid) ? silence > silenceOfLivingMs : true;
}

/** What a run that was cut off says of itself. */
export function brokenOffMessage(run: { readonly rowsRead: number; readonly created: number; readonly updated: number }): string {
  return `Broken off after ${run.rowsRead} rows: the program was ended before the file was. ${run.created} created and ${run.updated} updated so far stay. Bring the same file in again to finish; nothing comes in twice.`;
}

/** Marks the organisation's runs whose process has died as broken off, with how far they came. Returns how many it found. */
export async function markBrokenOff(db: Db, organisationId: string, now: Date): Promise<number> {
  const dead = (await findRunning(db, organisationId)).filter((run) => isBrokenOff(run, now));
  for (const run of dead) {
    await updateRun(db, run.id, run.heartbeatAt, { state: "broken_off", message: brokenOffMessage(run), finishedAt: now });
  }
  return dead.length;
}
