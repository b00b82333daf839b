import { newId } from "@/lib/store/ids";
import type { FoundOutlet, PlacementChanges } from "@/lib/store/placement-queries";
import type { Observation, Placement } from "@/lib/store/rows";
import { isStatement, type Place, type PlacePoint, type Stay, staysOf, thinSightings, withoutContradicted } from "./placement-history";

/** What is stored of one appliance from the start of an hour on, and what is new. */
export interface PlacementWindow {
  readonly organisationId: string;
  readonly applianceId: string;
  readonly fromMs: number;
  readonly placements: readonly Placement[];
  readonly observations: readonly Observation[];
  readonly fresh: readonly PlacePoint[];
  /** The outlets of the observations, by id. */
  readonly outlets: ReadonlyMap<string, FoundOutlet>;
}

export interface Rewritten {
  readonly stays: readonly Stay[];
  readonly changes: Pick<PlacementChanges, "newObservations" | "goneObservations" | "newPlacements" | "gonePlacements" | "ends" | "starts">;
}

const placeOf = ({ siteId, unitId, outletId, receptacle }: Place): Place => ({ siteId, unitId, outletId, receptacle });

function seenAgain(row: Observation, outlet: FoundOutlet | undefined): PlacePoint {
  const place = { siteId: outlet?.siteId ?? "", unitId: outlet?.unitId ?? null, outletId: row.outletId, receptacle: row.receptacle };
  return { kind: "seen", atMs: row.at.getTime(), place, source: row.source, ...(outlet ? { outletName: outlet.name } : {}) };
}

/** Ends that no next placement explains. */
function endPoints(placements: readonly Placement[], fromMs: number): PlacePoint[] {
  return placements.flatMap((row, i) => {
    const next = placements[i + 1];
    if (row.toAt === null || row.toAt.getTime() < fromMs || next?.fromAt.getTime() === row.toAt.getTime()) return [];
    return [{ kind: "gone", atMs: row.toAt.getTime(), place: placeOf(row), source: row.source } as const];
  });
}

function saidAgain(row: Placement): PlacePoint {
  return { kind: "said", atMs: row.fromAt.getTime(), place: placeOf(row), source: row.source };
}

const observationKey = (outletId: string | null, receptacle: string | null, atMs: number) => `${outletId} ${receptacle} ${atMs}`;

function changedObservations(window: PlacementWindow, kept: readonly PlacePoint[]) {
  const wanted = new Map(kept.map((point) => [observationKey(point.place.outletId, point.place.receptacle, point.atMs), point]));
  const gone: string[] = [];
  for (const row of window.observations) {
    const key = observationKey(row.outletId, row.receptacle, row.at.getTime());
    if (wanted.get(key)?.source === row.source) wanted.delete(key);
    else gone.push(row.id);
  }
  const { organisationId, applianceId } = window;
  const fresh = [...wanted.values()].map(({ place, atMs, source }) => ({
    id: newId(),
    organisationId,
    applianceId,
    outletId: place.outletId ?? "",
    receptacle: place.receptacle,
    at: new Date(atMs),
    source,
  }));
  return { newObservations: fresh, goneObservations: gone };
}

const stayKey = (place: Place, source: string) => `${place.siteId} ${place.unitId} ${place.outletId} ${place.receptacle} ${source}`;
const date = (ms: number | null) => (ms === null ? null : new Date(ms));

/** Stored placements keep their ids where place, source and start are the same; where only the start has moved, it is moved. */
function changedPlacements(window: PlacementWindow, stays: readonly Stay[]) {
  const { organisationId, applianceId } = window;
  const left = [...window.placements];
  const changes = {
    newPlacements: [] as Placement[],
    ends: [] as { id: string; toAt: Date | null }[],
    starts: [] as { id: string; fromAt: Date }[],
  };
  const take = (stay: Stay, exact: boolean): Placement | undefined => {
    const i = left.findIndex(
      (row) => stayKey(row, row.source) === stayKey(stay.place, stay.source) && (!exact || row.fromAt.getTime() === stay.fromMs),
    );
    return i < 0 ? undefined : left.splice(i, 1)[0];
  };
  const exact = stays.map((stay) => take(stay, true));
  stays.forEach((stay, i) => {
    const row = exact[i] ?? take(stay, false);
    const [fromAt, toAt] = [new Date(stay.fromMs), date(stay.toMs)];
    if (!row)
      changes.newPlacements.push({ id: newId(), organisationId, applianceId, ...placeOf(stay.place), fromAt, toAt, source: stay.source });
    else {
      if ((row.toAt?.getTime() ?? null) !== stay.toMs) changes.ends.push({ id: row.id, toAt });
      if (row.fromAt.getTime() !== stay.fromMs) changes.starts.push({ id: row.id, fromAt });
    }
  });
  return { ...changes, gonePlacements: left.map((row) => row.id) };
}

/**
 * Rewrites one appliance's history from the start of an hour on, so that it is what all its points give, in whatever order they
 * came. Nothing before that hour changes: sightings are thinned within their hours.
 */
export function rewriteWindow(window: PlacementWindow): Rewritten {
  const { fromMs, placements, fresh } = window;
  const outlets = new Map([...placements, ...fresh.map((point) => point.place)].map((place) => [place.outletId, placeOf(place)]));
  const located = (point: PlacePoint) => {
    const known = outlets.get(point.place.outletId);
    return known ? { ...point, place: { ...known, receptacle: point.place.receptacle } } : point;
  };
  const running = placements.findLast((row) => row.fromAt.getTime() < fromMs && (row.toAt === null || row.toAt.getTime() >= fromMs));
  const later = placements.filter((row) => row.fromAt.getTime() >= fromMs);
  const before = window.observations.map((row) => seenAgain(row, window.outlets.get(row.outletId)));
  const seen = thinSightings(withoutContradicted([...before, ...fresh.filter((point) => point.kind === "seen")]));
  const said = [...later.filter((row) => isStatement(row.source)).map(saidAgain), ...fresh.filter((point) => point.kind === "said")];
  const gone = [...endPoints(placements, fromMs), ...fresh.filter((point) => point.kind === "gone")];
  const stay = running ? { place: placeOf(running), fromMs: running.fromAt.getTime(), toMs: null, source: running.source } : null;
  const stays = staysOf(stay, [...seen.map(located), ...said, ...gone]);
  const replaced = { ...window, placements: running ? [running, ...later] : later };
  return { stays, changes: { ...changedObservations(window, seen), ...changedPlacements(replaced, stays) } };
}
