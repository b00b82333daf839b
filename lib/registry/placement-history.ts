import { isFirstByName } from "@/lib/watch/first-by-name";

/** Where an appliance is: an outlet's receptacle, a unit, or the site alone (a shared area). Ids of the registry. */
export interface Place {
  readonly siteId: string;
  readonly unitId: string | null;
  readonly outletId: string | null;
  /** Canonical receptacle, see `receptacleKey`. */
  readonly receptacle: string | null;
}

/**
 * One dated word about a place. `seen` is a tag observed at a receptacle; `said` is a person's or a file's statement; `gone` ends
 * the stay, as retiring does. Milliseconds since the epoch.
 */
export interface PlacePoint {
  readonly kind: "seen" | "said" | "gone";
  readonly atMs: number;
  readonly place: Place;
  /** The outlet's name, of a sighting. */
  readonly outletName?: string;
  readonly source: string;
}

/** A stretch of time at one place; `toMs` null is now. */
export interface Stay {
  readonly place: Place;
  readonly fromMs: number;
  readonly toMs: number | null;
  readonly source: string;
}

/** Sources of statements; every other source is an observation's. */
export const statementSources = ["labels", "form"] as const;
export type StatementSource = (typeof statementSources)[number];

export function isStatement(source: string): boolean {
  return (statementSources as readonly string[]).includes(source);
}

export const hourMs = 3_600_000;

/** Start of the hour, by which sightings are thinned. */
export function hourStart(atMs: number): number {
  return Math.floor(atMs / hourMs) * hourMs;
}

function spot(place: Place): string {
  return `${place.outletId ?? ""} ${place.receptacle ?? ""}`;
}

const kindOrder = { said: 0, seen: 1, gone: 2 } as const;

/** Total order of points, so that the history does not depend on the order in which they came. */
function comparePoints(a: PlacePoint, b: PlacePoint): number {
  if (a.atMs !== b.atMs) return a.atMs - b.atMs;
  if (a.kind !== b.kind) return kindOrder[a.kind] - kindOrder[b.kind];
  const [left, right] = [spot(a.place) + a.source, spot(b.place) + b.source];
  return left < right ? -1 : left > right ? 1 : 0;
}

const namedPlace = ({ place, outletName }: PlacePoint) => ({
  outlet: outletName ?? place.outletId ?? "",
  receptacle: place.receptacle ?? "",
});

/** Of sightings of one appliance at one instant at several places, those at the first by name: the others are contradicted by them. */
export function withoutContradicted(points: readonly PlacePoint[]): PlacePoint[] {
  const first = new Map<number, PlacePoint>();
  for (const point of points) {
    const best = first.get(point.atMs);
    if (!best || isFirstByName(namedPlace(point), namedPlace(best))) first.set(point.atMs, point);
  }
  return points.filter((point) => spot(point.place) === spot(first.get(point.atMs)!.place));
}

/**
 * Of the sightings of one appliance at one receptacle, the first and the last of each hour: what is kept. First and last do not
 * depend on the order of arrival. Of equal instants the first source by name stays.
 */
export function thinSightings(points: readonly PlacePoint[]): PlacePoint[] {
  const hours = new Map<string, { first: PlacePoint; last: PlacePoint }>();
  for (const point of points) {
    const key = `${spot(point.place)} ${hourStart(point.atMs)}`;
    const hour = hours.get(key);
    if (!hour) hours.set(key, { first: point, last: point });
    else {
      if (comparePoints(point, hour.first) < 0) hour.first = point;
      if (point.atMs > hour.last.atMs || (point.atMs === hour.last.atMs && point.source < hour.last.source)) hour.last = point;
    }
  }
  return [...hours.values()].flatMap(({ first, last }) => (first.atMs === last.atMs ? [first] : [first, last]));
}

/** A sighting that names no receptacle proves the outlet only, so it leaves a stay at one of its receptacles as it is. */
function isSameSpot(stay: Place, seen: Place): boolean {
  return stay.outletId === seen.outletId && (seen.receptacle === null || stay.receptacle === seen.receptacle);
}

/**
 * The stays that follow from points, in time order. `before` is the stay that was running when the points begin. A sighting at
 * the same place only lengthens; a statement always begins a stay. A labels file does not say when its labels were read: where
 * its statement stands first (`before` is null), it holds from the earliest point on.
 */
export function staysOf(before: Stay | null, points: readonly PlacePoint[]): Stay[] {
  const sorted = [...points].sort(comparePoints);
  const stays: { place: Place; fromMs: number; toMs: number | null; source: string }[] = before ? [{ ...before, toMs: null }] : [];
  const undated = before ? undefined : sorted.find((point) => point.kind === "said");
  const opensUndated = undated?.source === "labels";
  if (undated && opensUndated) {
    stays.push({ place: undated.place, fromMs: sorted[0]?.atMs ?? undated.atMs, toMs: null, source: undated.source });
  }
  for (const point of sorted) {
    if (opensUndated && point === undated) continue;
    const open = stays.at(-1)?.toMs === null ? stays.at(-1) : undefined;
    if (open && point.kind === "seen" && isSameSpot(open.place, point.place)) continue;
    if (open) open.toMs = point.atMs;
    if (point.kind !== "gone") stays.push({ place: point.place, fromMs: point.atMs, toMs: null, source: point.source });
  }
  return stays;
}
