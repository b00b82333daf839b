import { type Actor, recordName } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { tagKey } from "@/lib/identity/tag-code";
import type { Db, Store } from "@/lib/store/client";
import { appliancesByTag, type FoundAppliance, type FoundOutlet, outletsByName } from "@/lib/store/placement-queries";
import { appendRecord } from "@/lib/store/record";
import { nameKey, receptacleKey } from "./place-name";
import type { PlacePoint } from "./placement-history";
import { type Move, writePoints } from "./placement-write";

/** A tag seen at a receptacle at a time, as a log or a reader says it. */
export interface Sighting {
  readonly tag: string;
  /** The outlet's name, unique within the organisation. */
  readonly outlet: string;
  readonly receptacle: string | null;
  readonly at: Date;
}

/** What became of sightings. Unknown tags and outlets are told by their names, as written, each once. */
export interface ObservationAccount {
  readonly taken: number;
  /** Appliances that are now elsewhere than the registry had them. */
  readonly moved: readonly { readonly applianceId: string; readonly tag: string; readonly outlet: string }[];
  /** Appliances seen plugged in although they are out of use or retired. */
  readonly seenAlthoughOut: readonly string[];
  readonly unknownTags: readonly string[];
  readonly unknownOutlets: readonly string[];
}

export interface ObservationWork {
  readonly sightings: readonly Sighting[];
  /** Who saw it: "log", a reader's name, "walk". */
  readonly source: string;
  readonly now: Date;
}

interface Resolved {
  readonly appliances: ReadonlyMap<string, FoundAppliance>;
  readonly outlets: ReadonlyMap<string, FoundOutlet>;
}

async function resolve(tx: Db, actor: Actor, sightings: readonly Sighting[]): Promise<Resolved> {
  const tags = [...new Set(sightings.map(({ tag }) => tagKey(tag)))];
  const names = [...new Set(sightings.map(({ outlet }) => nameKey(outlet)))];
  const appliances = await appliancesByTag(tx, actor.organisationId, tags);
  const outlets = await outletsByName(tx, actor.organisationId, names);
  const mine = outlets.filter(({ siteId }) => actor.siteIds === "all" || actor.siteIds.includes(siteId));
  return { appliances: new Map(appliances.map((row) => [row.tagKey, row])), outlets: new Map(mine.map((row) => [row.nameKey, row])) };
}

function point({ at, receptacle }: Sighting, outlet: FoundOutlet, source: string): PlacePoint {
  const place = { siteId: outlet.siteId, unitId: outlet.unitId, outletId: outlet.id, receptacle: receptacleKey(receptacle) };
  return { kind: "seen", atMs: at.getTime(), place, outletName: outlet.name, source };
}

function moveEntry(actor: Actor, move: Move, now: Date) {
  return {
    organisationId: actor.organisationId,
    at: now,
    actor: recordName(actor),
    what: "appliance moved by its tag",
    subjectKind: "appliance",
    subjectId: move.appliance.id,
    before: move.from,
    after: { ...move.to, source: move.source },
  };
}

/**
 * Takes sightings of tags inside the caller's transaction: the same place only lengthens a stay, another place moves the appliance
 * and keeps its history, late and repeated sightings end in the same history. Permission is the caller's.
 */
export async function takeSightings(tx: Db, actor: Actor, work: ObservationWork): Promise<ObservationAccount> {
  const { appliances, outlets } = await resolve(tx, actor, work.sightings);
  const points = new Map<string, PlacePoint[]>();
  const unknown = { tags: new Set<string>(), outlets: new Set<string>() };
  const out = new Set<string>();
  let taken = 0;
  for (const sighting of work.sightings) {
    const appliance = appliances.get(tagKey(sighting.tag));
    const outlet = outlets.get(nameKey(sighting.outlet));
    if (!appliance) unknown.tags.add(sighting.tag);
    if (!outlet) unknown.outlets.add(sighting.outlet);
    if (!appliance || !outlet) continue;
    taken += 1;
    if (appliance.state !== "in_use") out.add(appliance.id);
    const list = points.get(appliance.id) ?? [];
    list.push(point(sighting, outlet, work.source));
    points.set(appliance.id, list);
  }
  const moves = await writePoints(tx, { organisationId: actor.organisationId, points, now: work.now });
  await appendRecord(
    tx,
    moves.map((move) => moveEntry(actor, move, work.now)),
  );
  const names = new Map([...outlets.values()].map((outlet) => [outlet.id, outlet.name]));
  return {
    taken,
    moved: moves.map(({ appliance, to }) => ({
      applianceId: appliance.id,
      tag: appliance.tag,
      outlet: names.get(to.outletId ?? "") ?? "another place",
    })),
    seenAlthoughOut: [...out],
    unknownTags: [...unknown.tags],
    unknownOutlets: [...unknown.outlets],
  };
}

/**
 * Takes many sightings in one transaction, as a log gives them. Pass the first and the last of each unbroken series of a tag at a
 * receptacle, at least one a day (see `makeSightingSeries`); more are thinned to two an hour.
 */
export async function observeMany(db: Store, actor: Actor, work: ObservationWork): Promise<ObservationAccount> {
  requirePermission(actor, "load log");
  return db.$transaction((tx) => takeSightings(tx, actor, work));
}

/** Takes one sighting by a person who walks the building. An unknown tag or outlet is refused. */
export async function observe(
  db: Store,
  actor: Actor,
  sighting: Sighting & { readonly source: string; readonly now: Date },
): Promise<ObservationAccount> {
  requirePermission(actor, "edit appliances");
  const { source, now, ...seen } = sighting;
  return db.$transaction(async (tx) => {
    const account = await takeSightings(tx, actor, { sightings: [seen], source, now });
    const tag = account.unknownTags[0];
    const outlet = account.unknownOutlets[0];
    if (tag !== undefined) throw new Trouble("not_found", `No appliance has the tag "${tag}": add the appliance first.`, { tag });
    if (outlet !== undefined) throw new Trouble("not_found", `There is no outlet "${outlet}" at your sites: add it to the building first.`);
    return account;
  });
}
