import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import {
  countRemedies,
  effectInstants,
  type RemedyCase,
  type RemedyCounts,
  type RemedyDecision,
  type RemedyFinding,
} from "@/lib/casework/remedy-account";
import type { RemedyStage } from "@/lib/casework/step";
import type { Db } from "@/lib/store/client";
import { type RemedyNotice, remedyDecisions, remedyFindings, remedyNotices, remedyPairs } from "@/lib/store/remedy-queries";
import { grouped } from "@/lib/watch/grouped";
import { addressChoice, addressPage, addressText } from "./address-fields";
import { mySites } from "./finding-list";
import { foldText, searchWords } from "./search-text";

/** The page's state in its address. */
export const remedyQuery = z.object({ q: addressText, site: addressText, show: addressChoice(["all"]), page: addressPage });
export type RemedyQuery = z.output<typeof remedyQuery>;

export const remediesAPage = 25;

/** One notice with its counts at the sites in question. */
export interface RemedyLine {
  readonly notice: RemedyNotice;
  readonly counts: RemedyCounts;
}

/** The counts of a site at each instant, the last of them now. */
export interface SiteEffect {
  readonly site: { readonly id: string; readonly name: string };
  readonly points: readonly { readonly at: Date; readonly counts: RemedyCounts }[];
}

export interface Remedies {
  readonly sites: readonly { readonly id: string; readonly name: string }[];
  /** Notices with something left to do, or all, those with most left first. */
  readonly lines: readonly RemedyLine[];
  /** Over all notices, whatever is searched for. */
  readonly total: RemedyCounts;
  /** Sites that ever had a case, by name. */
  readonly effects: readonly SiteEffect[];
}

const pairKey = ({ noticeId, applianceId }: { readonly noticeId: string | null; readonly applianceId: string | null }) =>
  `${noticeId} ${applianceId}`;

type Decisions = Awaited<ReturnType<typeof remedyDecisions>>;

function decisionsByPair(rows: Decisions): Map<string, RemedyDecision[]> {
  const groups = new Map<string, RemedyDecision[]>();
  for (const { verdict, at, replacedAt, reopenedAt, ...pair } of rows) {
    const ends = [replacedAt, reopenedAt].flatMap((end) => (end === null ? [] : [end.getTime()]));
    const until = ends.length === 0 ? null : new Date(Math.min(...ends));
    groups.set(pairKey(pair), [...(groups.get(pairKey(pair)) ?? []), { verdict, at, until }]);
  }
  return groups;
}

function findingsByPair(rows: Awaited<ReturnType<typeof remedyFindings>>): Map<string, RemedyFinding> {
  return new Map(
    rows.map(({ state, closedAt, outcome, remedyStage, ...pair }) => [
      pairKey(pair),
      { isClosed: state === "closed", closedAt, outcome, stage: remedyStage as RemedyStage | null },
    ]),
  );
}

/** The cases of the sites that the actor may see. */
async function casesOf(db: Db, actor: Actor): Promise<RemedyCase[]> {
  const { organisationId, siteIds } = actor;
  const pairs = await remedyPairs(db, { organisationId, siteIds: siteIds === "all" ? null : siteIds });
  const ids = [...new Set(pairs.map(({ applianceId }) => applianceId))];
  const [decisions, findings] = await Promise.all([
    remedyDecisions(db, organisationId, ids).then(decisionsByPair),
    remedyFindings(db, organisationId, ids).then(findingsByPair),
  ]);
  return pairs.map((pair) => ({
    ...{ noticeId: pair.noticeId, siteId: pair.appliance.siteId, raisedAt: pair.raisedAt },
    decisions: decisions.get(pairKey(pair)) ?? [],
    finding: findings.get(pairKey(pair)) ?? null,
  }));
}

function effectsOf(cases: readonly RemedyCase[], sites: Remedies["sites"], now: Date): SiteEffect[] {
  const bySite = grouped(cases, ({ siteId }) => siteId);
  const from = cases.reduce((first, { raisedAt }) => Math.min(first, raisedAt.getTime()), now.getTime());
  const instants = effectInstants(new Date(from), now);
  return sites.flatMap((site) => {
    const own = bySite.get(site.id);
    return own ? [{ site, points: instants.map((at) => ({ at, counts: countRemedies(own, at) })) }] : [];
  });
}

/** What is left to do for a notice: all that is neither settled nor accepted with a reason. */
export const leftToDo = ({ have, settled, accepted }: RemedyCounts): number => have - settled - accepted;

async function linesOf(db: Db, actor: Actor, cases: readonly RemedyCase[], { query, now }: { query: RemedyQuery; now: Date }) {
  const counted = [...grouped(cases, ({ noticeId }) => noticeId)].map(([noticeId, own]) => ({ noticeId, counts: countRemedies(own, now) }));
  const wanted = query.show === "all" ? counted : counted.filter(({ counts }) => leftToDo(counts) > 0);
  const ids = wanted.map(({ noticeId }) => noticeId);
  const notices = new Map((await remedyNotices(db, actor.organisationId, ids)).map((notice) => [notice.id, notice]));
  const words = searchWords(query.q ?? "");
  const lines = wanted.flatMap(({ noticeId, counts }): RemedyLine[] => {
    const notice = notices.get(noticeId);
    const text = notice ? foldText([notice.number, notice.title, notice.remedy, notice.contact].join(" ")) : "";
    return notice && words.every((word) => text.includes(word)) ? [{ notice, counts }] : [];
  });
  return lines.sort((a, b) => leftToDo(b.counts) - leftToDo(a.counts) || (a.notice.number < b.notice.number ? -1 : 1));
}

/**
 * How far the recalls are that concern the organisation: for each notice how many appliances we have, found and settled, with the
 * notice's own remedy and contact; and each site's share of settled ones over time. Permission: `see recalls` and `see findings`.
 */
export async function viewRemedies(db: Db, actor: Actor, asked: { readonly query: RemedyQuery; readonly now: Date }): Promise<Remedies> {
  for (const permission of ["see recalls", "see findings"] as const) requirePermission(actor, permission);
  const { query, now } = asked;
  const [sites, all] = await Promise.all([mySites(db, actor), casesOf(db, actor)]);
  const cases = query.site === undefined ? all : all.filter(({ siteId }) => siteId === query.site);
  return {
    sites,
    lines: await linesOf(db, actor, cases, asked),
    total: countRemedies(cases, now),
    effects: effectsOf(cases, sites, now),
  };
}
