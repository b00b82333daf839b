import { placeColumns, plateColumns } from "./appliance-selects";
import type { Db } from "./client";
import type { Prisma } from "./generated/sqlite/client";

/** Keeps a query inside an organisation and some of its sites. */
export interface SiteScope {
  readonly organisationId: string;
  readonly siteId?: { in: string[] };
}

export interface CandidateFilter {
  readonly standings?: readonly string[];
  readonly grades?: readonly string[];
  readonly noticeId?: string;
  readonly applianceId?: string;
  /** Folded words, each of which the appliance or the notice must hold. */
  readonly words?: readonly string[];
  readonly siteId?: string;
  /** Candidates of notices with identifiers, of those without, or all. */
  readonly hasIdentifiers?: boolean;
}

export type CandidateSort = "work" | "score" | "raised" | "notice" | "maker";

const orders: Readonly<Record<CandidateSort, (order: "asc" | "desc") => Prisma.CandidateOrderByWithRelationInput[]>> = {
  work: (order) => [{ rank: order }, { score: order === "asc" ? "desc" : "asc" }],
  score: (order) => [{ score: order }],
  raised: (order) => [{ raisedAt: order }],
  notice: (order) => [{ notice: { date: order } }, { notice: { number: order } }],
  maker: (order) => [{ appliance: { brandKey: order } }, { appliance: { modelKey: order } }],
};

/** What lists show of the appliance. */
const shownAppliance = {
  id: true,
  tag: true,
  ...placeColumns,
  state: true,
  ...plateColumns,
  brandKey: true,
  modelKey: true,
  seenWatts: true,
  allowedWatts: true,
  updatedAt: true,
} as const;

const shown = {
  id: true,
  noticeId: true,
  applianceId: true,
  grade: true,
  score: true,
  reasons: true,
  ask: true,
  noticeHash: true,
  raisedAt: true,
  checkedAt: true,
  standing: true,
  rank: true,
  appliance: { select: shownAppliance },
  notice: {
    select: {
      id: true,
      number: true,
      date: true,
      title: true,
      source: true,
      goneAt: true,
      amendedAt: true,
      contentHash: true,
      coverageHash: true,
    },
  },
} as const;

function whereOf(scope: SiteScope, filter: CandidateFilter): Prisma.CandidateWhereInput {
  const { organisationId, siteId } = scope;
  const appliance: Prisma.ApplianceWhereInput = { state: { not: "retired" } };
  const sites = [...(siteId ? [{ siteId }] : []), ...(filter.siteId ? [{ siteId: filter.siteId }] : [])];
  const words = (filter.words ?? []).map((word) => ({
    OR: [{ appliance: { searchText: { contains: word } } }, { notice: { searchText: { contains: word } } }],
  }));
  return {
    organisationId,
    ...(filter.standings ? { standing: { in: [...filter.standings] } } : {}),
    ...(filter.grades ? { grade: { in: [...filter.grades] } } : {}),
    ...(filter.noticeId ? { noticeId: filter.noticeId } : {}),
    ...(filter.applianceId ? { applianceId: filter.applianceId } : {}),
    ...(filter.hasIdentifiers === undefined ? {} : { notice: { hasIdentifiers: filter.hasIdentifiers } }),
    appliance: { AND: [appliance, ...sites] },
    AND: words,
  };
}

export interface CandidatePage {
  readonly sort: CandidateSort;
  readonly order: "asc" | "desc";
  readonly skip: number;
  readonly take: number;
}

/** A page of candidates with appliance and notice. Retired appliances are left out. */
export function findCandidates(db: Db, scope: SiteScope, filter: CandidateFilter, page: CandidatePage) {
  return db.candidate.findMany({
    where: whereOf(scope, filter),
    select: shown,
    orderBy: [...orders[page.sort](page.order), { id: "asc" }],
    skip: page.skip,
    take: page.take,
  });
}

export type ListedCandidate = Awaited<ReturnType<typeof findCandidates>>[number];

export function countCandidates(db: Db, scope: SiteScope, filter: CandidateFilter): Promise<number> {
  return db.candidate.count({ where: whereOf(scope, filter) });
}

/** How many candidates there are of each grade and standing. */
export async function countByGrade(db: Db, scope: SiteScope, filter: CandidateFilter) {
  const groups = await db.candidate.groupBy({ by: ["grade", "standing"], where: whereOf(scope, filter), _count: { _all: true } });
  return groups.map(({ grade, standing, _count }) => ({ grade, standing, count: _count._all }));
}

/** One candidate with appliance and notice, or null where there is none that the scope may see. */
export function findCandidate(db: Db, scope: SiteScope, id: string) {
  const { organisationId, siteId } = scope;
  return db.candidate.findFirst({ where: { id, organisationId, ...(siteId ? { appliance: { siteId } } : {}) }, select: shown });
}

/** The candidates of one notice whose appliances have the same maker and model; alone where maker or model is not known. */
export function findIdentical(db: Db, scope: SiteScope, of: ListedCandidate) {
  const { organisationId, siteId } = scope;
  const { brandKey, modelKey } = of.appliance;
  const same = brandKey === "" || modelKey === "" ? { id: of.applianceId } : { brandKey, modelKey };
  return db.candidate.findMany({
    where: {
      organisationId,
      noticeId: of.noticeId,
      appliance: { AND: [{ ...same, state: { not: "retired" } }, siteId ? { siteId } : {}] },
    },
    select: shown,
    orderBy: [{ rank: "asc" }, { id: "asc" }],
    take: 2000,
  });
}

/** The next candidate of the work after one, in the order of the work, or the first again; null where no other is open. */
export async function findNextOpen(db: Db, scope: SiteScope, of: { id: string; rank: number; score: number }): Promise<string | null> {
  const open = { ...whereOf(scope, { standings: ["undecided", "reopened"], hasIdentifiers: true }), rank: { lt: 8 } };
  const orderBy: Prisma.CandidateOrderByWithRelationInput[] = [{ rank: "asc" }, { score: "desc" }, { id: "asc" }];
  const later = {
    OR: [{ rank: { gt: of.rank } }, { rank: of.rank, score: { lt: of.score } }, { rank: of.rank, score: of.score, id: { gt: of.id } }],
  };
  const next = await db.candidate.findFirst({ where: { AND: [open, later, { id: { not: of.id } }] }, orderBy, select: { id: true } });
  const first = next ?? (await db.candidate.findFirst({ where: { AND: [open, { id: { not: of.id } }] }, orderBy, select: { id: true } }));
  return first?.id ?? null;
}

/** More pairs of one group are not listed at once; what is left asks again. */
export const mostGroupPairs = 5000;

/** The pairs of some notices without identifiers that fit, in the order of the work. */
export function findGroupCandidates(db: Db, { organisationId, siteId }: SiteScope, noticeIds: readonly string[]) {
  return db.candidate.findMany({
    where: {
      organisationId,
      noticeId: { in: [...noticeIds] },
      grade: { not: "not_covered" },
      appliance: { AND: [{ state: { not: "retired" } }, siteId ? { siteId } : {}] },
    },
    select: shown,
    orderBy: [{ rank: "asc" }, { id: "asc" }],
    take: mostGroupPairs,
  });
}
