import type { Coverage } from "@/lib/notices/coverage";
import type { Notice } from "@/lib/notices/notice";
import { type BulkColumn, bulkInsert, bulkUpdate } from "./bulk";
import type { Db } from "./client";
import type { Prisma } from "./generated/sqlite/client";
import { newId } from "./ids";

/** What is stored of a notice beside its place in a list. */
export interface NoticeContent {
  readonly number: string;
  readonly date: string | null;
  readonly title: string;
  readonly body: Notice;
  readonly coverage: Coverage;
  /** Our own reading where a person corrected it; null where the coverage is the reading. */
  readonly reading: Coverage | null;
  readonly contentHash: string;
  readonly coverageHash: string;
  readonly searchText: string;
  readonly hasIdentifiers: boolean;
  readonly brandKeys: string;
}

/** A list: a publisher's records in one format. */
export interface ListKey {
  readonly organisationId: string;
  readonly format: string;
}

export interface NoticeHead {
  readonly id: string;
  readonly source: string;
  readonly key: string;
  readonly contentHash: string;
  readonly goneAt: Date | null;
}

const contentColumns: readonly BulkColumn[] = [
  { name: "number", type: "text" },
  { name: "date", type: "text" },
  { name: "title", type: "text" },
  { name: "body", type: "json" },
  { name: "coverage", type: "json" },
  { name: "reading", type: "json" },
  { name: "contentHash", type: "text" },
  { name: "coverageHash", type: "text" },
  { name: "searchText", type: "text" },
  { name: "hasIdentifiers", type: "boolean" },
  { name: "brandKeys", type: "text" },
];
const contentValues = (content: NoticeContent) =>
  contentColumns.map((column) => content[column.name as keyof NoticeContent] as string | boolean | object | null);

/** The stored notices of some sources of one list, without their texts. */
export function findNoticeHeads(db: Db, list: ListKey, sources: readonly string[]): Promise<NoticeHead[]> {
  return db.notice.findMany({
    where: { ...list, source: { in: [...sources] } },
    select: { id: true, source: true, key: true, contentHash: true, goneAt: true },
  });
}

/** Stores new notices, not yet compared with any appliance. */
export function insertNotices(tx: Db, list: ListKey, rows: readonly { content: NoticeContent; at: Date }[]): Promise<number> {
  return bulkInsert(tx, {
    table: "Notice",
    columns: [
      { name: "id", type: "text" },
      { name: "organisationId", type: "text" },
      { name: "source", type: "text" },
      { name: "format", type: "text" },
      { name: "key", type: "text" },
      { name: "firstLoadedAt", type: "timestamp" },
      ...contentColumns,
    ],
    rows: rows.map(({ content, at }) => [
      newId(),
      list.organisationId,
      content.body.source,
      list.format,
      content.body.key,
      at,
      ...contentValues(content),
    ]),
    onConflict: { key: ["organisationId", "source", "format", "key"] },
  });
}

/** Replaces amended notices' words, keeps the old wording, and marks them to be compared again. */
export async function amendNotices(tx: Db, rows: readonly { id: string; content: NoticeContent; at: Date }[]): Promise<void> {
  const before = await tx.notice.findMany({
    where: { id: { in: rows.map(({ id }) => id) } },
    select: { id: true, contentHash: true, body: true, coverage: true },
  });
  const at = rows[0]?.at;
  if (at === undefined) return;
  await bulkInsert(tx, {
    table: "NoticeWording",
    columns: [
      { name: "noticeId", type: "text" },
      { name: "contentHash", type: "text" },
      { name: "body", type: "json" },
      { name: "coverage", type: "json" },
      { name: "replacedAt", type: "timestamp" },
    ],
    rows: before.map((old) => [old.id, old.contentHash, old.body as object, old.coverage as object, at]),
    // a wording that came back and went again was replaced the second time now
    onConflict: { key: ["noticeId", "contentHash"], update: ["replacedAt"] },
  });
  await bulkUpdate(tx, {
    table: "Notice",
    columns: [
      { name: "id", type: "text" },
      { name: "amendedAt", type: "timestamp" },
      { name: "checkedAt", type: "timestamp" },
      { name: "goneAt", type: "timestamp" },
      ...contentColumns,
    ],
    rows: rows.map((row) => [row.id, row.at, null, null, ...contentValues(row.content)]),
  });
}

/** Replaces our reading of notices whose words are the same, and marks them to be compared again. */
export function replaceCoverages(tx: Db, rows: readonly { id: string; content: NoticeContent }[]): Promise<number> {
  return bulkUpdate(tx, {
    table: "Notice",
    columns: [{ name: "id", type: "text" }, { name: "checkedAt", type: "timestamp" }, ...contentColumns],
    rows: rows.map((row) => [row.id, null, ...contentValues(row.content)]),
  });
}

/** Marks notices as gone from their list, or back in it (`at` null). They are never deleted. */
export function markGone(tx: Db, ids: readonly string[], at: Date | null): Promise<number> {
  return bulkUpdate(tx, {
    table: "Notice",
    columns: [
      { name: "id", type: "text" },
      { name: "goneAt", type: "timestamp" },
    ],
    rows: ids.map((id) => [id, at]),
  });
}

/** The ids of the notices whose present coverage was not yet compared with the registry. */
export async function findUncheckedNotices(db: Db, organisationId: string): Promise<string[]> {
  const rows = await db.notice.findMany({ where: { organisationId, checkedAt: null }, select: { id: true } });
  return rows.map(({ id }) => id);
}

export async function markChecked(tx: Db, ids: readonly string[], at: Date): Promise<void> {
  await bulkUpdate(tx, {
    table: "Notice",
    columns: [
      { name: "id", type: "text" },
      { name: "checkedAt", type: "timestamp" },
    ],
    rows: ids.map((id) => [id, at]),
  });
}

export interface NoticeVersion {
  readonly id: string;
  readonly contentHash: string;
  readonly coverageHash: string;
}

/** Which notices there are, in which wording and reading: equal versions have equal indexes. */
export function findNoticeVersions(db: Db, organisationId: string): Promise<NoticeVersion[]> {
  return db.notice.findMany({
    where: { organisationId },
    select: { id: true, contentHash: true, coverageHash: true },
    orderBy: { id: "asc" },
  });
}

export interface StoredNotice extends NoticeVersion {
  readonly body: Notice;
  readonly coverage: Coverage;
}

const pageOfNotices = 500;

/** Every notice with its words and coverage, a page at a time. */
export async function* eachNotice(db: Db, organisationId: string): AsyncGenerator<StoredNotice[]> {
  let after = "";
  while (true) {
    const rows = await db.notice.findMany({
      where: { organisationId, id: { gt: after } },
      select: { id: true, contentHash: true, coverageHash: true, body: true, coverage: true },
      orderBy: { id: "asc" },
      take: pageOfNotices,
    });
    if (rows.length === 0) return;
    after = rows.at(-1)?.id ?? after;
    yield rows as unknown as StoredNotice[];
  }
}

/** Some notices with their words and coverages. */
export async function findNoticesToIndex(db: Db, organisationId: string, ids: readonly string[]): Promise<StoredNotice[]> {
  const rows = await db.notice.findMany({
    where: { organisationId, id: { in: [...ids] } },
    select: { id: true, contentHash: true, coverageHash: true, body: true, coverage: true },
  });
  return rows as unknown as StoredNotice[];
}

/** One notice with its words, its coverage and our own reading (the same where nobody corrected it), or null. */
export async function findNotice(db: Db, organisationId: string, id: string) {
  const row = await db.notice.findFirst({ where: { id, organisationId } });
  if (row === null) return null;
  const coverage = row.coverage as unknown as Coverage;
  const isCorrected = row.reading !== null;
  const reading = isCorrected ? (row.reading as unknown as Coverage) : coverage;
  return { ...row, body: row.body as unknown as Notice, coverage, reading, isCorrected };
}

/** One notice that is known to be there. */
export async function getNotice(db: Db, organisationId: string, id: string) {
  const found = await findNotice(db, organisationId, id);
  if (!found) throw new Error(`The notice ${id} is not stored.`);
  return found;
}

export interface NoticeFilter {
  readonly words?: readonly string[];
  readonly state?: "current" | "amended" | "gone";
  readonly hasIdentifiers?: boolean;
}

export type NoticeSort = "date" | "number" | "title";

function whereOf(organisationId: string, { words = [], state, hasIdentifiers }: NoticeFilter): Prisma.NoticeWhereInput {
  return {
    organisationId,
    AND: words.map((word) => ({ searchText: { contains: word } })),
    ...(state === "gone" ? { goneAt: { not: null } } : state ? { goneAt: null } : {}),
    ...(state === "amended" ? { amendedAt: { not: null } } : {}),
    ...(hasIdentifiers === undefined ? {} : { hasIdentifiers }),
  };
}

/** A page of notices without their words, with how many candidates each has raised. */
export function findNotices(
  db: Db,
  organisationId: string,
  filter: NoticeFilter,
  page: { readonly sort: NoticeSort; readonly order: "asc" | "desc"; readonly skip: number; readonly take: number },
) {
  return db.notice.findMany({
    where: whereOf(organisationId, filter),
    select: {
      id: true,
      number: true,
      date: true,
      title: true,
      source: true,
      hasIdentifiers: true,
      firstLoadedAt: true,
      amendedAt: true,
      goneAt: true,
      checkedAt: true,
      coverage: true,
      _count: { select: { candidates: { where: { grade: { not: "not_covered" } } } } },
    },
    orderBy: [{ [page.sort]: page.order }, { id: "asc" }],
    skip: page.skip,
    take: page.take,
  });
}

export function countNotices(db: Db, organisationId: string, filter: NoticeFilter): Promise<number> {
  return db.notice.count({ where: whereOf(organisationId, filter) });
}

/** Earlier wordings of a notice, the latest first. */
export async function findWordings(db: Db, noticeId: string) {
  const rows = await db.noticeWording.findMany({ where: { noticeId }, orderBy: { replacedAt: "desc" } });
  return rows.map((row) => ({ ...row, body: row.body as unknown as Notice, coverage: row.coverage as unknown as Coverage }));
}
