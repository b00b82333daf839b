import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { siteScope } from "@/lib/access/site-scope";
import type { Grade } from "@/lib/matching/candidate";
import {
  type CandidateFilter,
  type CandidateSort,
  countByGrade,
  countCandidates,
  findCandidates,
} from "@/lib/store/candidate-list-queries";
import type { Db } from "@/lib/store/client";
import { findListLoads } from "@/lib/store/notice-load-queries";
import { countNotices, findNotices, findUncheckedNotices, type NoticeFilter, type NoticeSort } from "@/lib/store/notice-queries";
import { findPlaceNames } from "@/lib/store/place-name-queries";
import { openStandings, type Standing } from "./decision-standing";
import { placeOf, type SeenCandidate, type SeenPlace, toSeen } from "./review";
import { searchWords } from "./search-text";

export interface CandidateQuery {
  readonly search: string;
  /** `open` is what nobody has decided on or was reopened. */
  readonly state: "open" | "unsure" | "affected" | "not_affected" | "all";
  readonly grade: Grade | "all";
  readonly noticeId?: string;
  readonly siteId?: string;
  readonly sort: CandidateSort;
  readonly order: "asc" | "desc";
  readonly page: number;
}

export const candidatesAPage = 25;
const allGrades: readonly Grade[] = ["covered", "likely", "check_label", "not_covered"];

export interface CandidateRow {
  readonly candidate: SeenCandidate;
  readonly place: SeenPlace;
}

export interface CandidateList {
  readonly rows: readonly CandidateRow[];
  readonly total: number;
  /** How many match apart from the grade, by grade. */
  readonly byGrade: Readonly<Record<Grade, number>>;
}

function standingsOf(state: CandidateQuery["state"]): readonly Standing[] | null {
  if (state === "all") return null;
  return state === "open" ? openStandings : [state];
}

function filterOf({ search, state, noticeId, siteId }: CandidateQuery): CandidateFilter {
  const standings = standingsOf(state);
  return {
    words: searchWords(search),
    ...(standings ? { standings } : {}),
    ...(noticeId ? { noticeId } : { hasIdentifiers: true }),
    ...(siteId ? { siteId } : {}),
  };
}

/** The grades that a query shows: what is ruled out only where it is asked for, or a person decided on it. */
function gradesOf({ grade, state }: CandidateQuery): readonly Grade[] {
  if (grade !== "all") return [grade];
  return state === "open" ? allGrades.slice(0, 3) : allGrades;
}

/** A page of candidates with how many there are of each grade. Permission: `see recalls`. */
export async function findCandidateList(db: Db, actor: Actor, query: CandidateQuery): Promise<CandidateList> {
  requirePermission(actor, "see recalls");
  const scope = siteScope(actor);
  const filter = filterOf(query);
  const graded = { ...filter, grades: gradesOf(query) };
  const { sort, order, page } = query;
  const [rows, total, groups] = await Promise.all([
    findCandidates(db, scope, graded, { sort, order, skip: (page - 1) * candidatesAPage, take: candidatesAPage }),
    countCandidates(db, scope, graded),
    countByGrade(db, scope, filter),
  ]);
  const names = await findPlaceNames(
    db,
    actor.organisationId,
    rows.map(({ appliance }) => appliance),
  );
  const byGrade = { covered: 0, likely: 0, check_label: 0, not_covered: 0 };
  for (const { grade, count } of groups) byGrade[grade as Grade] += count;
  return { rows: rows.map((row) => ({ candidate: toSeen(row), place: placeOf(row.appliance, names) })), total, byGrade };
}

export interface NoticeQuery {
  readonly search: string;
  readonly state: "all" | "current" | "amended" | "gone";
  readonly sort: NoticeSort;
  readonly order: "asc" | "desc";
  readonly page: number;
}

export const noticesAPage = 25;

/** A page of the loaded notices. Permission: `see recalls`. */
export async function findNoticeList(db: Db, actor: Actor, { search, state, sort, order, page }: NoticeQuery) {
  requirePermission(actor, "see recalls");
  const { organisationId } = actor;
  const filter: NoticeFilter = { words: searchWords(search), ...(state === "all" ? {} : { state }) };
  const [rows, total] = await Promise.all([
    findNotices(db, organisationId, filter, { sort, order, skip: (page - 1) * noticesAPage, take: noticesAPage }),
    countNotices(db, organisationId, filter),
  ]);
  return { rows, total };
}

/** The lists loaded, and what of them was not yet compared. Permission: `see recalls`. */
export async function getRecallState(db: Db, actor: Actor, { loads = 5 }: { readonly loads?: number } = {}) {
  requirePermission(actor, "see recalls");
  const { organisationId } = actor;
  const [lists, notices, withoutIdentifiers, unchecked] = await Promise.all([
    findListLoads(db, organisationId, loads),
    countNotices(db, organisationId, {}),
    countNotices(db, organisationId, { hasIdentifiers: false }),
    findUncheckedNotices(db, organisationId),
  ]);
  return { lists, notices, withoutIdentifiers, unchecked: unchecked.length };
}

export type RecallState = Awaited<ReturnType<typeof getRecallState>>;
