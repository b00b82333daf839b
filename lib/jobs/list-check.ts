import { createHash } from "node:crypto";
import { recordName, scheduleActor } from "@/lib/access/actor";
import { Trouble } from "@/lib/access/trouble";
import { readNoticeList } from "@/lib/notices/read-list";
import { ownHosts, ownHostsSetting } from "@/lib/registry/list-address";
import { heldReason } from "@/lib/registry/notice-source-guard";
import type { Store } from "@/lib/store/client";
import { findSource, type NoticeSource } from "@/lib/store/notice-source-queries";
import { FetchFailed } from "./fetch-failure";
import { type FetchedList, type FetchRules, fetchLimits, fetchList } from "./fetch-list";
import { withHeartbeat } from "./heartbeat";
import { type CheckResult, finishCheck } from "./list-check-account";
import { followReports } from "./list-reports";
import { oneOf, takeIn } from "./take-list";
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
    return await judge(db, source, fetched, look);
  } catch (error) {
    if (error instanceof FetchFailed)
      return { outcome: "failed", message: error.message, status: error.status, retryAfterSeconds: error.retryAfterSeconds };
    if (error instanceof Trouble) return { outcome: "failed", message: error.message };
    const said = error instanceof Error ? error.message : String(error);
    return { outcome: "failed", message: `The list came, but could not be taken in, and what we have stays: ${said}` };
  }
}

/** Looks at what came before anything is replaced by it. */
async function judge(db: Store, source: NoticeSource, fetched: FetchedList, { rules, handle }: Look): Promise<CheckResult> {
  const { kind: _kind, ...answer } = fetched;
  if (fetched.kind === "unchanged") return { outcome: "unchanged", message: null, ...answer };
  const { bytes, ...answered } = fetched;
  const fileHash = createHash("sha256").update(bytes).digest("hex");
  const version = { ...pick(answered), fileHash, byteLength: bytes.length };
  if (fileHash === source.fileHash) return { outcome: "unchanged", message: null, ...version };
  const list = readNoticeList(bytes);
  if (!list.ok && list.reports) {
    const result = await followReports(db, { source, reports: list.reports, rules, handle });
    // While reports are left, the marks of their list are not kept: it must come whole at the next look.
    return result.goesOn ? { ...result, answeredBy: answered.answeredBy, status: answered.status } : { ...version, ...result };
  }
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
