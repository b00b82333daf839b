import { nextDue, retryAt } from "@/lib/registry/notice-source-state";
import type { Db, Store } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";
import {
  decideCheck,
  findCheck,
  findSource,
  insertCheck,
  type ListCheckOutcome,
  type NoticeSource,
  updateSource,
} from "@/lib/store/notice-source-queries";
import { appendRecord } from "@/lib/store/record";
import { removeUpload, uploadLength } from "./uploads";

/** What one look at a list's address came to. What is left out is not known. */
export interface CheckResult {
  readonly outcome: ListCheckOutcome;
  /** One sentence where there is something to say. */
  readonly message: string | null;
  readonly answeredBy?: string;
  readonly status?: number | null;
  readonly etag?: string | null;
  readonly lastModified?: string | null;
  readonly fileHash?: string;
  readonly byteLength?: number;
  readonly format?: string;
  readonly notices?: number;
  readonly importRunId?: string;
  readonly publishers?: string;
  readonly upload?: string;
  readonly retryAfterSeconds?: number | null;
  /** More of it waits at the publisher, so that the next look comes soon. */
  readonly goesOn?: boolean;
}

interface Writing {
  readonly at: Date;
  /** As the record names who looked. */
  readonly actor: string;
}

/** Writes the account of a check, what the source now stands at, and an entry of the record, all or nothing. */
export async function finishCheck(
  db: Store,
  sourceId: string,
  result: CheckResult,
  writing: Writing & { readonly organisationId: string },
): Promise<void> {
  const unwanted = await db.$transaction(async (tx) => {
    const source = await findSource(tx, writing.organisationId, sourceId);
    return source === null ? (result.upload ?? null) : write(tx, source, result, writing);
  });
  if (unwanted !== null) await removeUpload(unwanted);
}

/** Returns the kept file that nobody can take in any more, if there is one. */
async function write(tx: Db, source: NoticeSource, result: CheckResult, { at, actor }: Writing): Promise<string | null> {
  const id = newId();
  const { organisationId } = source;
  const waiting = source.heldCheckId === null ? null : await findCheck(tx, organisationId, source.heldCheckId);
  const isHeldAgain = result.outcome === "held" && waiting?.fileHash === result.fileHash && (await isKept(waiting?.upload));
  const upload = isHeldAgain ? null : (result.upload ?? null);
  await insertCheck(tx, { id, organisationId, sourceId: source.id, at, ...columnsOf(result), upload });
  await updateSource(tx, source.id, sourceAfter(source, result, at, isHeldAgain ? source.heldCheckId : id));
  await record(tx, source, result, { at, actor });
  if (isHeldAgain) return result.upload ?? null;
  if (waiting === null || result.outcome === "failed" || result.outcome === "refused") return null;
  await decideCheck(tx, waiting.id, { decidedAt: at, decidedBy: actor, takenIn: false });
  return waiting.upload;
}

/** Whether the file is still there; after a backup was brought back it may not be, and then the new one takes its place. */
async function isKept(upload: string | null | undefined): Promise<boolean> {
  return upload != null && (await uploadLength(upload)) !== null;
}

function columnsOf(result: CheckResult) {
  const { outcome, message, answeredBy, status, etag, lastModified, fileHash, byteLength, format, notices, importRunId } = result;
  const known = { answeredBy, status, etag, lastModified, fileHash, byteLength, format, notices, importRunId };
  const columns = Object.fromEntries(Object.entries(known).map(([name, value]) => [name, value ?? null]));
  return { outcome, message, ...(columns as { [Name in keyof typeof known]: NonNullable<(typeof known)[Name]> | null }) };
}

/** What the source stands at after a check. The marks of a version are kept only when that version is the one we have. */
function sourceAfter(source: NoticeSource, result: CheckResult, at: Date, heldId: string | null) {
  const { everyHours } = source;
  const { outcome, message, etag = null, lastModified = null, retryAfterSeconds = null } = result;
  if (outcome === "loaded") {
    const { fileHash = null, format = null, notices = null, publishers = null } = result;
    const version = { etag, lastModified, fileHash, format, notices, publishers, loadedAt: at };
    const nextDueAt = result.goesOn ? retryAt(at, { everyHours, failures: 1, retryAfterSeconds }) : nextDue(at, everyHours);
    return { ...version, checkedAt: at, problem: null, failures: 0, heldCheckId: null, nextDueAt };
  }
  if (outcome === "unchanged") {
    const marks = result.fileHash === undefined ? {} : { etag, lastModified };
    return { ...marks, checkedAt: at, problem: null, failures: 0, heldCheckId: null, nextDueAt: nextDue(at, everyHours) };
  }
  if (outcome === "held") return { problem: message, failures: 0, heldCheckId: heldId, nextDueAt: nextDue(at, everyHours) };
  const failures = source.failures + 1;
  return { problem: message, failures, nextDueAt: retryAt(at, { everyHours, failures, retryAfterSeconds }) };
}

/** Writes the account of one report that was taken in on the way to the whole. */
export async function noteReport(db: Store, source: NoticeSource, result: CheckResult, writing: Writing): Promise<void> {
  const { id: sourceId, organisationId } = source;
  await db.$transaction(async (tx) => {
    await insertCheck(tx, { id: newId(), organisationId, sourceId, at: writing.at, ...columnsOf(result), upload: null });
    await record(tx, source, result, writing);
  });
}

async function record(tx: Db, source: NoticeSource, result: CheckResult, { at, actor }: Writing): Promise<void> {
  const { outcome, message, answeredBy, etag, lastModified, fileHash, notices, importRunId } = result;
  const after = { url: source.url, outcome, message, answeredBy, etag, lastModified, fileHash, notices, importRunId };
  await appendRecord(tx, [
    {
      organisationId: source.organisationId,
      at,
      actor,
      what: "recall list looked at",
      subjectKind: "recall list source",
      subjectId: source.id,
      after: Object.fromEntries(Object.entries(after).filter(([, value]) => value !== undefined && value !== null)),
    },
  ]);
}
