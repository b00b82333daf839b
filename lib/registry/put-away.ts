import { type Actor, recordName } from "@/lib/access/actor";
import type { Db, Store } from "@/lib/store/client";
import { findSiteParts, type KeptPart, type KeptReading, openKeptPart } from "@/lib/store/kept-log-queries";
import { type HeldLease, proveLease } from "@/lib/store/lease-queries";
import type { DrawMinute } from "@/lib/store/reading-queries";
import { appendRecord } from "@/lib/store/record";
import { replayParts } from "@/lib/store/replay-parts";
import {
  type CutPart,
  cutParts,
  foldMinutes,
  hasEnergyDueBefore,
  insertEpisodeParts,
  minutesOf,
  oldestMinute,
} from "@/lib/store/retention-queries";
import { findResults } from "@/lib/store/screening-queries";
import { findStream, holdStream, updateStream } from "@/lib/store/stream-queries";
import { makeHourOf } from "@/lib/watch/energy-hour";
import { EpisodeWindows } from "./episode-windows";
import { anchorOf, judgeFrom } from "./judge-kept";
import { holdOnSite } from "./readings-retention";
import { packCheckpoint } from "./site-checkpoint";
import { readSiteGround, type SiteGround, type SiteJudge } from "./site-judge";
import { noThinning } from "./site-thinning";

/** What became of a site's old readings. */
export interface PutAway {
  /** Readings no longer kept one by one. */
  readonly readings: number;
  /** Of those, the ones around episodes, which are kept for good. */
  readonly aroundEpisodes: number;
  readonly minutes: number;
  readonly hours: number;
  readonly before: Date;
}

export interface PutAwayWish {
  readonly db: Store;
  readonly actor: Actor;
  readonly siteId: string;
  readonly keepDays: number;
  readonly lease: HeldLease;
  readonly now: Date;
}

/** The rows of each load that go, counted from the load's first: those whose time in the replay lies before the cut. */
class Prefix {
  readonly counts = new Map<string, number>();
  readonly rows: KeptReading[] = [];
  private readonly newest = new Map<string, number>();

  constructor(private readonly beforeMs: number) {}

  /** The rows of a slice that go; fewer than all of them when the cut is reached. */
  take(load: string, rows: readonly KeptReading[]): readonly KeptReading[] {
    let newest = this.newest.get(load) ?? Number.NEGATIVE_INFINITY;
    let count = 0;
    for (const { atMs } of rows) {
      newest = Math.max(newest, atMs);
      if (newest >= this.beforeMs) break;
      count += 1;
    }
    this.newest.set(load, newest);
    this.counts.set(load, (this.counts.get(load) ?? 0) + count);
    const gone = rows.slice(0, count);
    for (const row of gone) this.rows.push(row);
    return gone;
  }
}

/**
 * Puts a site's readings away that are older than they are kept: what was judged of them is kept as the anchor from which judging anew
 * goes on, the seconds around episodes and the sums of each hour stay for good. Returns a sentence instead where a hold, or work not done
 * yet, forbids it. Use it under the site's turn.
 */
export async function putAway(wish: PutAwayWish): Promise<PutAway | string> {
  const { db, actor, siteId, keepDays, now } = wish;
  const { organisationId } = actor;
  const stream = await findStream(db, siteId);
  if (!stream || stream.checkpointAt === null) return "Nothing of this site was judged yet.";
  const why = await holdOnSite(db, organisationId, siteId);
  if (why !== null) return `Nothing was put away: a hold keeps everything (${why}).`;
  if (stream.screenedPart < stream.lastPart || stream.staleAt !== null) return "Nothing was put away: readings wait to be judged first.";
  const anchor = await anchorOf(db, siteId);
  const ground = await readSiteGround(db, { organisationId, siteId, tags: anchor?.notes.tags ?? [] });
  const zone = ground.plan.outlets[0]?.site.timeZone ?? null;
  const before = new Date(makeHourOf(zone)(now.getTime() - keepDays * 86_400_000));
  if (stream.rawFrom !== null && before <= stream.rawFrom) return "Nothing is old enough to be put away.";
  if ((await findSiteParts(db, { organisationId, siteId, from: new Date(0), to: before })).some((part) => part.siteId === null))
    return "Nothing was put away: these readings were loaded before sites were followed one by one, and are kept whole.";
  if (await hasEnergyDueBefore(db, siteId, before)) return "Nothing was put away: energy waits to be booked first.";
  const windows = new EpisodeWindows(await findResults(db, { organisationId, siteId }), ground.plan);
  const folded = await foldOld(wish, { ground, before, windows });
  const { cut, prefix, judge } = await judgeOld(db, ground, { anchor, before });
  const kept = prefix.rows.filter((row) => windows.holds(row.outletId, row.atMs));
  const account = { readings: prefix.rows.length, aroundEpisodes: kept.length, ...folded, before };
  await db.$transaction(async (tx) => {
    await proveLease(tx, wish.lease);
    const held = await holdStream(tx, organisationId, siteId);
    if (held.rawFrom?.getTime() !== stream.rawFrom?.getTime())
      throw new Error("The site's readings were put away by another process meanwhile.");
    // An appliance may have been moved since: its hours are booked from the readings while they are there.
    if (await hasEnergyDueBefore(tx, siteId, before))
      throw new Error("Energy became due meanwhile: the readings are put away another day.");
    await insertEpisodeParts(tx, { organisationId, siteId }, kept);
    await cutParts(tx, cut);
    await updateStream(tx, siteId, { rawFrom: before, anchor: packCheckpoint(judge.save({ open: [], thinning: noThinning })) });
    const entry = {
      organisationId,
      at: now,
      actor: recordName(actor),
      what: "put old readings away",
      subjectKind: "site",
      subjectId: siteId,
    };
    await appendRecord(tx, [{ ...entry, after: account }]);
  });
  return account;
}

/** Judges the old readings once more, in the order of the replay, and finds what of which part goes. */
async function judgeOld(
  db: Db,
  ground: SiteGround,
  { anchor, before }: { readonly anchor: Awaited<ReturnType<typeof anchorOf>>; readonly before: Date },
): Promise<{ cut: CutPart[]; prefix: Prefix; judge: SiteJudge }> {
  const { organisationId, siteId } = ground;
  const own = await findSiteParts(db, { organisationId, siteId, from: new Date(0), to: before });
  const judge = judgeFrom(ground, anchor);
  const prefix = new Prefix(before.getTime());
  for await (const { load, rows } of replayParts(db, own)) {
    const gone = prefix.take(load, rows);
    judge.take(load, gone);
    if (gone.length < rows.length) break;
  }
  judge.judged();
  return { cut: await cutsOf(db, own, prefix), prefix, judge };
}

async function cutsOf(db: Db, parts: readonly KeptPart[], prefix: Prefix): Promise<CutPart[]> {
  const cut: CutPart[] = [];
  for (const [load, count] of prefix.counts) {
    let left = count;
    for (const part of parts.filter(({ importRunId }) => importRunId === load).sort((a, b) => a.number - b.number)) {
      if (left === 0) break;
      const gone = Math.min(left, part.rows);
      cut.push({ id: part.id, keep: gone === part.rows ? [] : (await openKeptPart(db, part.id)).slice(gone) });
      left -= gone;
    }
  }
  return cut;
}

const hourMs = 3_600_000;

/** Folds the minutes outside of episodes into their hours, an hour at a time; done again after a break it goes on. */
async function foldOld(
  { db, lease }: PutAwayWish,
  { ground, before, windows }: { readonly ground: SiteGround; readonly before: Date; readonly windows: EpisodeWindows },
): Promise<{ minutes: number; hours: number }> {
  const outletIds = ground.plan.outlets.map(({ id }) => id);
  const oldest = await oldestMinute(db, outletIds, before);
  let [minutes, hours] = [0, 0];
  if (oldest === null) return { minutes, hours };
  const isOutside = (row: DrawMinute) => !windows.touches(row.outletId, row.at.getTime(), row.at.getTime() + 60_000);
  for (let from = Math.floor(oldest.getTime() / hourMs) * hourMs; from < before.getTime(); from += hourMs) {
    const to = new Date(Math.min(from + hourMs, before.getTime()));
    const old = (await minutesOf(db, outletIds, new Date(from), to)).filter(isOutside);
    if (old.length === 0) continue;
    hours += await db.$transaction(async (tx) => {
      await proveLease(tx, lease);
      return foldMinutes(tx, old);
    });
    minutes += old.length;
  }
  return { minutes, hours };
}
