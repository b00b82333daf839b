import type { Actor } from "@/lib/access/actor";
import type { ReadNoticeList } from "@/lib/notices/notice-list";
import { loadNotices } from "@/lib/notices/notices.run";
import type { Store } from "@/lib/store/client";
import { findSources, type NoticeSource } from "@/lib/store/notice-source-queries";

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

/** Bytes as the stream that readers of files take. */
export async function* oneOf(bytes: Buffer): AsyncGenerator<Uint8Array> {
  yield bytes;
}
