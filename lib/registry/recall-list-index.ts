import type { MakerAliases } from "@/lib/identity/maker";
import { aliasGroups } from "@/lib/identity/maker-alias";
import type { NoticeToIndex } from "@/lib/matching/covered-notice";
import { buildRecallIndex, type RecallIndex } from "@/lib/matching/recall-index";
import type { Db } from "@/lib/store/client";
import { findAliases } from "@/lib/store/maker-alias-queries";
import { eachNotice, findNoticesToIndex, findNoticeVersions } from "@/lib/store/notice-queries";

/** An index with the wording of each of its notices. */
export interface IndexedList {
  readonly fingerprint: string;
  readonly index: RecallIndex;
  readonly hashes: ReadonlyMap<string, string>;
}

/** An index with the aliases that it was built with. */
export interface IndexedNotices extends Pick<IndexedList, "index" | "hashes"> {
  readonly aliases: MakerAliases;
}

/** The index over some notices alone; it gives each of them the same candidates as the whole list's. */
export async function indexNotices(db: Db, organisationId: string, noticeIds: readonly string[]): Promise<IndexedNotices> {
  const [stored, links] = await Promise.all([findNoticesToIndex(db, organisationId, noticeIds), findAliases(db, organisationId)]);
  const aliases = aliasGroups(links);
  const index = buildRecallIndex(
    stored.map(({ id, coverage, body }) => ({ key: id, coverage, notice: body })),
    { aliases },
  );
  return { index, aliases, hashes: new Map(stored.map(({ id, contentHash }) => [id, contentHash])) };
}

const indexes = new Map<string, IndexedList>();
const mostIndexes = 4;

/** The index over an organisation's notices and its makers' aliases: built once for a version of both and kept for the next caller. */
export async function getRecallIndex(db: Db, organisationId: string): Promise<IndexedList> {
  const [versions, links] = await Promise.all([findNoticeVersions(db, organisationId), findAliases(db, organisationId)]);
  const aliases = aliasGroups(links);
  const fingerprint = [
    JSON.stringify(aliases),
    ...versions.map(({ id, contentHash, coverageHash }) => id + contentHash + coverageHash),
  ].join();
  const known = indexes.get(organisationId);
  if (known?.fingerprint === fingerprint) return known;
  const notices: NoticeToIndex[] = [];
  for await (const page of eachNotice(db, organisationId)) {
    for (const { id, body, coverage } of page) notices.push({ key: id, coverage, notice: body });
  }
  const index = buildRecallIndex(notices, { aliases });
  const list = { fingerprint, index, hashes: new Map(versions.map(({ id, contentHash }) => [id, contentHash])) };
  indexes.delete(organisationId);
  indexes.set(organisationId, list);
  for (const oldest of indexes.keys()) if (indexes.size > mostIndexes) indexes.delete(oldest);
  return list;
}
