import { randomInt } from "node:crypto";
import { issueTagCode, tagKey } from "@/lib/identity/tag-code";
import type { Db } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";
import type { SetAsideDraft } from "@/lib/store/import-queries";
import { findAppliancesBySameRow, findAppliancesByTag, findTagCodes } from "@/lib/store/label-import-queries";
import { setAsideOf } from "./import-file";
import { applyRow, type RowOutcome, type SaidPlace, type Standing, standingOf } from "./labels-import-merge";
import type { LabelPlaces } from "./labels-import-places";
import type { ReadLabel } from "./labels-import-read";
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

/** The appliances that a chunk's rows may mean, and those it makes. */
export class ChunkAppliances {
  readonly all: Standing[] = [];
  private readonly byTag = new Map<string, Standing>();
  private readonly byRow = new Map<string, Standing>();

  add(standing: Standing): Standing {
    const known = this.byTag.get(standing.tagKey);
    if (known) return known;
    this.all.push(standing);
    this.byTag.set(standing.tagKey, standing);
    return standing;
  }

  /** The first one, that is the oldest, keeps a key that several have. */
  addRow(standing: Standing): void {
    if (standing.sameRowKey === null) return;
    const key = ordinalKey(standing.sameRowKey, standing.sameRowOrdinal);
    if (!this.byRow.has(key)) this.byRow.set(key, standing);
  }

  find({ read, rowKey }: PlacedLabel): Standing | undefined {
    if (read.tagKey !== null) return this.byTag.get(read.tagKey);
    return rowKey === null ? undefined : this.byRow.get(ordinalKey(rowKey, read.ordinal));
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
    const { siteId, unitId, outletId, siteVolts } = found;
    const { brand, model, serial } = read.facts;
    const rowKey = read.contentKey ?? serialRowKey({ siteId, unitId, brand, model, serial });
    return [{ read, said: { place: { siteId, unitId, outletId, receptacle: read.row.receptacle }, siteVolts }, rowKey }];
  });
}

/** Loads what the registry knows of the rows, by tag and by the row they came from. */
export async function loadKnown(tx: Db, organisationId: string, rows: readonly PlacedLabel[]): Promise<ChunkAppliances> {
  const appliances = new ChunkAppliances();
  const tags = [...new Set(rows.flatMap(({ read }) => (read.tagKey === null ? [] : [read.tagKey])))];
  if (tags.length > 0) for (const known of await findAppliancesByTag(tx, organisationId, tags)) appliances.add(standingOf(known));
  const keys = [...new Set(rows.flatMap(({ read, rowKey }) => (read.tagKey === null && rowKey !== null ? [rowKey] : [])))];
  if (keys.length > 0) {
    for (const known of await findAppliancesBySameRow(tx, organisationId, keys)) appliances.addRow(appliances.add(standingOf(known)));
  }
  return appliances;
}

/** A row's own key in the registry from now on: by serial also for tagged rows, by content only for untagged ones. */
function keyOf(row: PlacedLabel, standing: Pick<Standing, "place" | "facts">): Pick<Standing, "sameRowKey" | "sameRowOrdinal"> {
  if (row.read.contentKey !== null) return { sameRowKey: row.read.contentKey, sameRowOrdinal: row.read.ordinal };
  const { brand, model, serial } = standing.facts;
  const { siteId, unitId } = row.said.place;
  return { sameRowKey: serialRowKey({ siteId, unitId, brand, model, serial }), sameRowOrdinal: null };
}

/** A new appliance from a row. */
export function makeStanding(row: PlacedLabel, tag: string, tagIssued: boolean): Standing {
  const { read, said } = row;
  const { place, siteVolts } = said;
  const base = { id: newId(), tag, tagKey: tagKey(tag), tagIssued, isNew: true, version: 1, place, siteVolts, facts: read.facts };
  return { ...base, ...keyOf(row, base), rowHash: read.hash, isChanged: false, isMoved: false, isHeard: false };
}

/** Applies a row to the appliance it means; afterwards the appliance is found by this row's key. */
export function changeStanding(standing: Standing, row: PlacedLabel): RowOutcome {
  const outcome = applyRow(standing, row.read, row.said);
  if (typeof outcome === "object") return outcome;
  if (standing.place.siteId === row.said.place.siteId) standing.siteVolts = row.said.siteVolts;
  const key = keyOf(row, standing);
  if (standing.isHeard && key.sameRowKey !== null) Object.assign(standing, key);
  return outcome;
}
