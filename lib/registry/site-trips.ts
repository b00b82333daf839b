import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { tagKey } from "@/lib/identity/tag-code";
import type { Db } from "@/lib/store/client";
import { findSite } from "@/lib/store/place-queries";
import type { Site } from "@/lib/store/rows";
import { findCheckpoint } from "@/lib/store/stream-queries";
import { screeningPolicy } from "@/lib/watch/policy";
import { UnreadableState } from "@/lib/watch/state-carrier";
import { type JudgedTrip, judgeTrips } from "@/lib/watch/trip-verdict";
import { addressText } from "./address-fields";
import { unpackCheckpoint } from "./site-checkpoint";
import { readSiteGround, SiteJudge } from "./site-judge";

/** The page's state in its address. */
export const tripsQuery = z.object({ site: addressText, page: z.coerce.number().int().min(1).catch(1) });

export const tripsAPage = 50;

/** A trip as it is shown. */
export interface ShownTrip extends JudgedTrip {
  readonly applianceId: string | null;
}

export interface SiteTrips {
  readonly site: Site;
  /** What was judged is being judged anew by another version: nothing can be told for the moment. */
  readonly isJudgedAnew: boolean;
  /** The latest first, of this page. */
  readonly trips: readonly ShownTrip[];
  readonly total: number;
  /** How many of all were set aside. */
  readonly setAside: number;
  readonly page: number;
  readonly pages: number;
  /** How many of their own in how many days make them repeated. */
  readonly policy: { readonly tripCount: number; readonly tripDays: number };
}

/** The judge as it stood last; null while the site is judged anew. */
async function judgeOf(db: Db, organisationId: string, siteId: string): Promise<SiteJudge | null> {
  const stored = await findCheckpoint(db, siteId);
  const checkpoint = stored === null ? null : unpackCheckpoint(stored);
  if (stored !== null && checkpoint === null) return null;
  const ground = await readSiteGround(db, { organisationId, siteId, tags: checkpoint?.notes.tags ?? [] });
  try {
    return new SiteJudge(ground, checkpoint);
  } catch (error) {
    // A checkpoint of another version of the engine.
    if (error instanceof UnreadableState) return null;
    throw error;
  }
}

/** The trips that a site's readings told, each counted or set aside with the reason. Permission: `see readings` at the site. */
export async function siteTrips(
  db: Db,
  actor: Actor,
  { siteId, page: asked }: { readonly siteId: string; readonly page: number },
): Promise<SiteTrips> {
  requirePermission(actor, "see readings", siteId);
  const site = await findSite(db, actor.organisationId, siteId);
  if (!site) throw new Trouble("not_found", "There is no such site here: choose it again.");
  const judge = await judgeOf(db, actor.organisationId, siteId);
  const policy = judge?.ground.policy ?? screeningPolicy;
  const all = judgeTrips(judge?.trips() ?? [], policy.coincidenceSeconds * 1000).reverse();
  const byTag = new Map(judge?.ground.appliances.map(({ row }) => [row.tagKey, row.id]));
  const pages = Math.max(1, Math.ceil(all.length / tripsAPage));
  const page = Math.min(asked, pages);
  const shown = all.slice((page - 1) * tripsAPage, page * tripsAPage);
  const trips = shown.map((one): ShownTrip => ({ ...one, applianceId: byTag.get(tagKey(one.trip.tag ?? "")) ?? null }));
  const setAside = all.filter(({ verdict }) => verdict !== "counted").length;
  const { tripCount, tripDays } = policy;
  return { site, isJudgedAnew: judge === null, trips, total: all.length, setAside, page, pages, policy: { tripCount, tripDays } };
}
