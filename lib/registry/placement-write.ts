import type { Db } from "@/lib/store/client";
import { markBookedHours } from "@/lib/store/energy-queries";
import {
  appliancesById,
  type FoundAppliance,
  holdAppliances,
  observationsFrom,
  outletsById,
  type PlacementChanges,
  placementsFrom,
  writePlacements,
} from "@/lib/store/placement-queries";
import type { Placement } from "@/lib/store/rows";
import { grouped } from "@/lib/watch/grouped";
import { hourStart, type Place, type PlacePoint } from "./placement-history";
import { type Rewritten, rewriteWindow } from "./placement-window";

/** An appliance that is now somewhere else than the registry had it. */
export interface Move {
  readonly appliance: FoundAppliance;
  readonly from: Place;
  readonly to: Place;
  readonly source: string;
}

export interface PlacementWork {
  readonly organisationId: string;
  /** New points by appliance id. */
  readonly points: ReadonlyMap<string, readonly PlacePoint[]>;
  readonly now: Date;
}

/** One hour for all, the earliest that a new point lies in: taking a history up from an earlier hour gives the same history. */
function windowStart(work: PlacementWork): number {
  let earliest = Number.POSITIVE_INFINITY;
  for (const points of work.points.values()) for (const point of points) earliest = Math.min(earliest, point.atMs);
  return hourStart(earliest);
}

function lastSeen(appliance: FoundAppliance, points: readonly PlacePoint[]): { id: string; at: Date } | null {
  let latest = appliance.lastSeenAt?.getTime() ?? Number.NEGATIVE_INFINITY;
  for (const point of points) if (point.kind === "seen") latest = Math.max(latest, point.atMs);
  return latest > (appliance.lastSeenAt?.getTime() ?? Number.NEGATIVE_INFINITY) ? { id: appliance.id, at: new Date(latest) } : null;
}

function moveOf(appliance: FoundAppliance, { stays }: Rewritten): Move | null {
  const last = stays.at(-1);
  if (!last || last.toMs !== null) return null;
  const { siteId, unitId, outletId, receptacle } = appliance;
  const to = last.place;
  if (siteId === to.siteId && unitId === to.unitId && outletId === to.outletId && receptacle === to.receptacle) return null;
  return { appliance, from: { siteId, unitId, outletId, receptacle }, to, source: last.source };
}

function together(results: readonly Rewritten[], moves: readonly Move[], seen: PlacementChanges["lastSeen"]): PlacementChanges {
  const all = <K extends keyof Rewritten["changes"]>(name: K) =>
    results.flatMap(({ changes }) => changes[name] as readonly unknown[]) as unknown as Rewritten["changes"][K];
  return {
    newObservations: all("newObservations"),
    goneObservations: all("goneObservations"),
    newPlacements: all("newPlacements"),
    gonePlacements: all("gonePlacements"),
    ends: all("ends"),
    starts: all("starts"),
    places: moves.map(({ appliance, to }) => ({ id: appliance.id, ...to })),
    lastSeen: seen,
  };
}

/**
 * Writes new points into the appliances' histories and moves those whose latest place is another now. Call it inside a
 * transaction. Returns the moves, for the record.
 */
export async function writePoints(tx: Db, work: PlacementWork): Promise<Move[]> {
  const ids = [...work.points.keys()];
  if (ids.length === 0) return [];
  await holdAppliances(tx, ids);
  const fromMs = windowStart(work);
  const from = new Date(fromMs);
  const placements = grouped(await placementsFrom(tx, ids, from), ({ applianceId }) => applianceId);
  const kept = await observationsFrom(tx, ids, from);
  const observations = grouped(kept, ({ applianceId }) => applianceId);
  const outletIds = [...new Set(kept.map(({ outletId }) => outletId))];
  const outlets = new Map((await outletsById(tx, work.organisationId, outletIds)).map((outlet) => [outlet.id, outlet]));
  const results: Rewritten[] = [];
  const moves: Move[] = [];
  const seen: { id: string; at: Date }[] = [];
  for (const appliance of await appliancesById(tx, work.organisationId, ids)) {
    const fresh = work.points.get(appliance.id) ?? [];
    const stored = { placements: placements.get(appliance.id) ?? [], observations: observations.get(appliance.id) ?? [] };
    const result = rewriteWindow({ organisationId: work.organisationId, applianceId: appliance.id, fromMs, fresh, outlets, ...stored });
    const move = moveOf(appliance, result);
    const latest = lastSeen(appliance, fresh);
    results.push(result);
    if (move) moves.push(move);
    if (latest) seen.push(latest);
  }
  const changes = together(results, moves, seen);
  await writePlacements(tx, changes, work.now);
  await markMoved(tx, work.organisationId, [...placements.values()].flat(), { changes, fromMs });
  return moves;
}

/** Energy is booked by placement, so the booked hours of outlets whose stays have changed are due again. */
async function markMoved(
  tx: Db,
  organisationId: string,
  stored: readonly Placement[],
  { changes, fromMs }: { readonly changes: PlacementChanges; readonly fromMs: number },
): Promise<void> {
  const ids = new Set([...changes.gonePlacements, ...changes.ends.map(({ id }) => id), ...changes.starts.map(({ id }) => id)]);
  const touched = [...stored.filter(({ id }) => ids.has(id)), ...changes.newPlacements];
  const outletIds = [...new Set(touched.flatMap(({ outletId }) => outletId ?? []))];
  // Where nothing older is known, the first place counts backwards too.
  const isFirst = !stored.some(({ fromAt }) => fromAt.getTime() < fromMs);
  if (outletIds.length > 0) await markBookedHours(tx, organisationId, outletIds, new Date(isFirst ? 0 : fromMs));
}
