import type { Actor } from "@/lib/access/actor";
import { Trouble } from "@/lib/access/trouble";
import type { Db, Store } from "@/lib/store/client";
import type { SetAsideDraft } from "@/lib/store/import-queries";
import {
  insertCircuits,
  insertOutlets,
  insertSites,
  insertUnits,
  updateCircuits,
  updateOutlets,
  updateSites,
} from "@/lib/store/place-import-queries";
import type { CsvRow } from "./csv-source";
import type { ImportAccount } from "./import-account";
import { type ChunkOutcome, type ImportInput, type ImportKindOf, importFile, type RowTaker, setAsideOf } from "./import-file";
import { nameKey } from "./place-name";
import { guessPlaceMapping, type PlaceMapping, type PlaceRow, readPlaceRow } from "./place-row";
import { PlaceBook, type Shelf } from "./places-import-book";
import { contradiction, elsewhere, enterRow, incomplete, type SaidFigures } from "./places-import-enter";

export interface PlacesInput extends ImportInput {
  /** Which of our columns each header is; guessed from the names unless given. */
  readonly mapping?: PlaceMapping;
}

interface ReadPlace {
  readonly source: CsvRow;
  readonly row: PlaceRow;
  readonly reason: string | null;
}

/** Refuses headers that cannot be a places file, naming what is missing. */
export function requirePlaceMapping(mapping: PlaceMapping): void {
  const targets = new Set(Object.values(mapping));
  if (!targets.has("site")) {
    throw new Trouble(
      "unreadable",
      "No column says at which site a place is: name one `site`, or say which it is when bringing the file in.",
    );
  }
  if (!["unit", "circuit", "outlet"].some((column) => targets.has(column as "unit"))) {
    throw new Trouble("unreadable", "The file names neither units nor circuits nor outlets: a places file has one outlet a row.");
  }
}

function readOne(source: CsvRow, mapping: PlaceMapping, leaveOut: boolean): ReadPlace {
  const { row, problems } = readPlaceRow(source.record, mapping);
  const broken = problems.filter((problem) => problem.mended === undefined && !leaveOut);
  const reason =
    source.problem ?? (broken.length > 0 ? broken.map(({ column, problem }) => `${column}: ${problem}`).join(" ") : incomplete(row));
  return { source, row, reason };
}

const newOf = <T>(shelf: Shelf<T>): T[] => [...shelf.values()].filter((entry) => entry.isNew).map((entry) => entry.head);
const changedOf = <T>(shelf: Shelf<T>): T[] => [...shelf.values()].filter((entry) => entry.isChanged).map((entry) => entry.head);

/** A site takes its nominal voltage from its first circuit of ordinary voltage, where nobody has said it. */
function completeSites(book: PlaceBook): void {
  for (const site of book.sites.values()) {
    if (site.head.nominalVolts !== null) continue;
    const volts = [...book.circuits.values()].filter(({ head }) => head.siteId === site.head.id).flatMap(({ head }) => head.volts ?? []);
    if (volts.length === 0) continue;
    site.head = { ...site.head, nominalVolts: Math.min(...volts) };
    if (!site.isNew) site.isChanged = true;
  }
}

async function write(tx: Db, organisationId: string, book: PlaceBook, now: Date): Promise<void> {
  await insertSites(tx, organisationId, newOf(book.sites), now);
  await insertUnits(tx, organisationId, newOf(book.units), now);
  await insertCircuits(tx, organisationId, newOf(book.circuits), now);
  await insertOutlets(tx, organisationId, newOf(book.outlets), now);
  await updateSites(tx, changedOf(book.sites));
  await updateCircuits(tx, changedOf(book.circuits));
  await updateOutlets(tx, changedOf(book.outlets));
}

/** Why the actor may not bring this row in, or null: new sites and sites of others are an administrator's. */
function notYours(actor: Actor, row: PlaceRow, book: PlaceBook): string | null {
  if (actor.siteIds === "all") return null;
  const site = book.sites.get(nameKey(row.site ?? ""));
  if (site && actor.siteIds.includes(site.head.id)) return null;
  return `site: "${row.site}" is not one of your sites; ask an administrator to add it to your account.`;
}

function placeTaker(actor: Actor, mapping: PlaceMapping, leaveOut: boolean): RowTaker<readonly ReadPlace[]> {
  const said: SaidFigures = new Map();
  const read = (rows: readonly CsvRow[]): ReadPlace[] =>
    rows.map((source) => {
      const place = readOne(source, mapping, leaveOut);
      return { ...place, reason: place.reason ?? contradiction({ row: place.row, line: source.line }, said) };
    });
  const store = async (tx: Db, places: readonly ReadPlace[], now: Date): Promise<ChunkOutcome> => {
    const setAside: SetAsideDraft[] = [];
    const tally = { created: 0, updated: 0, unchanged: 0 };
    const book = await PlaceBook.open(
      tx,
      actor.organisationId,
      places.map((place) => place.row),
    );
    for (const { source, row, reason } of places) {
      const against = reason ?? notYours(actor, row, book) ?? elsewhere(row, book);
      if (against === null) tally[enterRow(row, book)] += 1;
      else setAside.push(setAsideOf(source, against));
    }
    completeSites(book);
    await write(tx, actor.organisationId, book, now);
    return { ...tally, setAside };
  };
  return { read, store, remarks: () => [] };
}

/**
 * Brings a places file into the registry: sites, units, circuits and outlets, one outlet a row. Unknown ones are made, known
 * ones completed; an empty cell never erases, and a row that contradicts another of the file is set aside.
 */
export async function loadPlaces(db: Store, actor: Actor, input: PlacesInput): Promise<ImportAccount> {
  const leaveOut = input.unreadableCells === "leave_out";
  const kind: ImportKindOf<readonly ReadPlace[]> = {
    kind: "places",
    permission: "bring in places",
    prepare: (headers) => {
      const mapping = input.mapping ?? guessPlaceMapping(headers);
      requirePlaceMapping(mapping);
      return { targets: mapping, taker: placeTaker(actor, mapping, leaveOut) };
    },
  };
  return importFile(db, actor, kind, input);
}
