import { randomInt } from "node:crypto";
import { issueTagCode, tagKey } from "@/lib/identity/tag-code";
import type { Db } from "@/lib/store/client";
import { heldThings } from "@/lib/store/hold-queries";
import { newId } from "@/lib/store/ids";
import type { SetAsideDraft } from "@/lib/store/import-queries";
import {
  type ApplianceHead,
  findHeadsBySameRow,
  findHeadsByTag,
  findKnownAppliances,
  findTagCodes,
} from "@/lib/store/label-import-queries";
import type { LabelFacts } from "./appliance-columns";
import { setAsideOf } from "./import-file";
import { applyRow, type RowOutcome, type SaidPlace, type Standing, standingOf } from "./labels-import-merge";
import type { LabelPlaces } from "./labels-import-places";
import type { ReadLabel } from "./labels-import-read";
import type { Place } from "./placement-history";
import { serialRowKey } from "./same-row";

/** A row with its place found: ready to be compared with what is known. */
export interface PlacedLabel {
  readonly read: ReadLabel;
  readonly said: SaidPlace;
  /** Key of the row where it has no tag, with its ordinal. */
  readonly rowKey: string | null;
}

/** Codes for `count` new tags that were never used in the organisation. */
export async function freshTags(tx: Db, organisationId: string, count: number): Promise<string[]> {
  const tags = new Map<string, string>();
  while (tags.size < count) {
    const drawn = new Map<string, string>();
    while (tags.size + drawn.size < count) {
      const tag = issueTagCode(randomInt);
      if (!tags.has(tagKey(tag))) drawn.set(tagKey(tag), tag);
    }
    const used = new Set((await findTagCodes(tx, organisationId, [...drawn.keys()])).map((code) => code.tagKey));
    for (const [key, tag] of drawn) if (!used.has(key)) tags.set(key, tag);
  }
  return [...tags.values()];
}

const ordinalKey = (key: string, ordinal: number | null) => `${key} ${ordinal ?? ""}`;

type Keys = Pick<Standing, "tagKey" | "sameRowKey" | "sameRowOrdinal">;

/** The appliances that a chunk's rows may mean, and those it makes. */
export class ChunkAppliances<Appliance extends Keys> {
  readonly all: Appliance[] = [];
  private readonly byTag = new Map<string, Appliance>();
  private readonly byRow = new Map<string, Appliance>();

  add(appliance: Appliance): Appliance {
    const known = this.byTag.get(appliance.tagKey);
    if (known) return known;
    this.all.push(appliance);
    this.byTag.set(appliance.tagKey, appliance);
    return appliance;
  }

  /** The first one, that is the oldest, keeps a key that several have. */
  addRow(appliance: Appliance): void {
    if (appliance.sameRowKey === null) return;
    const key = ordinalKey(appliance.sameRowKey, appliance.sameRowOrdinal);
    if (!this.byRow.has(key)) this.byRow.set(key, appliance);
  }

  find({ read, rowKey }: PlacedLabel): Appliance | undefined {
    if (read.tagKey !== null) return this.byTag.get(read.tagKey);
    return rowKey === null ? undefined : this.byRow.get(ordinalKey(rowKey, read.ordinal));
  }

  /** Puts what `fuller` knows of each of these under the same keys of another; those it does not know stay out. */
  copyTo<Fuller extends Keys>(other: ChunkAppliances<Fuller>, fuller: (appliance: Appliance) => Fuller | undefined): void {
    for (const appliance of this.all) {
      const known = fuller(appliance);
      if (known) other.add(known);
    }
    for (const [key, appliance] of this.byRow) {
      const known = fuller(appliance);
      if (known) other.byRow.set(key, known);
    }
  }
}

/** Finds the places of rows; those whose place contradicts what is known go to `setAside`. */
export function placeRows(reads: readonly ReadLabel[], places: LabelPlaces, setAside: SetAsideDraft[]): PlacedLabel[] {
  return reads.flatMap((read) => {
    const found = places.resolve(read.row);
    if ("reason" in found) {
      setAside.push(setAsideOf(read.source, found.reason));
      return [];
    }
    const { siteId, unitId, outletId, supply } = found;
    const rowKey = read.tagKey === null ? (read.contentKey ?? serialKeyOf(read.facts, found)) : null;
    return [{ read, said: { place: { siteId, unitId, outletId, receptacle: read.row.receptacle }, supply }, rowKey }];
  });
}

/** The appliances that the rows mean, by tag and by the row they came from, no further than to tell whether a row says anything new. */
export async function findHeads(tx: Db, organisationId: string, rows: readonly PlacedLabel[]): Promise<ChunkAppliances<ApplianceHead>> {
  const heads = new ChunkAppliances<ApplianceHead>();
  const tags = [...new Set(rows.flatMap(({ read }) => (read.tagKey === null ? [] : [read.tagKey])))];
  if (tags.length > 0) for (const head of await findHeadsByTag(tx, organisationId, tags)) heads.add(head);
  const keys = [...new Set(rows.flatMap(({ read, rowKey }) => (read.tagKey === null && rowKey !== null ? [rowKey] : [])))];
  if (keys.length > 0) for (const head of await findHeadsBySameRow(tx, organisationId, keys)) heads.addRow(heads.add(head));
  return heads;
}

/** The rows of which every one that means the same appliance says what the last file said, and the others. */
export function splitHeard(rows: readonly PlacedLabel[], heads: ChunkAppliances<ApplianceHead>) {
  const withNews = new Set<ApplianceHead>();
  for (const row of rows) {
    const head = heads.find(row);
    if (head && head.rowHash !== row.read.hash) withNews.add(head);
  }
  const heard: { row: PlacedLabel; head: ApplianceHead }[] = [];
  const others: PlacedLabel[] = [];
  for (const row of rows) {
    const head = heads.find(row);
    if (head && !withNews.has(head)) heard.push({ row, head });
    else others.push(row);
  }
  return { heard, others, withNews };
}

/** Loads what the registry knows of the appliances that rows say something new of; they are found under the same keys as their heads. */
export async function loadKnown(
  tx: Db,
  organisationId: string,
  heads: ChunkAppliances<ApplianceHead>,
  withNews: ReadonlySet<ApplianceHead>,
): Promise<ChunkAppliances<Standing>> {
  const appliances = new ChunkAppliances<Standing>();
  if (withNews.size === 0) return appliances;
  const known = await findKnownAppliances(
    tx,
    [...withNews].map((head) => head.id),
  );
  const held = await heldThings(tx, organisationId);
  const isHeld = ({ id, siteId }: (typeof known)[number]) => held.appliances.has(id) || held.sites.has(siteId);
  const standings = new Map(known.map((one) => [one.id, standingOf(one, isHeld(one))]));
  heads.copyTo(appliances, (head) => standings.get(head.id));
  return appliances;
}

const serialKeyOf = ({ brand, model, serial }: LabelFacts, { siteId, unitId }: Pick<Place, "siteId" | "unitId">): string | null =>
  serialRowKey({ siteId, unitId, brand, model, serial });

/** A row's own key in the registry from now on: by serial also for tagged rows, by content only for untagged ones. */
function keyOf(row: PlacedLabel, standing: Pick<Standing, "facts">): Pick<Standing, "sameRowKey" | "sameRowOrdinal"> {
  if (row.read.contentKey !== null) return { sameRowKey: row.read.contentKey, sameRowOrdinal: row.read.ordinal };
  if (standing.facts === row.read.facts && row.rowKey !== null) return { sameRowKey: row.rowKey, sameRowOrdinal: null };
  return { sameRowKey: serialKeyOf(standing.facts, row.said.place), sameRowOrdinal: null };
}

/** A new appliance from a row. */
export function makeStanding(row: PlacedLabel, tag: string, tagIssued: boolean): Standing {
  const { read, said } = row;
  const { place, supply } = said;
  const { sameRowKey, sameRowOrdinal } = keyOf(row, read);
  return {
    id: newId(),
    tag,
    tagKey: read.tagKey ?? tagKey(tag),
    tagIssued,
    isNew: true,
    version: 1,
    isHeld: false,
    was: null,
    place,
    supply,
    facts: read.facts,
    sameRowKey,
    sameRowOrdinal,
    rowHash: read.hash,
    isChanged: false,
    isMoved: false,
    isHeard: false,
  };
}

/** Applies a row to the appliance it means; afterwards the appliance is found by this row's key. */
export function changeStanding(standing: Standing, row: PlacedLabel): RowOutcome {
  const outcome = applyRow(standing, row.read, row.said);
  if (typeof outcome === "object") return outcome;
  if (standing.place.siteId === row.said.place.siteId) standing.supply = row.said.supply;
  const key = keyOf(row, standing);
  if (standing.isHeard && key.sameRowKey !== null) Object.assign(standing, key);
  return outcome;
}
