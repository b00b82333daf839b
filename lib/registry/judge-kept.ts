import type { Db } from "@/lib/store/client";
import { findKeptParts, type KeptPart, partsSince } from "@/lib/store/kept-log-queries";
import { replayParts } from "@/lib/store/replay-parts";
import { findAnchor } from "@/lib/store/stream-queries";
import { UnreadableState } from "@/lib/watch/state-carrier";
import { unpackCheckpoint } from "./site-checkpoint";
import { readSiteGround, type SiteGround, SiteJudge } from "./site-judge";
import { noThinning } from "./site-thinning";

export interface KeptSite {
  readonly organisationId: string;
  readonly siteId: string;
}

type Anchor = ReturnType<typeof unpackCheckpoint>;

/** What was judged of readings that are no longer kept one by one; null where all are. */
export async function anchorOf(db: Db, siteId: string): Promise<Anchor> {
  const bytes = await findAnchor(db, siteId);
  return bytes === null ? null : unpackCheckpoint(bytes);
}

/** A judge that knows what came before the readings that are kept one by one, where its engine can still read that. */
export function judgeFrom(ground: SiteGround, anchor: Anchor): SiteJudge {
  try {
    return new SiteJudge(ground, anchor);
  } catch (error) {
    if (error instanceof UnreadableState) return new SiteJudge(ground, null);
    throw error;
  }
}

/** The same judge, that knows the appliances of more tags. `rest` is what its checkpoint holds besides. */
export async function meetTags(
  db: Db,
  judge: SiteJudge,
  fresh: readonly string[],
  rest: Parameters<SiteJudge["save"]>[0] = { open: [], thinning: noThinning },
): Promise<SiteJudge> {
  const { notes, state } = judge.save(rest);
  const tags = [...new Set([...notes.tags, ...fresh])];
  const { organisationId, siteId } = judge.ground;
  return new SiteJudge(await readSiteGround(db, { organisationId, siteId, tags }), { notes: { ...notes, tags }, state });
}

async function partsUpTo(db: Db, site: KeptSite, lastPart: number): Promise<KeptPart[]> {
  const later = new Set((await partsSince(db, site.siteId, lastPart)).map(({ id }) => id));
  return (await findKeptParts(db, site)).filter(({ id }) => !later.has(id));
}

/** Judges everything kept of a site up to a position in one pass, as the stand-alone screening judges a file. */
export async function judgeKept(db: Db, site: KeptSite, lastPart: number): Promise<SiteJudge> {
  const anchor = await anchorOf(db, site.siteId);
  let judge = judgeFrom(await readSiteGround(db, { ...site, tags: anchor?.notes.tags ?? [] }), anchor);
  const met = new Set<string>();
  for await (const { load, rows } of replayParts(db, await partsUpTo(db, site, lastPart))) {
    const fresh = judge.newTags(rows).filter((key) => !met.has(key));
    if (fresh.length > 0) {
      for (const key of fresh) met.add(key);
      judge = await meetTags(db, judge, fresh);
    }
    judge.take(load, rows);
  }
  return judge;
}
