import { createHash } from "node:crypto";
import { type Actor, recordName, scheduleActor } from "@/lib/access/actor";
import { Trouble } from "@/lib/access/trouble";
import type { ReadNoticeList } from "@/lib/notices/notice-list";
import { loadNotices } from "@/lib/notices/notices.run";
import { readNoticeList } from "@/lib/notices/read-list";
import { ownHosts, ownHostsSetting } from "@/lib/registry/list-address";
import { heldReason } from "@/lib/registry/notice-source-guard";
import type { Store } from "@/lib/store/client";
import { findSource, findSources, type NoticeSource } from "@/lib/store/notice-source-queries";
import { FetchFailed } from "./fetch-failure";
import { type FetchedList, type FetchRules, fetchLimits, fetchList } from "./fetch-list";
import { withHeartbeat } from "./heartbeat";
import { type CheckResult, finishCheck } from "./list-check-account";
import { storeUpload } from "./uploads";
import type { JobHandle, JobWork } from "./worker";

/** The rules for fetching as this process was set up. */
function rulesOfProcess(): FetchRules {
  return { ...fetchLimits, ownHosts: ownHosts(process.env[ownHostsSetting]) };
}

/** Looks at one list's address; rules other than the process's are for tests. */
export function listCheckJob(rules: () => FetchRules = rulesOfProcess): JobWork {
  return async (db, handle) => {
    const { sourceId } = handle.job.payload as { readonly sourceId: string };
    const source = await findSource(db, handle.job.organisationId, sourceId);
    if (!source) return { message: "The list was taken off before it was looked at." };
    const result = await withHeartbeat(handle, () => check(db, source, { rules: rules(), handle }));
    // The claim is asked for once more, so that a check that another worker has taken over is not accounted for twice.
    await handle.advance(1, 1);
    const { organisationId } = source;
    await finishCheck(db, sourceId, result, { at: handle.clock(), actor: recordName(scheduleActor(organisationId)), organisationId });
    return { message: result.message };
  };
}

interface Look {
  readonly rules: FetchRules;
  readonly handle: JobHandle;
}

async function check(db: Store, source: NoticeSource, look: Look): Promise<CheckResult> {
  try {
    const { url, etag, lastModified } = source;
    const fetched = await fetchList({ url, etag, lastModified }, look.rules);
    return await judge(db, source, fetched, look.handle);
  } catch (error) {
    if (error instanceof FetchFailed)
      return { outcome: "failed", message: error.message, status: error.status, retryAfterSeconds: error.retryAfterSeconds };
    if (error instanceof Trouble) return { outcome: "failed", message: error.message };
    const said = error instanceof Error ? error.message : String(error);
    return { outcome: "failed", message: `The list came, but could not be taken in, and what we have stays: ${said}` };
  }
}

/** Looks at what came before anything is replaced by it. */
async function judge(db: Store, source: NoticeSource, fetched: FetchedList, handle: JobHandle): Promise<CheckResult> {
  const { kind: _kind, ...answer } = fetched;
  if (fetched.kind === "unchanged") return { outcome: "unchanged", message: null, ...answer };
  const { bytes, ...answered } = fetched;
  const fileHash = createHash("sha256").update(bytes).digest("hex");
  const version = { ...pick(answered), fileHash, byteLength: bytes.length };
  if (fileHash === source.fileHash) return { outcome: "unchanged", message: null, ...version };
  const list = readNoticeList(bytes);
  if (!list.ok) return { outcome: "refused", message: list.problem, ...version };
  const read = { ...version, format: list.format, notices: list.notices.length };
  const held = heldReason(list, source);
  if (held !== null) {
    const { name } = await storeUpload(oneOf(bytes), null);
    return { outcome: "held", message: held, ...read, upload: name };
  }
  const run = await takeIn(db, scheduleActor(source.organisationId), { source, bytes, list, now: handle.clock() });
  return { outcome: "loaded", message: run.message, ...read, importRunId: run.id, publishers: run.publishers };
}

function pick({ answeredBy, status, etag, lastModified }: Omit<FetchedList, "kind">) {
  return { answeredBy, status, etag, lastModified };
}

async function* oneOf(bytes: Buffer): AsyncGenerator<Uint8Array> {
  yield bytes;
}

interface Version {
  readonly source: NoticeSource;
  readonly bytes: Buffer;
  readonly list: ReadNoticeList;
  readonly now: Date;
}

/** Loads a list's bytes as the notices of the organisation, as an import run with its account. */
export async function takeIn(
  db: Store,
  actor: Actor,
  { source, bytes, list, now }: Version,
): Promise<{ id: string; message: string | null; publishers: string }> {
  const fileName = `${source.name}: ${source.url.replace(/^https?:\/\//, "")}`.slice(0, 200);
  const publishers = [...new Set(list.notices.map((notice) => notice.source))].sort();
  const isPart = await hasSisters(db, source, list.format, publishers);
  const { run } = await loadNotices(db, actor, { source: oneOf(bytes), fileName, now, isPart });
  return { id: run.id, message: run.message, publishers: publishers.join("\n") };
}

/** Whether another address holds notices of the same publishers in the same form, so that either is only a part of their list. */
async function hasSisters(db: Store, source: NoticeSource, format: string, publishers: readonly string[]): Promise<boolean> {
  const others = (await findSources(db, source.organisationId)).filter((other) => other.id !== source.id && other.format === format);
  return others.some((other) => (other.publishers ?? "").split("\n").some((name) => publishers.includes(name)));
}
