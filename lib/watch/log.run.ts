import { createHash } from "node:crypto";
import { type Actor, recordName } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import type { ByteSource } from "@/lib/registry/csv-text";
import { bookEnergy } from "@/lib/registry/energy-book";
import { addCounts, type ImportAccount, type ImportCounts, noRows } from "@/lib/registry/import-account";
import { brokenOffMessage, markBrokenOff, thisProcess } from "@/lib/registry/import-life";
import { type LogChunk, LogChunks } from "@/lib/registry/log-chunk";
import { type KeepingLoad, keepChunk } from "@/lib/registry/log-keep";
import { openLog } from "@/lib/registry/log-lines";
import { type LogPlan, readLogPlan } from "@/lib/registry/log-plan";
import type { Store } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";
import { findRun, holdOrganisation, insertRun, insertSetAside, updateRun } from "@/lib/store/import-queries";
import { clearSetAside, nextPartNumber } from "@/lib/store/kept-log-queries";
import { appendRecord } from "@/lib/store/record";
import { findStreams } from "@/lib/store/stream-queries";
import { makeLogRowReader } from "./log-rows";
import { type ScreeningAccount, screenArrived, screeningWords } from "./screening.run";

export interface LoadLogInput {
  readonly source: ByteSource;
  readonly fileName: string;
  readonly now: Date;
  /** The clock of the run's sign of life; the system's unless told otherwise. */
  readonly clock?: () => Date;
  readonly byteLength?: number | null;
  /** A run that is there already: waiting to start, or broken off and to be done again. */
  readonly runId?: string;
  readonly onProgress?: (progress: { readonly counts: ImportCounts; readonly bytesDone: number }) => void;
  /** Asked between chunks; true stops the run there. */
  readonly isStopped?: () => boolean | Promise<boolean>;
}

/** The account of the file, and what the screening of its sites found with it. */
export interface LoadedLog {
  readonly run: ImportAccount;
  readonly screening: ScreeningAccount;
}

interface Loading {
  readonly db: Store;
  readonly actor: Actor;
  readonly input: LoadLogInput;
  readonly runId: string;
  readonly clock: () => Date;
  readonly hash: ReturnType<typeof createHash>;
  counts: ImportCounts;
  bytes: number;
}

class Stopped extends Error {}

/**
 * Loads an outlet log, CSV or JSON Lines, into the registry: keeps its readings, thins them for charts, moves appliances whose tag is
 * seen elsewhere, then screens everything kept and opens findings. Every row is created, unchanged (kept already) or set aside with
 * its reason; the same log again changes nothing, and several logs give what one log of all their rows would. Throws `Refused`, and
 * `Trouble` when the bytes are no log; a load that fails is left as broken off and can be done again.
 */
export async function loadLog(db: Store, actor: Actor, input: LoadLogInput): Promise<LoadedLog> {
  requirePermission(actor, "load log");
  const clock = input.clock ?? (() => new Date());
  const runId = await beginRun(db, actor, input);
  const loading: Loading = { db, actor, input, runId, clock, hash: createHash("sha256"), counts: noRows, bytes: 0 };
  try {
    return await carryOut(loading);
  } catch (error) {
    const { counts } = loading;
    const message = error instanceof Trouble && counts.rowsRead === 0 ? error.message : brokenOffMessage(counts);
    await updateRun(db, runId, clock(), { state: "broken_off", message, finishedAt: clock() });
    throw error;
  }
}

/** A run that is done again counts afresh: what it kept before is then unchanged. */
async function beginRun(db: Store, actor: Actor, input: LoadLogInput): Promise<string> {
  const { organisationId, userId } = actor;
  const { now, fileName } = input;
  await markBrokenOff(db, organisationId, now);
  const choices = { process: thisProcess };
  if (input.runId === undefined) {
    const id = newId();
    const byteLength = input.byteLength ?? null;
    const run = {
      id,
      organisationId,
      kind: "log" as const,
      state: "running" as const,
      fileName,
      fileHash: null,
      byteLength,
      mapping: null,
    };
    await insertRun(db, { ...run, choices, byUserId: userId, at: now });
    return id;
  }
  const known = await findRun(db, organisationId, input.runId);
  if (!known) throw new Trouble("not_found", "There is no such import run.");
  if (known.state === "done") throw new Trouble("not_allowed_now", "This run is done already: bring the file in as a new one.");
  await clearSetAside(db, known.id);
  const again = { ...((known.choices ?? {}) as object), ...choices };
  await updateRun(db, known.id, now, { state: "running", message: null, choices: again, counts: noRows, bytesDone: 0 });
  return known.id;
}

async function* watched(loading: Loading): AsyncGenerator<Uint8Array> {
  for await (const piece of loading.input.source) {
    const bytes = typeof piece === "string" ? Buffer.from(piece) : piece;
    loading.bytes += bytes.length;
    loading.hash.update(bytes);
    yield bytes;
  }
}

async function carryOut(loading: Loading): Promise<LoadedLog> {
  const { db, actor, input, runId, clock } = loading;
  const file = await openLog(watched(loading));
  const plan = await readLogPlan(db, actor);
  const read = makeLogRowReader(file.header, (outlet) => {
    const planned = plan.find(outlet);
    return planned === undefined ? undefined : planned.site.timeZone;
  });
  const { organisationId } = actor;
  const streams = new Map((await findStreams(db, organisationId)).map((stream) => [stream.siteId, stream]));
  const seen = new Map([...streams.values()].map(({ siteId, lastPart }) => [siteId, lastPart]));
  const rawFrom = (siteId: string) => streams.get(siteId)?.rawFrom?.getTime() ?? null;
  const keeping: KeepingLoad = { organisationId, runId, plan, part: await nextPartNumber(db, runId), seen };
  const chunks = new LogChunks(db, organisationId, plan, read, (chunk) => storeChunk(loading, keeping, chunk), rawFrom);
  const state = await takeAll(file.batches, chunks);
  const screening = await screenArrived(db, actor, await sitesToScreen(db, plan), input.now);
  await bookEnergy(db, actor, input.now);
  const remarks = [
    ...(state === "stopped" ? [`Stopped after ${loading.counts.rowsRead} rows, on request; what is in stays in.`] : []),
    ...(chunks.ambiguous === 0 ? [] : [`${chunks.ambiguous} rows fall into the repeated hour of a clock change.`]),
    screeningWords(screening),
  ];
  const message = remarks.join(" ");
  const end = { state, message, finishedAt: clock(), bytesDone: loading.bytes, counts: loading.counts };
  await updateRun(db, runId, clock(), { ...end, ...(state === "done" ? { fileHash: loading.hash.digest("hex") } : {}) });
  return { run: { id: runId, state, message, ...loading.counts }, screening };
}

/** The sites of the plan that readings came in for, by this load or one before it that broke off. */
async function sitesToScreen(db: Store, plan: LogPlan): Promise<string[]> {
  const mine = new Set(plan.outlets.map(({ siteId }) => siteId));
  return (await findStreams(db, null)).filter(({ siteId }) => mine.has(siteId)).map(({ siteId }) => siteId);
}

async function takeAll(batches: AsyncIterable<Parameters<LogChunks["take"]>[0]>, chunks: LogChunks): Promise<"done" | "stopped"> {
  try {
    for await (const batch of batches) await chunks.take(batch);
    await chunks.finish();
    return "done";
  } catch (error) {
    if (error instanceof Stopped) return "stopped";
    throw error;
  }
}

/** Stores one chunk with its counts, its set-aside rows and its record entry in one transaction. */
async function storeChunk(loading: Loading, keeping: KeepingLoad, chunk: LogChunk): Promise<void> {
  const { db, actor, input, runId, clock } = loading;
  const { organisationId } = actor;
  const { counts, noteKept } = await db.$transaction(async (tx) => {
    const stored = await keepChunk(tx, keeping, chunk);
    await holdOrganisation(tx, organisationId);
    const counts = addCounts(loading.counts, stored.counts);
    await insertSetAside(tx, runId, chunk.setAside);
    await updateRun(tx, runId, clock(), { counts, bytesDone: loading.bytes });
    const { kept } = chunk;
    const after = { ...stored.counts, from: kept[0]?.atMs ?? null, to: kept.at(-1)?.atMs ?? null };
    const entry = { organisationId, at: input.now, actor: recordName(actor), what: "brought in log", subjectKind: "import run" };
    await appendRecord(tx, [{ ...entry, subjectId: runId, after }]);
    return { counts, noteKept: stored.noteKept };
  });
  noteKept();
  loading.counts = counts;
  input.onProgress?.({ counts: loading.counts, bytesDone: loading.bytes });
  if (await input.isStopped?.()) throw new Stopped();
}
