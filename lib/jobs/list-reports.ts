import { createHash } from "node:crypto";
import { recordName, scheduleActor } from "@/lib/access/actor";
import { readNoticeList } from "@/lib/notices/read-list";
import type { Store } from "@/lib/store/client";
import { findTakenAddresses, type NoticeSource } from "@/lib/store/notice-source-queries";
import { FetchFailed } from "./fetch-failure";
import { type FetchRules, fetchList } from "./fetch-list";
import { type CheckResult, noteReport } from "./list-check-account";
import { takeIn } from "./take-list";
import type { JobHandle } from "./worker";

/** How many reports one look takes in. A publisher of hundreds gives them over as many looks, some minutes apart. */
export const reportsAtOnce = 10;

export interface Following {
  readonly source: NoticeSource;
  /** Addresses of the reports, the newest first. */
  readonly reports: readonly string[];
  readonly rules: FetchRules;
  readonly handle: JobHandle;
}

/**
 * Takes in the reports that a list of reports names and that were not taken in before, the newest first. Each has a check and an
 * import run of its own. Throws `FetchFailed` at the first that does not come; what was taken in until then stays.
 */
export async function followReports(db: Store, { source, reports, rules, handle }: Following): Promise<CheckResult> {
  const taken = await findTakenAddresses(db, source.id);
  const fresh = reports.filter((address) => !taken.has(address));
  let notices = 0;
  let last: CheckResult | null = null;
  for (const address of fresh.slice(0, reportsAtOnce)) {
    last = await takeReport(db, { source, address, rules, handle });
    notices += last.notices ?? 0;
  }
  const left = Math.max(0, fresh.length - reportsAtOnce);
  const known = { format: last?.format ?? source.format ?? "", publishers: last?.publishers ?? source.publishers ?? "", goesOn: left > 0 };
  if (last === null) return { outcome: "unchanged", message: null };
  const came = `${fresh.length - left} of its ${reports.length} reports were taken in`;
  return {
    outcome: "loaded",
    message: left > 0 ? `${came}; ${left} older ones follow.` : `${came}; all are in now.`,
    ...known,
    notices: (source.notices ?? 0) + notices,
  };
}

interface Report extends Omit<Following, "reports"> {
  readonly address: string;
}

async function takeReport(db: Store, { source, address, rules, handle }: Report): Promise<CheckResult> {
  const fetched = await fetchList({ url: address, etag: null, lastModified: null }, rules);
  if (fetched.kind === "unchanged") throw new FetchFailed(`${address} was not sent.`, fetched.status);
  const { bytes, status, etag, lastModified } = fetched;
  const list = readNoticeList(bytes);
  if (!list.ok) throw new FetchFailed(`Of the reports that the list names, ${address} cannot be read: ${list.problem}`, status);
  const actor = scheduleActor(source.organisationId);
  const run = await takeIn(db, actor, { source, bytes, list, now: handle.clock() });
  const fileHash = createHash("sha256").update(bytes).digest("hex");
  // The address as the list names it, so that the report is known again wherever that leads.
  const version = { answeredBy: address, status, etag, lastModified, fileHash, byteLength: bytes.length };
  const read = { format: list.format, notices: list.notices.length, importRunId: run.id, publishers: run.publishers };
  const result: CheckResult = { outcome: "loaded", message: run.message, ...version, ...read };
  await noteReport(db, source, result, { at: handle.clock(), actor: recordName(actor) });
  return result;
}
