import type { Actor } from "@/lib/access/actor";
import { Trouble } from "@/lib/access/trouble";
import { loadNotices } from "@/lib/notices/notices.run";
import type { ImportAccount, ImportCounts } from "@/lib/registry/import-account";
import type { LabelMapping } from "@/lib/registry/label-row";
import { loadLabels } from "@/lib/registry/labels-import";
import type { PlaceMapping } from "@/lib/registry/place-row";
import { loadPlaces } from "@/lib/registry/places-import";
import type { Store } from "@/lib/store/client";
import { findRun, type RunChoices, type RunMapping, type StoredRun, updateRun } from "@/lib/store/import-queries";
import { loadLog } from "@/lib/watch/log.run";
import { actorOf } from "./job-actor";
import { openUpload, removeUpload } from "./uploads";
import type { JobHandle, JobWork } from "./worker";

/** The kind of job that brings an uploaded file in; its id is the run's. */
export const importJobKind = "import";

interface Given {
  readonly db: Store;
  readonly actor: Actor;
  readonly run: StoredRun;
  readonly handle: JobHandle;
  readonly upload: string;
}

type Ended = Pick<ImportAccount, "state" | "message">;

/** The input that every loader takes. Stopping is asked for between chunks, at the pace that progress is told. */
function inputOf({ run, handle, upload }: Given) {
  let cancelled = false;
  let told = Promise.resolve();
  const total = run.byteLength === null ? null : Number(run.byteLength);
  const onProgress = (progress: { readonly counts?: ImportCounts; readonly bytesDone?: number; readonly done?: number }) => {
    const done = progress.bytesDone ?? progress.done ?? 0;
    told = told.then(() => handle.advance(Math.min(done, 2 ** 31 - 1), null));
  };
  const isStopped = async () => {
    await told;
    cancelled ||= await handle.isCancelled();
    return cancelled;
  };
  const { id, fileName } = run;
  const base = { source: openUpload(upload), fileName, now: handle.clock(), clock: handle.clock, byteLength: total, runId: id };
  return { input: { ...base, onProgress, isStopped }, settled: () => told };
}

async function load(given: Given): Promise<Ended> {
  const { db, actor, run } = given;
  const { input, settled } = inputOf(given);
  const targets = (run.mapping as RunMapping | null)?.targets;
  const unreadableCells = (run.choices as RunChoices | null)?.unreadableCells ?? "set_aside";
  try {
    switch (run.kind) {
      case "labels":
        return await loadLabels(db, actor, { ...input, unreadableCells, ...(targets ? { mapping: targets as LabelMapping } : {}) });
      case "places":
        return await loadPlaces(db, actor, { ...input, unreadableCells, ...(targets ? { mapping: targets as PlaceMapping } : {}) });
      case "notices":
        return { state: "done", message: (await loadNotices(db, actor, input)).run.message };
      case "log":
        return (await loadLog(db, actor, input)).run;
    }
  } finally {
    await settled();
  }
}

async function noteFailure(db: Store, run: StoredRun, at: Date, error: unknown): Promise<void> {
  const now = await findRun(db, run.organisationId, run.id);
  if (!now || now.state === "done" || now.state === "broken_off") return;
  const message = error instanceof Error ? error.message : String(error);
  await updateRun(db, run.id, at, { state: "broken_off", message, finishedAt: at });
}

/** Brings the uploaded file of a run in. A file that came in whole is removed; one that was stopped or broke off is kept to go on with. */
export const importJob: JobWork = async (db, handle) => {
  const { job, clock } = handle;
  const run = await findRun(db, job.organisationId, job.id);
  const upload = (run?.choices as RunChoices | null)?.upload;
  if (!run || upload === undefined) throw new Trouble("not_found", "The run or its file is no longer there.");
  if (run.state === "done") return { message: run.message };
  try {
    const actor = await actorOf(db, job);
    const { state, message } = await load({ db, actor, run, handle, upload });
    if (state === "done") await removeUpload(upload);
    return { message, cancelled: state === "stopped" };
  } catch (error) {
    await noteFailure(db, run, clock(), error);
    throw error;
  }
};
