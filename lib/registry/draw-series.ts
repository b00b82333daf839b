import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { tagKey } from "@/lib/identity/tag-code";
import { chartedAppliance, chartedOutlet } from "@/lib/store/chart-queries";
import type { Db } from "@/lib/store/client";
import { type DrawMinute, findEvents, findMinutes, lastReadingAt } from "@/lib/store/reading-queries";
import { findResults } from "@/lib/store/screening-queries";
import { applianceLimit, referred } from "@/lib/watch/appliance-limit";
import type { DrawPoint } from "@/lib/watch/draw-thinning";
import { ratingOf } from "./appliance-columns";
import { standardsOfSite } from "./site-policy";

/** The stretch of time that a chart shows. `episode` is twelve hours around the last excess. */
export const drawRanges = ["episode", "24h", "7d", "30d", "all"] as const;
export type DrawRange = (typeof drawRanges)[number];

/** A stretch above the limit. */
export interface DrawEpisode {
  readonly fromMs: number;
  readonly toMs: number;
  readonly value: number;
  readonly limit: number;
  readonly unit: string;
}

/** All that a chart of one draw needs. Watts; null limits are not known. */
export interface DrawSeries {
  readonly name: string;
  readonly range: DrawRange;
  /** The ranges that say something here; `episode` only where there was one. */
  readonly ranges: readonly DrawRange[];
  readonly fromMs: number;
  readonly toMs: number;
  readonly points: readonly DrawPoint[];
  readonly episodes: readonly DrawEpisode[];
  readonly trips: readonly { readonly atMs: number; readonly cause: string | null }[];
  readonly allowed: number | null;
  readonly rated: number | null;
  /** The voltage to which a resistive draw is referred; null where it is drawn as measured. */
  readonly referredTo: number | null;
  readonly timeZone: string;
}

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;

/** A range from an address; what it cannot be is left to the use case. */
export function asDrawRange(text: unknown): DrawRange | null {
  return drawRanges.find((range) => range === text) ?? null;
}

interface Stretch {
  readonly range: DrawRange;
  readonly fromMs: number;
  readonly toMs: number;
}

function stretchOf(wanted: DrawRange | null, lastMs: number, firstMs: number, episode: DrawEpisode | undefined): Stretch {
  const range = wanted === "episode" && !episode ? "24h" : (wanted ?? (episode ? "episode" : "24h"));
  if (range === "episode" && episode) {
    const middle = (episode.fromMs + episode.toMs) / 2;
    const half = Math.max(6 * hourMs, (episode.toMs - episode.fromMs) * 0.6);
    return { range, fromMs: middle - half, toMs: middle + half };
  }
  const length = range === "all" ? Math.max(hourMs, lastMs - firstMs) : range === "30d" ? 30 * dayMs : range === "7d" ? 7 * dayMs : dayMs;
  return { range, fromMs: lastMs - length, toMs: lastMs };
}

const shownKinds = ["over_rating", "lamp_too_strong"];

/**
 * An appliance's draw over time with its limits, excesses and trips; null before its first reading. Permission: `see readings`; throws
 * `Trouble` ("not_found") where the actor has no such appliance.
 */
export async function drawSeries(
  db: Db,
  actor: Actor,
  { applianceId, range }: { readonly applianceId: string; readonly range: DrawRange | null },
): Promise<DrawSeries | null> {
  requirePermission(actor, "see readings");
  const { organisationId } = actor;
  const appliance = await chartedAppliance(db, organisationId, applianceId);
  if (!appliance || (actor.siteIds !== "all" && !actor.siteIds.includes(appliance.siteId)))
    throw new Trouble("not_found", "There is no such appliance here.");
  const last = await lastReadingAt(db, { organisationId, applianceId });
  if (last === null) return null;
  const results = await findResults(db, { organisationId, applianceId, kinds: shownKinds });
  const episodes = results.map((row) => ({
    fromMs: row.fromAt.getTime(),
    toMs: row.toAt.getTime(),
    value: row.value,
    limit: row.limit,
    unit: row.unit,
  }));
  const stretch = stretchOf(range, last.getTime(), appliance.firstReadingAt?.getTime() ?? last.getTime(), episodes.at(-1));
  const where = { organisationId, applianceId, from: new Date(stretch.fromMs), to: new Date(stretch.toMs) };
  const [minutes, events] = await Promise.all([findMinutes(db, where), findEvents(db, where)]);
  const screened = {
    tag: tagKey(appliance.tag),
    site: null,
    outlet: null,
    receptacle: null,
    category: appliance.category,
    rating: ratingOf(appliance),
    deviation: (await standardsOfSite(db, { id: appliance.siteId, nominalVolts: appliance.siteVolts })).deviation,
  };
  const limit = applianceLimit(screened, appliance.siteVolts);
  const judged = (watts: number, volts: number | null) => referred(limit, watts, volts, "W");
  return {
    name: appliance.tag,
    ...stretch,
    ranges: drawRanges.filter((name) => name !== "episode" || episodes.length > 0),
    points: pointsOf(minutes, judged),
    episodes: episodes.filter(({ fromMs, toMs }) => toMs >= stretch.fromMs && fromMs <= stretch.toMs),
    trips: events.filter(({ event }) => event === "trip").map(({ at, cause }) => ({ atMs: at.getTime(), cause })),
    allowed: Number.isFinite(limit.watts) ? limit.watts : null,
    rated: limit.ratedWatts,
    referredTo: limit.exponent > 0 && minutes.some(({ meanVolts }) => meanVolts !== null) ? limit.ratedVolts : null,
    timeZone: appliance.timeZone ?? "UTC",
  };
}

function pointsOf(minutes: readonly DrawMinute[], judged: (watts: number, volts: number | null) => number): DrawPoint[] {
  return minutes.flatMap(({ at, meanWatts, maxWatts, meanVolts }) =>
    meanWatts === null ? [] : [{ atMs: at.getTime(), mean: judged(meanWatts, meanVolts), peak: judged(maxWatts ?? meanWatts, meanVolts) }],
  );
}

/** An outlet's receptacles over time as measured, one series each, without limits. Permission: `see readings`. */
export async function outletSeries(
  db: Db,
  actor: Actor,
  { outletId, range }: { readonly outletId: string; readonly range: DrawRange | null },
): Promise<DrawSeries[]> {
  requirePermission(actor, "see readings");
  const { organisationId } = actor;
  const outlet = await chartedOutlet(db, organisationId, outletId);
  if (!outlet || (actor.siteIds !== "all" && !actor.siteIds.includes(outlet.siteId)))
    throw new Trouble("not_found", "There is no such outlet here.");
  const last = await lastReadingAt(db, { organisationId, outletId });
  if (last === null) return [];
  const stretch = stretchOf(
    range === "episode" ? null : range,
    last.getTime(),
    outlet.firstReadingAt?.getTime() ?? last.getTime(),
    undefined,
  );
  const where = { organisationId, outletId, from: new Date(stretch.fromMs), to: new Date(stretch.toMs) };
  const [minutes, events] = await Promise.all([findMinutes(db, where), findEvents(db, where)]);
  const receptacles = [...new Set(minutes.map(({ receptacle }) => receptacle))].sort();
  return receptacles.map((receptacle) => ({
    name: receptacle === "" ? outlet.name : `${outlet.name}, receptacle ${receptacle}`,
    ...stretch,
    ranges: drawRanges.filter((name) => name !== "episode"),
    points: pointsOf(
      minutes.filter((row) => row.receptacle === receptacle),
      (watts) => watts,
    ),
    episodes: [],
    trips: events
      .filter((row) => row.event === "trip" && row.receptacle === receptacle)
      .map(({ at, cause }) => ({ atMs: at.getTime(), cause })),
    allowed: null,
    rated: null,
    referredTo: null,
    timeZone: outlet.site.timeZone ?? "UTC",
  }));
}
