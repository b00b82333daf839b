import type { Notice } from "@/lib/notices/notice";
import type { Db } from "./client";
import type { Prisma } from "./generated/sqlite/client";
import { inParts } from "./id-parts";

interface Scope {
  readonly organisationId: string;
  /** Null is every site. */
  readonly siteIds: readonly string[] | null;
}

/**
 * Appliances that a notice fits, or fitted until somebody decided. What only a maker and a kind pair, what a fact rules out, and what
 * was retired before anybody decided are no cases.
 */
function casesWhere({ organisationId, siteIds }: Scope): Prisma.CandidateWhereInput {
  const decided = { standing: { in: ["affected", "not_affected", "unsure"] } };
  const fits = { grade: { not: "not_covered" }, notice: { hasIdentifiers: true }, appliance: { state: { not: "retired" as const } } };
  return {
    organisationId,
    OR: [decided, fits],
    ...(siteIds === null ? {} : { AND: [{ appliance: { siteId: { in: [...siteIds] } } }] }),
  };
}

/** The pairs of notice and appliance that are cases, with where the appliance is. */
export function remedyPairs(db: Db, scope: Scope) {
  return db.candidate.findMany({
    where: casesWhere(scope),
    select: { noticeId: true, applianceId: true, raisedAt: true, appliance: { select: { siteId: true } } },
    orderBy: [{ noticeId: "asc" }, { applianceId: "asc" }],
  });
}

/** Every decision on these appliances, the earliest first. */
export async function remedyDecisions(db: Db, organisationId: string, applianceIds: readonly string[]) {
  const select = { noticeId: true, applianceId: true, verdict: true, at: true, replacedAt: true, reopenedAt: true } as const;
  const rows = [];
  for (const part of inParts(applianceIds)) {
    const where = { organisationId, applianceId: { in: [...part] } };
    rows.push(...(await db.decision.findMany({ where, select, orderBy: [{ at: "asc" }, { id: "asc" }] })));
  }
  return rows;
}

/** The findings that confirmed matches opened. */
export async function remedyFindings(db: Db, organisationId: string, applianceIds: readonly string[]) {
  const select = { noticeId: true, applianceId: true, state: true, closedAt: true, outcome: true, remedyStage: true } as const;
  const rows = [];
  for (const part of inParts(applianceIds)) {
    const where = { organisationId, cause: "recall", noticeId: { not: null }, applianceId: { in: [...part] } };
    rows.push(...(await db.finding.findMany({ where, select })));
  }
  return rows;
}

/** These notices with what they say of the remedy and whom to ask, in their own words, the latest first. */
export async function remedyNotices(db: Db, organisationId: string, ids: readonly string[]) {
  const select = { id: true, source: true, number: true, date: true, title: true, body: true, goneAt: true } as const;
  const rows = [];
  for (const part of inParts(ids)) rows.push(...(await db.notice.findMany({ where: { organisationId, id: { in: [...part] } }, select })));
  return rows.map(({ body, ...row }) => {
    const { remedy, contact, url, hazard } = body as unknown as Notice;
    return { ...row, remedy, contact, url, hazard };
  });
}
export type RemedyNotice = Awaited<ReturnType<typeof remedyNotices>>[number];
