import { createHash } from "node:crypto";
import { type Actor, recordName } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { type CrossCheckAccount, checkAgain } from "@/lib/matching/cross-check.run";
import { withCorrections } from "@/lib/registry/corrected-content";
import { reopen } from "@/lib/registry/decision-reopen";
import { contentHash, noticeContent } from "@/lib/registry/notice-row";
import { findDecidedCandidates } from "@/lib/store/candidate-queries";
import type { Db, Store } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";
import { advanceLoad, breakOffLoad, finishLoad, keepSetAside, startLoad } from "@/lib/store/notice-load-queries";
import {
  amendNotices,
  findNoticeHeads,
  findUncheckedNotices,
  insertNotices,
  type ListKey,
  markGone,
  type NoticeContent,
  type NoticeHead,
} from "@/lib/store/notice-queries";
import { appendRecord } from "@/lib/store/record";
import type { Notice } from "./notice";
import { type ReadNoticeList, recordsSetAside } from "./notice-list";
import { readNoticeList } from "./read-list";
import { understand } from "./understand";

/** What became of a list's records: read = created + updated + unchanged + set aside. `gone` are stored ones that the list no longer has. */
export interface NoticeLoadAccount {
  readonly id: string;
  readonly source: string;
  readonly format: string;
  readonly rowsRead: number;
  readonly created: number;
  readonly updated: number;
  readonly unchanged: number;
  readonly setAside: number;
  readonly gone: number;
  /** One sentence where something was not judged. */
  readonly message: string | null;
}

export interface NoticeLoadProgress {
  readonly stage: "storing" | "comparing";
  readonly done: number;
  readonly total: number | null;
}

export interface NoticeLoad {
  readonly source: AsyncIterable<Uint8Array | string>;
  /** A run that is there already: an uploaded list waiting to be loaded, or one that broke off. */
  readonly runId?: string;
  readonly fileName: string;
  readonly now: Date;
  /** The file is a part of a longer list, which its format alone does not say: what it lacks is not gone. */
  readonly isPart?: boolean;
  readonly onProgress?: (progress: NoticeLoadProgress) => void;
}

const mostBytes = 256 * 1024 * 1024;
const noticesAtOnce = 500;

async function readAll(source: NoticeLoad["source"]): Promise<Buffer> {
  const pieces: Buffer[] = [];
  let length = 0;
  for await (const piece of source) {
    const bytes = Buffer.from(piece as Uint8Array);
    length += bytes.length;
    if (length > mostBytes) throw new Trouble("too_large", "The recall list is larger than 256 MB; load it in parts.");
    pieces.push(bytes);
  }
  return Buffer.concat(pieces);
}

interface Sorted {
  readonly fresh: NoticeContent[];
  readonly amended: { readonly head: NoticeHead; readonly content: NoticeContent }[];
  readonly backAgain: string[];
  unchanged: number;
}

/** Tells new, amended and unchanged records apart; only the first two are understood. */
function sortOut(notices: readonly Notice[], heads: ReadonlyMap<string, NoticeHead>): Sorted {
  const sorted: Sorted = { fresh: [], amended: [], backAgain: [], unchanged: 0 };
  for (const notice of notices) {
    const head = heads.get(placeOf(notice));
    if (!head) sorted.fresh.push(noticeContent(notice, understand(notice)));
    else if (head.contentHash !== contentHash(notice)) sorted.amended.push({ head, content: noticeContent(notice, understand(notice)) });
    else {
      sorted.unchanged++;
      if (head.goneAt !== null) sorted.backAgain.push(head.id);
    }
  }
  return sorted;
}

const placeOf = ({ source, key }: { readonly source: string; readonly key: string }) => `${source}\n${key}`;

interface LoadWork {
  readonly runId: string;
  readonly key: ListKey;
  readonly actor: string;
  readonly now: Date;
}

interface Counts {
  rowsRead: number;
  created: number;
  updated: number;
  unchanged: number;
  setAside: number;
}

/** Stores one part of the list in one transaction, with its record entry and the run's count so far. */
async function storePart(tx: Db, sorted: Sorted, counts: Counts, work: LoadWork): Promise<void> {
  const { key, now, actor, runId } = work;
  const { organisationId } = key;
  const written = await insertNotices(
    tx,
    key,
    sorted.fresh.map((content) => ({ content, at: now })),
  );
  const amended = await withCorrections(
    tx,
    organisationId,
    sorted.amended.map(({ head, content }) => ({ id: head.id, content, at: now })),
  );
  await amendNotices(tx, amended);
  await markGone(tx, sorted.backAgain, null);
  const amendedIds = sorted.amended.map(({ head }) => head.id);
  const decided = await findDecidedCandidates(tx, organisationId, amendedIds);
  const why = `The notice was amended; the new wording was loaded on ${now.toISOString().slice(0, 10)}.`;
  await reopen(
    tx,
    { organisationId, actor, now },
    decided.map((candidate) => ({ ...candidate, candidateId: candidate.id, why })),
  );
  counts.created += written;
  counts.updated += sorted.amended.length;
  counts.unchanged += sorted.unchanged + sorted.fresh.length - written;
  counts.rowsRead = counts.created + counts.updated + counts.unchanged + counts.setAside;
  await advanceLoad(tx, runId, counts, now);
  if (sorted.fresh.length + sorted.amended.length === 0) return;
  await appendRecord(tx, [
    {
      organisationId,
      at: now,
      actor,
      what: "brought in notices",
      subjectKind: "import run",
      subjectId: runId,
      before: { amended: sorted.amended.map(({ head }) => [head.key, head.contentHash]) },
      after: {
        created: sorted.fresh.map(({ body }) => body.key),
        amended: sorted.amended.map(({ head, content }) => [head.key, content.contentHash]),
      },
    },
  ]);
}

/** The stored notices of the list's sources that it no longer holds. They stay, and stay compared: a list may be an extract. */
function findGone(list: ReadNoticeList, heads: readonly NoticeHead[]): string[] {
  const held = new Set(list.notices.map(placeOf));
  return heads.filter((head) => head.goneAt === null && !held.has(placeOf(head))).map(({ id }) => id);
}

async function store(db: Store, list: ReadNoticeList, work: LoadWork, load: NoticeLoad, fileHash: string): Promise<NoticeLoadAccount> {
  const sources = [...new Set(list.notices.map(({ source }) => source))];
  const heads = await findNoticeHeads(db, work.key, sources);
  const byPlace = new Map(heads.map((head) => [placeOf(head), head]));
  const setAside = recordsSetAside(list.setAside);
  const counts: Counts = { rowsRead: setAside, created: 0, updated: 0, unchanged: 0, setAside };
  await db.$transaction(async (tx) => {
    await keepSetAside(tx, work.runId, list.setAside);
    await advanceLoad(tx, work.runId, counts, work.now);
  });
  for (let at = 0; at < list.notices.length; at += noticesAtOnce) {
    const sorted = sortOut(list.notices.slice(at, at + noticesAtOnce), byPlace);
    await db.$transaction((tx) => storePart(tx, sorted, counts, work));
    load.onProgress?.({ stage: "storing", done: Math.min(at + noticesAtOnce, list.notices.length), total: list.notices.length });
  }
  const unread = list.setAside.some(({ records }) => records === undefined);
  const message = unread ? "Which notices are gone was not judged, because some records of the list could not be read." : null;
  const gone = unread || list.isExtract || load.isPart ? [] : findGone(list, heads);
  const { now, runId, key, actor } = work;
  const account = { id: runId, source: list.source, format: list.format, ...counts, gone: gone.length, message };
  await db.$transaction(async (tx) => {
    await markGone(tx, gone, now);
    const { source, format } = list;
    const listLoad = { id: newId(), ...key, source, format, fileName: load.fileName, fileHash, loadedAt: now };
    const became = { records: list.notices.length, fresh: counts.created, amended: counts.updated, unchanged: counts.unchanged };
    await finishLoad(tx, { ...listLoad, ...became, gone: gone.length, importRunId: runId }, message);
    const entry = { organisationId: key.organisationId, at: now, actor, what: "loaded a recall list" };
    await appendRecord(tx, [
      { ...entry, subjectKind: "import run", subjectId: runId, after: { fileName: load.fileName, fileHash, ...account, goneIds: gone } },
    ]);
  });
  return account;
}

/**
 * Loads a published recall list. Every record is kept: new ones and amended ones are understood and compared with the registry,
 * unchanged ones are left alone, and stored ones that the list no longer has are marked as gone. A decision whose notice was
 * amended is kept and reopened. Throws `Trouble` with the reader's sentence, the store untouched, when the file is no recall list.
 * Permission: `load notices`.
 */
export async function loadNotices(
  db: Store,
  actor: Actor,
  load: NoticeLoad,
): Promise<{ run: NoticeLoadAccount; compared: CrossCheckAccount }> {
  requirePermission(actor, "load notices");
  const { organisationId, userId } = actor;
  const bytes = await readAll(load.source);
  const list = readNoticeList(bytes);
  if (!list.ok) throw new Trouble("unreadable", list.problem);
  const { now, fileName } = load;
  const runId = load.runId ?? newId();
  const fileHash = createHash("sha256").update(bytes).digest("hex");
  await startLoad(db, { id: runId, organisationId, fileName, fileHash, byteLength: bytes.length, byUserId: userId, at: now });
  const work: LoadWork = { runId, key: { organisationId, format: list.format }, actor: recordName(actor), now };
  const run = await store(db, list, work, load, fileHash).catch(async (error: unknown) => {
    await breakOffLoad(db, runId, "The load broke off; load the list again: what was stored stays, nothing is doubled.", now);
    throw error;
  });
  const compared = await checkAgain(db, actor, {
    now,
    only: { noticeIds: await findUncheckedNotices(db, organisationId) },
    onProgress: ({ appliances }) => load.onProgress?.({ stage: "comparing", done: appliances, total: null }),
  });
  return { run, compared };
}
