import type { NoticeToIndex } from "@/lib/matching/covered-notice";
import { buildRecallIndex, type RecallIndex } from "@/lib/matching/recall-index";
import type { Db } from "@/lib/store/client";
import { eachNotice, findNoticeVersions } from "@/lib/store/notice-queries";

/** An index with the wording of each of its notices. */
export interface IndexedList {
  readonly fingerprint: string;
  readonly index: RecallIndex;
  readonly hashes: ReadonlyMap<string, string>;
}

const indexes = new Map<string, IndexedList>();
const mostIndexes = 4;

/** The index over an organisation's notices: built once for a version of the list and kept for the next caller. */
export async function getRecallIndex(db: Db, organisationId: string): Promise<IndexedList> {
  const versions = await findNoticeVersions(db, organisationId);
  const fingerprint = versions.map((version) => `${version.id}${version.contentHash}${version.coverageHash}`).join();
  const known = indexes.get(organisationId);
  if (known?.fingerprint === fingerprint) return known;
  const notices: NoticeToIndex[] = [];
  for await (const page of eachNotice(db, organisationId)) {
    for (const { id, body, coverage } of page) notices.push({ key: id, coverage, notice: body });
  }
  const list = { fingerprint, index: buildRecallIndex(notices), hashes: new Map(versions.map(({ id, contentHash }) => [id, contentHash])) };
  indexes.delete(organisationId);
  indexes.set(organisationId, list);
  for (const oldest of indexes.keys()) if (indexes.size > mostIndexes) indexes.delete(oldest);
  return list;
}
