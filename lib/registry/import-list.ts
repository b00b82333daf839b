import type { Actor } from "@/lib/access/actor";
import { mayDo, type Permission } from "@/lib/access/permissions";
import { Refused } from "@/lib/access/refusal";
import { Trouble } from "@/lib/access/trouble";
import type { Db } from "@/lib/store/client";
import {
  countRuns,
  findRun,
  findRunOfFile,
  findRuns,
  findSetAside,
  type ImportKind,
  type RunMapping,
  type StoredRun,
} from "@/lib/store/import-queries";
import type { ImportCounts } from "./import-account";
import { brokenOffMessage, isBrokenOff } from "./import-life";

const permissionOf: Readonly<Record<ImportKind, Permission>> = {
  labels: "bring in labels",
  places: "bring in places",
  notices: "load notices",
  log: "load log",
};

/** A run as it is shown: one whose process has died says so, whether or not anyone has noted it yet. */
export interface ShownRun extends ImportCounts {
  readonly id: string;
  readonly kind: ImportKind;
  readonly state: StoredRun["state"];
  readonly fileName: string;
  readonly byteLength: number | null;
  readonly bytesDone: number;
  readonly message: string | null;
  readonly byUserId: string | null;
  readonly startedAt: Date;
  readonly heartbeatAt: Date;
  readonly finishedAt: Date | null;
  readonly mapping: RunMapping | null;
  readonly choices: StoredRun["choices"];
}

function shownRun(run: StoredRun, now: Date): ShownRun {
  const { id, kind, fileName, message, byUserId, startedAt, heartbeatAt, finishedAt, choices } = run;
  const { rowsRead, created, updated, unchanged, setAside } = run;
  const broken = isBrokenOff(run, now);
  return {
    id,
    kind,
    state: broken ? "broken_off" : run.state,
    message: broken ? brokenOffMessage(run) : message,
    fileName,
    byteLength: run.byteLength === null ? null : Number(run.byteLength),
    bytesDone: Number(run.bytesDone),
    byUserId,
    startedAt,
    heartbeatAt,
    finishedAt,
    mapping: run.mapping as RunMapping | null,
    choices,
    rowsRead,
    created,
    updated,
    unchanged,
    setAside,
  };
}

function kindsOf(actor: Actor): ImportKind[] {
  return (Object.keys(permissionOf) as ImportKind[]).filter((kind) => mayDo(actor, permissionOf[kind]));
}

/** The runs of the kinds that the actor may bring in, the latest first. Throws `Refused` when there are none. */
export async function listRuns(
  db: Db,
  actor: Actor,
  { page, take, now }: { page: number; take: number; now: Date },
): Promise<{ runs: ShownRun[]; total: number }> {
  const kinds = kindsOf(actor);
  if (kinds.length === 0) throw new Refused("bring in labels", false);
  const [runs, total] = await Promise.all([
    findRuns(db, actor.organisationId, kinds, { skip: (page - 1) * take, take }),
    countRuns(db, actor.organisationId, kinds),
  ]);
  return { runs: runs.map((run) => shownRun(run, now)), total };
}

/** One run. Throws `Trouble` ("not_found") or `Refused`. */
export async function getRun(db: Db, actor: Actor, { runId, now }: { runId: string; now: Date }): Promise<ShownRun> {
  const run = await findRun(db, actor.organisationId, runId);
  if (!run) throw new Trouble("not_found", "There is no such import run.");
  if (!mayDo(actor, permissionOf[run.kind])) throw new Refused(permissionOf[run.kind], false);
  return shownRun(run, now);
}

/** The latest finished run of the same bytes before this one; null when the file is new. */
export async function seenBefore(db: Db, actor: Actor, runId: string): Promise<{ id: string; startedAt: Date; fileName: string } | null> {
  const run = await findRun(db, actor.organisationId, runId);
  if (!run?.fileHash) return null;
  const earlier = await findRunOfFile(db, actor.organisationId, run.fileHash);
  return earlier && earlier.id !== runId ? earlier : null;
}

export interface SetAsideRow {
  readonly line: number;
  readonly reason: string;
  readonly content: string;
}

/** The first set-aside rows of a run. */
export async function firstSetAside(
  db: Db,
  actor: Actor,
  { runId, take, now }: { runId: string; take: number; now: Date },
): Promise<SetAsideRow[]> {
  await getRun(db, actor, { runId, now });
  return findSetAside(db, runId, -1, take);
}

const rowsAtOnce = 1000;

/** All set-aside rows of a run in line order, a thousand at a time. */
export async function* eachSetAside(db: Db, actor: Actor, { runId, now }: { runId: string; now: Date }): AsyncGenerator<SetAsideRow[]> {
  await getRun(db, actor, { runId, now });
  let after = -1;
  for (;;) {
    const rows = await findSetAside(db, runId, after, rowsAtOnce);
    if (rows.length > 0) yield rows;
    if (rows.length < rowsAtOnce) return;
    after = rows.at(-1)?.line ?? after;
  }
}
