import type { Actor } from "@/lib/access/actor";
import { Trouble } from "@/lib/access/trouble";
import { checkAfterLabels } from "@/lib/matching/cross-check.run";
import type { Db, Store } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";
import type { SetAsideDraft } from "@/lib/store/import-queries";
import {
  type ApplianceDraft,
  beginPlacements,
  findVoidTagCodes,
  insertAppliances,
  insertTagCodes,
  updateAppliances,
  updateSaid,
} from "@/lib/store/label-import-queries";
import { applianceColumns } from "./appliance-columns";
import type { CsvRow } from "./csv-source";
import type { ImportAccount } from "./import-account";
import { type ChunkOutcome, type ImportInput, type ImportKindOf, importFile, type RowTaker, setAsideOf } from "./import-file";
import { guessMapping, type LabelMapping } from "./label-row";
import {
  type ChunkAppliances,
  changeStanding,
  findHeads,
  freshTags,
  loadKnown,
  makeStanding,
  type PlacedLabel,
  placeRows,
  splitHeard,
} from "./labels-import-chunk";
import { changesOf, type Standing } from "./labels-import-merge";
import { LabelPlaces } from "./labels-import-places";
import { type LabelReading, makeLabelReader, type ReadLabel } from "./labels-import-read";

interface ReadChunk {
  readonly reads: readonly ReadLabel[];
  readonly setAside: readonly SetAsideDraft[];
}

export interface LabelsInput extends ImportInput {
  /** Which of our columns each header is; guessed from the names unless given. */
  readonly mapping?: LabelMapping;
}

/** Refuses headers that cannot be a labels file, naming what is missing. */
export function requireLabelMapping(mapping: LabelMapping): void {
  const targets = new Set(Object.values(mapping));
  if (!targets.has("site")) {
    throw new Trouble(
      "unreadable",
      "No column says at which site an appliance is: name one `site`, or say which it is when bringing the file in.",
    );
  }
}

function draftOf(standing: Standing): ApplianceDraft {
  const { id, tag, tagIssued, place, facts, supply, sameRowKey, sameRowOrdinal, rowHash, version } = standing;
  const next = standing.isNew ? version : version + 1;
  const columns = applianceColumns(tag, facts, supply);
  return { id, tag, tagIssued, ...place, ...facts, ...columns, sameRowKey, sameRowOrdinal, rowHash: rowHash ?? "", version: next };
}

/** Tags that were voided or belong to nothing any more; they are never used again. */
async function withoutVoidTags(tx: Db, actor: Actor, reads: readonly ReadLabel[], setAside: SetAsideDraft[]): Promise<ReadLabel[]> {
  const keys = [...new Set(reads.flatMap((read) => (read.tagKey === null ? [] : [read.tagKey])))];
  if (keys.length === 0) return [...reads];
  const voided = new Set(await findVoidTagCodes(tx, actor.organisationId, keys));
  if (voided.size === 0) return [...reads];
  return reads.filter((read) => {
    if (read.tagKey === null || !voided.has(read.tagKey)) return true;
    setAside.push(setAsideOf(read.source, `tag: ${read.row.tag} was voided and is never used again; put a new tag on the appliance.`));
    return false;
  });
}

/** Those of the rows that the actor may change, given where the appliance is now. */
function mayTouch(actor: Actor, siteId: string): boolean {
  return actor.siteIds === "all" || actor.siteIds.includes(siteId);
}

const notTheirs = (row: PlacedLabel, tag: string): SetAsideDraft =>
  setAsideOf(row.read.source, `tag: ${tag} is at a site that is not one of yours; ask an administrator.`);

interface Tally {
  created: number;
  updated: number;
  unchanged: number;
}

/** Untagged rows that nothing known is meant by need a new tag each; within the chunk two of them may be the same appliance. */
function countNewTags(rows: readonly PlacedLabel[], appliances: ChunkAppliances<Standing>): number {
  return rows.filter((row) => row.read.tagKey === null && !appliances.find(row)).length;
}

async function decide(
  tx: Db,
  actor: Actor,
  rows: readonly PlacedLabel[],
  setAside: SetAsideDraft[],
): Promise<Tally & { appliances: ChunkAppliances<Standing> }> {
  const heads = await findHeads(tx, actor.organisationId, rows);
  const { heard, others, withNews } = splitHeard(rows, heads);
  const tally: Tally = { created: 0, updated: 0, unchanged: 0 };
  for (const { row, head } of heard) {
    if (mayTouch(actor, head.siteId)) tally.unchanged += 1;
    else setAside.push(notTheirs(row, head.tag));
  }
  const appliances = await loadKnown(tx, actor.organisationId, heads, withNews);
  const tags = await freshTags(tx, actor.organisationId, countNewTags(others, appliances));
  for (const row of others) {
    const standing = appliances.find(row);
    if (!standing) {
      const tag = row.read.row.tag ?? tags.pop() ?? "";
      const fresh = makeStanding(row, tag, row.read.tagKey === null || row.read.isOwnTag);
      appliances.add(fresh);
      appliances.addRow(fresh);
      tally.created += 1;
    } else if (mayTouch(actor, standing.place.siteId)) {
      const outcome = changeStanding(standing, row);
      if (typeof outcome === "object") setAside.push(setAsideOf(row.read.source, outcome.contradiction));
      else tally[outcome] += 1;
      appliances.addRow(standing);
    } else setAside.push(notTheirs(row, standing.tag));
  }
  return { ...tally, appliances };
}

async function write(tx: Db, organisationId: string, all: readonly Standing[], now: Date): Promise<void> {
  const fresh = all.filter((standing) => standing.isNew);
  const changed = all.filter((standing) => !standing.isNew && standing.isChanged);
  const heard = all.filter((standing) => !standing.isNew && !standing.isChanged && standing.isHeard);
  await insertAppliances(tx, organisationId, fresh.map(draftOf), now);
  await updateAppliances(tx, changed.map(draftOf), now);
  await updateSaid(tx, heard);
  await insertTagCodes(
    tx,
    organisationId,
    fresh.map(({ tagKey, id }) => ({ tagKey, applianceId: id })),
    now,
  );
  const moved = changed.filter((standing) => standing.isMoved);
  const stays = [...fresh, ...moved].map(({ id, place }) => ({ id: newId(), applianceId: id, ...place }));
  await beginPlacements(
    tx,
    organisationId,
    stays,
    moved.map(({ id }) => id),
    now,
  );
}

function labelTaker(actor: Actor, readOne: (source: CsvRow) => LabelReading): RowTaker<ReadChunk> {
  const places = new LabelPlaces(actor);
  const read = (rows: readonly CsvRow[]): ReadChunk => {
    const reads: ReadLabel[] = [];
    const setAside: SetAsideDraft[] = [];
    for (const row of rows) {
      const reading = readOne(row);
      if ("read" in reading) reads.push(reading.read);
      else setAside.push(setAsideOf(reading.source, reading.reason));
    }
    return { reads, setAside };
  };
  const store = async (tx: Db, chunk: ReadChunk, now: Date): Promise<ChunkOutcome> => {
    const setAside = [...chunk.setAside];
    const reads = await withoutVoidTags(tx, actor, chunk.reads, setAside);
    await places.prepare(
      tx,
      reads.map((one) => one.row),
      now,
    );
    const { appliances, ...tally } = await decide(tx, actor, placeRows(reads, places, setAside), setAside);
    await write(tx, actor.organisationId, appliances.all, now);
    return { ...tally, setAside, changed: changesOf(appliances.all) };
  };
  return { read, store, remarks: () => places.remarks() };
}

/**
 * Brings a labels file into the registry. A row is the appliance with its tag; without a tag, the one with its site, unit,
 * brand, model and serial; with neither, the n-th of its content. So the same file twice changes nothing, and an empty cell
 * never erases. Unknown sites, units and outlets are made and named in the message. What came in is compared with the recall lists.
 */
export async function loadLabels(db: Store, actor: Actor, input: LabelsInput): Promise<ImportAccount> {
  const unreadableCells = input.unreadableCells ?? "set_aside";
  const kind: ImportKindOf<ReadChunk> = {
    kind: "labels",
    permission: "bring in labels",
    prepare: (headers) => {
      const given = input.mapping ?? guessMapping(headers);
      const mapping: LabelMapping = Object.fromEntries(headers.map((header) => [header, given[header] ?? null]));
      requireLabelMapping(mapping);
      return { targets: mapping, taker: labelTaker(actor, makeLabelReader(headers, mapping, unreadableCells)) };
    },
  };
  const account = await importFile(db, actor, kind, input);
  await checkAfterLabels(db, actor, account.id, input.now);
  return account;
}
