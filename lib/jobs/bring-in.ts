import type { Actor } from "@/lib/access/actor";
import { mayDo, type Permission, requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { guessTargets } from "@/lib/registry/column-targets";
import { openCsvFile } from "@/lib/registry/csv-source";
import { kindOfHeaders, kindOfJson } from "@/lib/registry/file-kind";
import type { LabelMapping } from "@/lib/registry/label-row";
import { requireLabelMapping } from "@/lib/registry/labels-import";
import type { PlaceMapping } from "@/lib/registry/place-row";
import { requirePlaceMapping } from "@/lib/registry/places-import";
import type { Store } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";
import {
  findLastMappings,
  findRun,
  type ImportKind,
  insertRun,
  type RunChoices,
  type RunMapping,
  type StoredRun,
  updateRun,
} from "@/lib/store/import-queries";
import { askCancel, queueJob } from "@/lib/store/job-queries";
import { importJobKind } from "./import-job";
import { openUpload, storeUpload } from "./uploads";

/** The permission that each kind of file asks for. */
export const importPermissions: Readonly<Record<ImportKind, Permission>> = {
  labels: "bring in labels",
  places: "bring in places",
  notices: "load notices",
  log: "load log",
};

/** The kinds an actor may bring in. */
export function importKindsOf(actor: Actor): ImportKind[] {
  return (Object.keys(importPermissions) as ImportKind[]).filter((kind) => mayDo(actor, importPermissions[kind]));
}

export interface Arrival {
  readonly body: AsyncIterable<Uint8Array>;
  readonly fileName: string;
  /** Length that the sender announced, bytes. */
  readonly announced: number | null;
  readonly now: Date;
}

const longestName = 200;

/** Takes a file in and looks what it is; the run then waits for a person to look at it and start it. Returns the run's id. */
export async function takeUpload(db: Store, actor: Actor, { body, fileName, announced, now }: Arrival): Promise<{ runId: string }> {
  const kinds = importKindsOf(actor);
  if (kinds.length === 0) requirePermission(actor, "bring in labels");
  const stored = await storeUpload(body, announced);
  const { kind, mapping } = await lookAt(db, actor, stored.name);
  const runId = newId();
  const { byteLength, fileHash } = stored;
  await insertRun(db, {
    id: runId,
    organisationId: actor.organisationId,
    kind: kinds.includes(kind) ? kind : (kinds[0] ?? "labels"),
    state: "waiting",
    fileName:
      fileName
        .replace(/[\p{Cc}/\\]+/gu, " ")
        .trim()
        .slice(0, longestName) || "file without a name",
    fileHash,
    byteLength,
    mapping,
    choices: { upload: stored.name, unreadableCells: "set_aside" },
    byUserId: actor.userId,
    at: now,
  });
  return { runId };
}

async function firstPiece(upload: string): Promise<string> {
  for await (const piece of openUpload(upload))
    return Buffer.from(piece as Uint8Array)
      .subarray(0, 4096)
      .toString("utf8");
  return "";
}

async function lookAt(db: Store, actor: Actor, upload: string): Promise<{ kind: ImportKind; mapping: RunMapping | null }> {
  const json = kindOfJson(await firstPiece(upload));
  if (json) return { kind: json, mapping: null };
  const headers = await headersOf(upload);
  const kind = headers === null ? "labels" : kindOfHeaders(headers);
  return { kind, mapping: headers === null ? null : await mappingFor(db, actor, kind, headers, upload) };
}

/** The headers of an uploaded CSV; null when it is none. */
async function headersOf(upload: string): Promise<readonly string[] | null> {
  try {
    return (await openCsvFile(openUpload(upload))).headers;
  } catch (error) {
    if (error instanceof Trouble) return null;
    throw error;
  }
}

/** The mapping that the last file with the same headers had, else a guess from names and values. */
async function mappingFor(
  db: Store,
  actor: Actor,
  kind: ImportKind,
  headers: readonly string[],
  upload: string,
): Promise<RunMapping | null> {
  if (kind !== "labels" && kind !== "places") return null;
  const earlier = (await findLastMappings(db, actor.organisationId, kind, 20)).map((run) => run.mapping as RunMapping | null);
  const same = earlier.find((mapping) => mapping !== null && mapping.headers.join("\n") === headers.join("\n"));
  return same ?? { headers, targets: await guessTargets(kind, openUpload(upload)) };
}

async function getWaiting(db: Store, actor: Actor, runId: string): Promise<StoredRun & { upload: string }> {
  const run = await findRun(db, actor.organisationId, runId);
  if (!run) throw new Trouble("not_found", "There is no such run.");
  requirePermission(actor, importPermissions[run.kind]);
  const upload = (run.choices as RunChoices | null)?.upload;
  if (upload === undefined) throw new Trouble("not_allowed_now", "This run has no uploaded file: bring the file in again.");
  return { ...run, upload };
}

/** Says what kind of file it is, where the look at it was mistaken; the columns are guessed anew. */
export async function chooseKind(
  db: Store,
  actor: Actor,
  { runId, kind, now }: { runId: string; kind: ImportKind; now: Date },
): Promise<void> {
  const run = await getWaiting(db, actor, runId);
  if (run.state !== "waiting") throw new Trouble("not_allowed_now", "The run has begun, so its kind stays.");
  requirePermission(actor, importPermissions[kind]);
  const headers = await headersOf(run.upload);
  const mapping = headers === null ? null : await mappingFor(db, actor, kind, headers, run.upload);
  await updateRun(db, runId, now, { kind, ...(mapping ? { mapping } : {}) });
}

export interface Columns {
  readonly runId: string;
  /** Target column by the header's place in the file. */
  readonly targets: readonly (string | null)[];
  readonly unreadableCells: "set_aside" | "leave_out";
  readonly now: Date;
}

/** Says which of our columns each of theirs is, and what to do with cells that cannot be read. */
export async function chooseColumns(db: Store, actor: Actor, { runId, targets, unreadableCells, now }: Columns): Promise<void> {
  const run = await getWaiting(db, actor, runId);
  if (run.state !== "waiting") throw new Trouble("not_allowed_now", "The run has begun, so its columns stay.");
  const headers = (run.mapping as RunMapping | null)?.headers ?? [];
  const chosen = Object.fromEntries(headers.map((header, at) => [header, targets[at] ?? null]));
  const twice = targets.find((target, at) => target !== null && target !== "keep_in_notes" && targets.indexOf(target) !== at);
  if (twice)
    throw new Trouble("not_valid", `Two columns are said to be "${twice}": choose one, and keep the other in the notes or leave it out.`);
  if (run.kind === "labels") requireLabelMapping(chosen as LabelMapping);
  if (run.kind === "places") requirePlaceMapping(chosen as PlaceMapping);
  const choices: RunChoices = { ...(run.choices as RunChoices), unreadableCells };
  await updateRun(db, runId, now, { mapping: { headers, targets: chosen }, choices });
}

/** Starts a waiting run, or goes on with one that was stopped or broke off. The worker does it. */
export async function startImport(db: Store, actor: Actor, { runId, now }: { runId: string; now: Date }): Promise<void> {
  const run = await getWaiting(db, actor, runId);
  if (run.state === "done") throw new Trouble("not_allowed_now", "This run is done already.");
  if (run.kind === "labels") requireLabelMapping(((run.mapping as RunMapping | null)?.targets ?? {}) as LabelMapping);
  if (run.kind === "places") requirePlaceMapping(((run.mapping as RunMapping | null)?.targets ?? {}) as PlaceMapping);
  const { organisationId, userId } = actor;
  await queueJob(db, { id: runId, organisationId, kind: importJobKind, payload: { runId }, byUserId: userId, at: now });
}

/** Asks a run to stop. What is in stays in; the file is kept, so that the run can go on later. */
export async function stopImport(db: Store, actor: Actor, { runId, now }: { runId: string; now: Date }): Promise<void> {
  await getWaiting(db, actor, runId);
  await askCancel(db, actor.organisationId, runId, now);
}
