import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import type { AnewReason, FollowedSite } from "@/lib/registry/site-follow";
import { SiteFollower } from "@/lib/registry/site-follow";
import { requireSiteTurn } from "@/lib/registry/site-turn";
import { findSitesOf } from "@/lib/store/arrival-queries";
import type { Store } from "@/lib/store/client";
import { keptFrom } from "@/lib/store/kept-log-queries";
import { countSiteResults } from "@/lib/store/screening-queries";
import { holdStream } from "@/lib/store/stream-queries";
import { compareResults } from "./result-order";
import type { ScreeningCounts } from "./screening";
import type { ScreeningResult } from "./screening-result";

/** What a screening of kept readings found, and what it changed. */
export interface ScreeningAccount {
  readonly counts: ScreeningCounts;
  readonly results: number;
  /** Results that are new, changed, or no longer shown by the readings. */
  readonly created: number;
  readonly updated: number;
  readonly gone: number;
  readonly opened: number;
  readonly refreshed: number;
  /** Sites that were judged anew from all kept readings, by reason; the others went on from where they stood. */
  readonly anew: Readonly<Partial<Record<AnewReason, number>>>;
  readonly sites: number;
}

export interface Screened {
  readonly account: ScreeningAccount;
  readonly results: readonly ScreeningResult[];
}

interface ScreenedSite {
  readonly followed: FollowedSite;
  readonly counts: ScreeningCounts;
  readonly results: readonly ScreeningResult[];
  readonly standing: number;
}

interface SiteWork {
  readonly siteId: string;
  readonly now: Date;
  /** Judge everything kept; otherwise go on from the checkpoint wherever that gives the same. */
  readonly isAnew: boolean;
}

async function screenSite(db: Store, actor: Actor, { siteId, now, isAnew }: SiteWork): Promise<ScreenedSite> {
  return requireSiteTurn(db, siteId, async (lease) => {
    const follower = new SiteFollower(actor.organisationId, siteId);
    const wish = { db, actor, siteId, lease, now };
    const followed = isAnew
      ? await follower.judgeAnew(wish, "asked", { endsSeries: true })
      : await follower.follow(wish, { isAnew: () => true, endsSeries: true });
    return { followed, counts: follower.counts(), results: follower.lastResults, standing: await countSiteResults(db, siteId) };
  });
}

function accountOf(sites: readonly ScreenedSite[]): ScreeningAccount {
  const setAside: Record<string, number> = {};
  for (const { counts } of sites)
    for (const [reason, count] of Object.entries(counts.setAside)) setAside[reason] = (setAside[reason] ?? 0) + count;
  const anew: Partial<Record<AnewReason, number>> = {};
  for (const { followed } of sites) if (followed.anew !== null) anew[followed.anew] = (anew[followed.anew] ?? 0) + 1;
  const sum = (value: (site: ScreenedSite) => number) => sites.reduce((total, site) => total + value(site), 0);
  return {
    counts: {
      read: sum(({ counts }) => counts.read),
      judged: sum(({ counts }) => counts.judged),
      setAside,
      apart: sum(({ counts }) => counts.apart),
    },
    results: sum(({ standing }) => standing),
    created: sum(({ followed }) => followed.created),
    updated: sum(({ followed }) => followed.updated),
    gone: sum(({ followed }) => followed.gone),
    opened: sum(({ followed }) => followed.opened),
    refreshed: sum(({ followed }) => followed.refreshed),
    anew,
    sites: sites.length,
  };
}

/**
 * Judges what came in at these sites since they were judged last: each goes on from its checkpoint, or is judged anew from all kept
 * readings where that would not give the same. Permission is the caller's.
 */
export async function screenArrived(db: Store, actor: Actor, siteIds: Iterable<string>, now: Date): Promise<ScreeningAccount> {
  const sites: ScreenedSite[] = [];
  for (const siteId of siteIds) sites.push(await screenSite(db, actor, { siteId, now, isAnew: false }));
  return accountOf(sites);
}

const anewWords: Readonly<Record<AnewReason, string>> = {
  first: "not judged before",
  asked: "asked for",
  ground: "its plan, plates or policy changed",
  late: "readings came that belong before others already judged",
  engine: "its checkpoint was of another version",
};

/** What a screening found, as sentences. */
export function screeningWords({ counts, results, opened, refreshed, anew, sites }: ScreeningAccount): string {
  const aside = Object.entries(counts.setAside).map(([reason, count]) => `${count} ${reason.replaceAll("_", " ")}`);
  const judged = `Screened: ${counts.judged} of ${counts.read} kept readings judged${aside.length === 0 ? "" : ` (${aside.join(", ")})`}.`;
  const reasons = Object.entries(anew).map(
    ([why, count]) => `${count} ${count === 1 ? "site" : "sites"} from the beginning: ${anewWords[why as AnewReason]}`,
  );
  const wentOn = sites - Object.values(anew).reduce((total, count) => total + count, 0);
  const how = [...reasons, ...(wentOn === 0 ? [] : [`${wentOn} ${wentOn === 1 ? "site" : "sites"} from where it stood`])];
  return `${judged}${how.length === 0 ? "" : ` Judged ${how.join("; ")}.`} ${results} results stand; ${opened} findings opened, ${refreshed} refreshed.`;
}

/**
 * The registry's own screening: judges everything kept anew with today's plates, places and policy, site by site, stores what changed,
 * and gives the results as the stand-alone screening prints them. Readings are kept whole, so nothing has to be guessed from thinned rows.
 */
export async function screenRegistry(db: Store, actor: Actor, { now }: { readonly now: Date }): Promise<Screened> {
  requirePermission(actor, "screen readings");
  const { organisationId } = actor;
  const all = await findSitesOf(db, organisationId);
  const sites: ScreenedSite[] = [];
  for (const siteId of all.filter((id) => actor.siteIds === "all" || actor.siteIds.includes(id))) {
    if ((await keptFrom(db, organisationId, siteId)) === null) continue;
    await db.$transaction((tx) => holdStream(tx, organisationId, siteId));
    sites.push(await screenSite(db, actor, { siteId, now, isAnew: true }));
  }
  return { account: accountOf(sites), results: sites.flatMap(({ results }) => results).sort(compareResults) };
}
