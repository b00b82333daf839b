import type { Coverage } from "@/lib/notices/coverage";
import type { SiteScope } from "./candidate-list-queries";
import type { Db } from "./client";
import { newId } from "./ids";

/** A notice without identifiers, with its wording. */
export interface UnidentifiedNotice {
  readonly id: string;
  readonly number: string;
  readonly date: string | null;
  readonly title: string;
  readonly contentHash: string;
  readonly coverage: Coverage;
}

/** Every notice that names nothing but maker and product, the latest first. */
export async function findUnidentifiedNotices(db: Db, organisationId: string): Promise<UnidentifiedNotice[]> {
  const rows = await db.notice.findMany({
    where: { organisationId, hasIdentifiers: false },
    select: { id: true, number: true, date: true, title: true, contentHash: true, coverage: true },
    orderBy: [{ date: "desc" }, { id: "asc" }],
  });
  return rows.map((row) => ({ ...row, coverage: row.coverage as unknown as Coverage }));
}

/** How many pairs each notice without identifiers has, by where their decisions leave them. */
export async function countUnidentifiedPairs(db: Db, { organisationId, siteId }: SiteScope) {
  const groups = await db.candidate.groupBy({
    by: ["noticeId", "standing"],
    where: {
      organisationId,
      grade: { not: "not_covered" },
      notice: { hasIdentifiers: false },
      appliance: { AND: [{ state: { not: "retired" } }, siteId ? { siteId } : {}] },
    },
    _count: { _all: true },
  });
  return groups.map(({ noticeId, standing, _count }) => ({ noticeId, standing, count: _count._all }));
}

export interface NewGroupAnswer {
  readonly organisationId: string;
  readonly groupKey: string;
  readonly maker: string;
  readonly kind: string;
  readonly answer: string;
  readonly reason: string;
  /** Ids of the group's notices with their wordings. */
  readonly notices: readonly (readonly [id: string, contentHash: string])[];
  readonly appliances: number;
  readonly byUserId: string | null;
  readonly at: Date;
}

/** Stores a group's answer; earlier ones are kept and marked as replaced. */
export async function insertGroupAnswer(tx: Db, { notices, ...rest }: NewGroupAnswer): Promise<string> {
  const id = newId();
  const { organisationId, groupKey, at } = rest;
  await tx.groupAnswer.updateMany({ where: { organisationId, groupKey, replacedAt: null }, data: { replacedAt: at } });
  await tx.groupAnswer.create({ data: { id, ...rest, notices: notices.map((pair) => [...pair]) } });
  return id;
}

/** The answers of groups, the latest first; of one group, or the standing ones of all. */
export async function findGroupAnswers(db: Db, organisationId: string, groupKey?: string) {
  const rows = await db.groupAnswer.findMany({
    where: { organisationId, ...(groupKey === undefined ? { replacedAt: null } : { groupKey }) },
    orderBy: [{ at: "desc" }, { id: "desc" }],
  });
  return rows.map((row) => ({ ...row, notices: row.notices as unknown as [string, string][] }));
}
