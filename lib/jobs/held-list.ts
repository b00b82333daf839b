import { type Actor, recordName } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { readNoticeList } from "@/lib/notices/read-list";
import { getSource, type SourceAt } from "@/lib/registry/notice-source";
import type { Db, Store } from "@/lib/store/client";
import {
  claimSource,
  decideCheck,
  findCheck,
  type NoticeSource,
  type NoticeSourceCheck,
  updateSource,
} from "@/lib/store/notice-source-queries";
import { appendRecord } from "@/lib/store/record";
import { withHeartbeat } from "./heartbeat";
import { actorOf } from "./job-actor";
import { takeIn } from "./take-list";
import { openUpload, removeUpload } from "./uploads";
import type { JobWork } from "./worker";

/** The kind of job that takes in a list which was held, because a person said so. */
export const heldListKind = "take held list";

export interface HeldAt extends SourceAt {
  /** The check that the person looked at. */
  readonly checkId: string;
}

/** The held list, if it is still the one that the person looked at. */
async function getHeld(db: Db, source: NoticeSource, checkId: string): Promise<NoticeSourceCheck & { upload: string }> {
  const check = source.heldCheckId === checkId ? await findCheck(db, source.organisationId, checkId) : null;
  if (!check?.upload || check.decidedAt !== null)
    throw new Trouble(
      "changed_meanwhile",
      "This list no longer waits: someone decided on it, or the publisher has put up another. Reload the page.",
    );
  return { ...check, upload: check.upload };
}

/** Has a held list taken in all the same; a job does it. Permission: `load notices`. */
export async function takeHeldList(db: Store, actor: Actor, { id, checkId, now }: HeldAt): Promise<void> {
  requirePermission(actor, "load notices");
  const source = await getSource(db, actor, id);
  await getHeld(db, source, checkId);
  const queued = await claimSource(db, source, { kind: heldListKind, at: now, byUserId: actor.userId, payload: { checkId } });
  if (!queued) throw new Trouble("not_allowed_now", "The list is being looked at just now: wait a moment and decide then.");
}

/** Leaves a held list aside: the version that we have stays. Permission: `load notices`. */
export async function leaveHeldList(db: Store, actor: Actor, { id, checkId, now }: HeldAt): Promise<void> {
  requirePermission(actor, "load notices");
  const upload = await db.$transaction(async (tx) => {
    const source = await getSource(tx, actor, id);
    const held = await getHeld(tx, source, checkId);
    await settle(tx, source, held, { actor, now, takenIn: false });
    await updateSource(tx, id, { heldCheckId: null, problem: null });
    return held.upload;
  });
  await removeUpload(upload);
}

interface Settling {
  readonly actor: Actor;
  readonly now: Date;
  readonly takenIn: boolean;
  readonly importRunId?: string;
}

async function settle(
  tx: Db,
  source: NoticeSource,
  held: NoticeSourceCheck,
  { actor, now, takenIn, importRunId }: Settling,
): Promise<void> {
  const decidedBy = recordName(actor);
  await decideCheck(tx, held.id, { decidedAt: now, decidedBy, takenIn, ...(importRunId === undefined ? {} : { importRunId }) });
  await appendRecord(tx, [
    {
      organisationId: source.organisationId,
      at: now,
      actor: decidedBy,
      what: takenIn ? "held recall list taken in" : "held recall list left aside",
      subjectKind: "recall list source",
      subjectId: source.id,
      after: {
        fileHash: held.fileHash,
        notices: held.notices,
        message: held.message,
        ...(importRunId === undefined ? {} : { importRunId }),
      },
    },
  ]);
}

async function readFile(upload: string): Promise<Buffer> {
  const pieces: Buffer[] = [];
  for await (const piece of openUpload(upload)) pieces.push(Buffer.from(piece as Uint8Array));
  return Buffer.concat(pieces);
}

/** Takes the held list in as the version that later ones are measured by. */
export const heldListJob: JobWork = async (db, handle) => {
  const { job, clock } = handle;
  const { sourceId, checkId } = job.payload as { readonly sourceId: string; readonly checkId: string };
  const actor = await actorOf(db, job);
  requirePermission(actor, "load notices");
  const source = await getSource(db, actor, sourceId);
  const held = await getHeld(db, source, checkId);
  const bytes = await readFile(held.upload);
  const list = readNoticeList(bytes);
  if (!list.ok) throw new Trouble("unreadable", list.problem);
  const run = await withHeartbeat(handle, () => takeIn(db, actor, { source, bytes, list, now: clock() }));
  await handle.advance(1, 1);
  const now = clock();
  const { etag, lastModified, fileHash, format, notices } = held;
  await db.$transaction(async (tx) => {
    await settle(tx, source, held, { actor, now, takenIn: true, importRunId: run.id });
    const version = { etag, lastModified, fileHash, format, notices, publishers: run.publishers, loadedAt: now };
    await updateSource(tx, sourceId, { ...version, checkedAt: now, problem: null, failures: 0, heldCheckId: null });
  });
  await removeUpload(held.upload);
  return { message: run.message };
};
