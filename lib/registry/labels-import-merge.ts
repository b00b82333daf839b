import { readPlateIdentity } from "@/lib/identity/plate-identity";
import { labelFactNames } from "@/lib/store/appliance-selects";
import type { KnownAppliance } from "@/lib/store/label-import-queries";
import { filledFacts, type LabelFacts, type Supply } from "./appliance-columns";
import type { ChunkChanges } from "./import-file";
import type { ReadLabel } from "./labels-import-read";
import type { Place } from "./placement-history";
import { samePlaceSaid } from "./same-row";

/** An appliance as the import finds it, makes it and changes it, before it is written. */
export interface Standing {
  readonly id: string;
  readonly tag: string;
  readonly tagKey: string;
  readonly tagIssued: boolean;
  readonly isNew: boolean;
  readonly version: number;
  /** A hold keeps it as it is: a row that says something new of it is set aside. */
  readonly isHeld: boolean;
  place: Place;
  supply: Supply;
  facts: LabelFacts;
  sameRowKey: string | null;
  sameRowOrdinal: number | null;
  rowHash: string | null;
  isChanged: boolean;
  isMoved: boolean;
  /** Only what the file said is new, not what is known. */
  isHeard: boolean;
  /** The place and facts before this chunk; null for a new one. */
  readonly was: { readonly place: Place; readonly facts: LabelFacts } | null;
}

/** An appliance of the registry, as a row may change it. */
export function standingOf(known: KnownAppliance, isHeld: boolean): Standing {
  const { id, tag, tagKey, siteId, unitId, outletId, receptacle, sameRowKey, sameRowOrdinal, rowHash, version } = known;
  const facts = Object.fromEntries(labelFactNames.map((name) => [name, known[name]])) as unknown as LabelFacts;
  const place = { siteId, unitId, outletId, receptacle };
  return {
    id,
    tag,
    tagKey,
    tagIssued: false,
    isNew: false,
    version,
    isHeld,
    was: { place, facts },
    place,
    supply: null,
    facts,
    sameRowKey,
    sameRowOrdinal,
    rowHash,
    isChanged: false,
    isMoved: false,
    isHeard: false,
  };
}

/** What a file changed of each appliance that was there, by its id: before and after, the changed fields only. */
export function changesOf(all: readonly Standing[]): ChunkChanges {
  const changes: ChunkChanges = {};
  for (const { id, was, isChanged, place, facts } of all) {
    if (was === null || !isChanged) continue;
    const old: Record<string, unknown> = { ...was.place, ...was.facts };
    const fresh: Record<string, unknown> = { ...place, ...facts };
    const names = Object.keys(fresh).filter((name) => old[name] !== fresh[name]);
    const pick = (row: Record<string, unknown>) => Object.fromEntries(names.map((name) => [name, row[name]]));
    if (names.length > 0) changes[id] = { before: pick(old), after: pick(fresh) };
  }
  return changes;
}

/** What the plate's text gave earlier is read again from the new text; what was typed stays. */
function withoutOldReadings(facts: LabelFacts, said: LabelFacts): LabelFacts {
  if (facts.labelText === null || said.labelText === null || said.labelText === facts.labelText) return facts;
  const plate = readPlateIdentity(facts.labelText);
  return {
    ...facts,
    model: facts.model === plate.model ? null : facts.model,
    serial: facts.serial === plate.serial ? null : facts.serial,
    dateCode: facts.dateCode === plate.dateCode ? null : facts.dateCode,
  };
}

/** What is known with what a row says: an empty cell never erases. The row's facts come filled from its plate's text. */
export function mergeFacts(known: LabelFacts, cells: LabelFacts): LabelFacts {
  const base = withoutOldReadings(known, cells);
  const merged = Object.fromEntries(labelFactNames.map((name) => [name, cells[name] ?? base[name]])) as unknown as LabelFacts;
  return filledFacts(merged);
}

const samePlace = (a: Place, b: Place): boolean =>
  a.siteId === b.siteId && a.unitId === b.unitId && a.outletId === b.outletId && a.receptacle === b.receptacle;

/** Where the appliance is now with where a row says it is: an empty cell keeps what is known, as long as it still fits. */
export function mergePlace(known: Place, said: Place): Place {
  if (said.siteId !== known.siteId) return said;
  const unitId = said.unitId ?? known.unitId;
  if (known.unitId !== null && unitId !== known.unitId) return { ...said, unitId };
  const outletId = said.outletId ?? known.outletId;
  const receptacle = outletId === known.outletId ? (said.receptacle ?? known.receptacle) : said.receptacle;
  return { siteId: known.siteId, unitId, outletId, receptacle };
}

export interface SaidPlace {
  readonly place: Place;
  readonly supply: Supply;
}

const isOther = (a: string | number | null, b: string | number | null) => a !== null && b !== null && a !== b;

/** The first thing that a row says otherwise than what is known; null when it only adds. */
function saysOtherwise(standing: Standing, read: ReadLabel, said: Place): string | null {
  const { place, facts } = standing;
  const moved = (["siteId", "unitId", "outletId", "receptacle"] as const).find((name) => isOther(place[name], said[name]));
  if (moved) return "place";
  const fact = labelFactNames.find((name) => isOther(facts[name], read.facts[name]));
  return fact ? `${fact} (${facts[fact]} there, ${read.facts[fact]} here)` : null;
}

export type RowOutcome = "updated" | "unchanged" | { readonly contradiction: string };

/**
 * Applies a row to an appliance that is there. What the last file said already is not news, so a later move or edit stands. Of
 * two rows of one file for the same appliance the first holds, and a second that says otherwise is a contradiction.
 */
export function applyRow(standing: Standing, read: ReadLabel, said: SaidPlace): RowOutcome {
  if (read.hash === standing.rowHash) return "unchanged";
  const other = read.earlierLine === null ? null : saysOtherwise(standing, read, said.place);
  if (other !== null) {
    const contradiction = `Line ${read.earlierLine} means the same appliance (${standing.tag}) and says otherwise of its ${other}; one of them must be wrong.`;
    return { contradiction };
  }
  const facts = mergeFacts(standing.facts, read.facts);
  const place = samePlaceSaid(read.hash, standing.rowHash) ? standing.place : mergePlace(standing.place, said.place);
  const isMoved = !samePlace(place, standing.place);
  const isChanged = isMoved || labelFactNames.some((name) => facts[name] !== standing.facts[name]);
  if (isChanged && standing.isHeld)
    return {
      contradiction: `${standing.tag} is under a hold, so nothing about it is changed: bring the row in again when the hold is released.`,
    };
  standing.rowHash = read.hash;
  standing.isHeard = true;
  if (!isChanged) return "unchanged";
  standing.facts = facts;
  standing.place = place;
  standing.isChanged = true;
  standing.isMoved ||= isMoved;
  return "updated";
}
