import { createHash } from "node:crypto";
import { type Actor, recordName } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import type { Db, Store } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";
import {
  findRun,
  giveRoom,
  holdOrganisation,
  insertRun,
  insertSetAside,
  type RunChoices,
  type SetAsideDraft,
  updateRun,
} from "@/lib/store/import-queries";
import { appendRecord } from "@/lib/store/record";
import { breathe } from "./breathe";
import { csvLine } from "./csv-line";
import { type CsvFile, type CsvRow, openCsvFile } from "./csv-source";
import type { ByteSource } from "./csv-text";
import { addCounts, type ImportAccount, type ImportCounts, noRows } from "./import-account";
import { brokenOffMessage, markBrokenOff, thisProcess } from "./import-life";

/** Changed fields of things that were there, by id, before and after. */
export type ChunkChanges = Record<string, { readonly before: object; readonly after: object }>;

/** What became of the rows of one chunk; `setAside` counts its own rows. */
export interface ChunkOutcome {
  readonly created: number;
  readonly updated: number;
  readonly unchanged: number;
  readonly setAside: readonly SetAsideDraft[];
  /** For the record, which leads back to how things were. */
  readonly changed?: ChunkChanges;
}

/** One kind of file: reads rows without the database, then stores what was read inside a transaction. */
export interface RowTaker<Read> {
  readonly read: (rows: readonly CsvRow[]) => Read;
  readonly store: (tx: Db, rows: Read, now: Date) => Promise<ChunkOutcome>;
  /** Sentences on what had to be done, for the end of the run. */
  readonly remarks: () => string[];
}

export interface ImportKindOf<Read> {
  readonly kind: "labels" | "places";
  readonly permission: "bring in labels" | "bring in places";
  /** Throws `Trouble` when the headers cannot be a file of this kind. */
  readonly prepare: (headers: readonly string[]) => {
    readonly targets: Readonly<Record<string, string | null>>;
    readonly taker: RowTaker<Read>;
  };
}

export interface ImportProgress {
  readonly counts: ImportCounts;
  readonly bytesDone: number;
}

export interface ImportInput {
  readonly source: ByteSource;
  readonly fileName: string;
  readonly now: Date;
  /** The clock of the run's sign of life; the system's unless told otherwise. */
  readonly clock?: () => Date;
  readonly byteLength?: number | null;
  /** A run that is there already: waiting to start, or broken off and to be continued. */
  readonly runId?: string;
  readonly unreadableCells?: "set_aside" | "leave_out";
  readonly onProgress?: (progress: ImportProgress) => void;
  /** Asked between chunks; true stops the run there. */
  readonly isStopped?: () => boolean | Promise<boolean>;
}

/** Rows that one statement's worth of work looks at. */
const rowsAtOnce = 4000;
/**
 * Rows of a transaction: few at first, so that progress shows and a stop takes hold, then twice as many each time. In a large
 * registry a row touches a page of every index; a long transaction writes each page once for many rows.
 */
const firstTransactionRows = 1000;
const mostTransactionRows = 16_000;

/** Batches of the reader, which follow the file's pieces, as the rows of one transaction each. */
async function* chunksOf(file: CsvFile): AsyncGenerator<CsvRow[]> {
  let held: CsvRow[] = [];
  let size = firstTransactionRows;
  for await (const batch of file.batches) {
    for (const row of batch) {
      held.push(row);
      if (held.length < size) continue;
      yield held;
      held = [];
      size = Math.min(size * 2, mostTransactionRows);
    }
  }
  if (held.length > 0) yield held;
}

/** A row as it goes into the download of set-aside rows. */
export function setAsideOf(row: CsvRow, reason: string): SetAsideDraft {
  return { line: row.line, reason, content: csvLine(row.cells) };
}

interface Run {
  readonly id: string;
  readonly skip: number;
  counts: ImportCounts;
  bytes: number;
  readonly hash: ReturnType<typeof createHash>;
}

async function beginRun<Read>(db: Store, actor: Actor, kind: ImportKindOf<Read>, input: ImportInput): Promise<Run> {
  const { organisationId } = actor;
  const { now, fileName } = input;
  await markBrokenOff(db, organisationId, now);
  await giveRoom(db);
  const choices: RunChoices = { unreadableCells: input.unreadableCells ?? "set_aside", process: thisProcess };
  const fresh = { skip: 0, counts: noRows, bytes: 0, hash: createHash("sha256") };
  if (input.runId === undefined) {
    const id = newId();
    const byteLength = input.byteLength ?? null;
    await insertRun(db, {
      id,
      organisationId,
      kind: kind.kind,
      state: "running",
      fileName,
      fileHash: null,
      byteLength,
      mapping: null,
      choices,
      byUserId: actor.userId,
      at: now,
    });
    return { id, ...fresh };
  }
  const known = await findRun(db, organisationId, input.runId);
  if (!known) throw new Trouble("not_found", "There is no such import run.");
  if (known.state === "done") throw new Trouble("not_allowed_now", "This run is done already: bring the file in as a new one.");
  await updateRun(db, known.id, now, { state: "running", message: null, choices: { ...(known.choices as RunChoices), ...choices } });
  const { rowsRead, created, updated, unchanged, setAside } = known;
  return { id: known.id, ...fresh, skip: rowsRead, counts: { rowsRead, created, updated, unchanged, setAside } };
}

interface Work<Read> {
  readonly db: Store;
  readonly actor: Actor;
  readonly kind: ImportKindOf<Read>;
  readonly input: ImportInput;
  readonly run: Run;
  readonly clock: () => Date;
}

/** Reads and stores rows in steps, all in the transaction it is given. */
async function storeRows<Read>(tx: Db, taker: RowTaker<Read>, rows: readonly CsvRow[], now: Date): Promise<ChunkOutcome> {
  let [created, updated, unchanged] = [0, 0, 0];
  const setAside: SetAsideDraft[] = [];
  const changed: ChunkChanges = {};
  for (let at = 0; at < rows.length; at += rowsAtOnce) {
    const outcome = await taker.store(tx, taker.read(rows.slice(at, at + rowsAtOnce)), now);
    created += outcome.created;
    updated += outcome.updated;
    unchanged += outcome.unchanged;
    setAside.push(...outcome.setAside);
    for (const [id, change] of Object.entries(outcome.changed ?? {})) {
      const first = changed[id]?.before;
      changed[id] = { before: { ...change.before, ...first }, after: { ...changed[id]?.after, ...change.after } };
    }
  }
  return { created, updated, unchanged, setAside, changed };
}

/** Stores one chunk with its counts, its set-aside rows and its record entry in one transaction. */
async function storeChunk<Read>(work: Work<Read>, taker: RowTaker<Read>, rows: readonly CsvRow[]): Promise<void> {
  const { db, actor, kind, input, run } = work;
  const { organisationId } = actor;
  const hash = createHash("sha256");
  for (const row of rows) hash.update(row.cells.join("\u001f")).update("\u001e");
  const contentHash = hash.digest("hex");
  run.counts = await db.$transaction(async (tx) => {
    await holdOrganisation(tx, organisationId);
    const outcome = await storeRows(tx, taker, rows, input.now);
    const { changed = {}, ...counted } = outcome;
    const chunk = { ...counted, setAside: outcome.setAside.length, rowsRead: rows.length };
    const counts = addCounts(run.counts, chunk);
    await updateRun(tx, run.id, work.clock(), { counts, bytesDone: run.bytes });
    await insertSetAside(tx, run.id, outcome.setAside);
    await appendRecord(tx, [
      {
        organisationId,
        at: input.now,
        actor: recordName(actor),
        what: `brought in ${kind.kind}`,
        subjectKind: "import run",
        subjectId: run.id,
        after: {
          ...{ ...chunk, firstLine: rows[0]?.line ?? 0, lastLine: rows.at(-1)?.line ?? 0, contentHash },
          ...(Object.keys(changed).length > 0 ? { changed } : {}),
        },
      },
    ]);
    return counts;
  });
}

async function takeRows<Read>(work: Work<Read>, file: CsvFile, taker: RowTaker<Read>): Promise<"done" | "stopped"> {
  const { input, run } = work;
  let toSkip = run.skip;
  for await (const chunk of chunksOf(file)) {
    if (toSkip > 0) {
      // Rows that an earlier attempt of this run stored; they are read again only because later ones may be counted among them.
      const skipped = chunk.slice(0, toSkip);
      taker.read(skipped);
      toSkip -= skipped.length;
      if (skipped.length === chunk.length) continue;
      await storeChunk(work, taker, chunk.slice(skipped.length));
    } else await storeChunk(work, taker, chunk);
    input.onProgress?.({ counts: run.counts, bytesDone: run.bytes });
    if (await input.isStopped?.()) return "stopped";
    await breathe();
  }
  return "done";
}

/** The file with each piece weighed and hashed on its way. */
async function* watched(source: ByteSource, run: Run): AsyncGenerator<Uint8Array> {
  for await (const piece of source) {
    const bytes = typeof piece === "string" ? Buffer.from(piece) : piece;
    run.bytes += bytes.length;
    run.hash.update(bytes);
    yield bytes;
  }
}

const stoppedMessage = (counts: ImportCounts) =>
  `Stopped after ${counts.rowsRead} rows, on request. What is in stays in; bring the same file in again to go on from there.`;

async function carryOut<Read>(work: Work<Read>): Promise<ImportAccount> {
  const { db, kind, input, run, clock } = work;
  const file = await openCsvFile(watched(input.source, run));
  const { targets, taker } = kind.prepare(file.headers);
  await updateRun(db, run.id, clock(), { mapping: { headers: file.headers, targets } });
  const state = await takeRows(work, file, taker);
  const remarks = [...(state === "stopped" ? [stoppedMessage(run.counts)] : []), ...taker.remarks()];
  const message = remarks.length === 0 ? null : remarks.join(" ");
  const fileHash = state === "done" ? { fileHash: run.hash.digest("hex") } : {};
  await updateRun(db, run.id, clock(), { state, message, finishedAt: clock(), bytesDone: run.bytes, counts: run.counts, ...fileHash });
  return { id: run.id, state, message, ...run.counts };
}

/**
 * Brings a CSV file in, a chunk of rows a transaction, whatever its length. Every row is created, updated, unchanged or set
 * aside with its reason. A run that fails is left as broken off with how far it came. Throws `Refused` without the permission
 * and `Trouble` when the bytes are no file of this kind.
 */
export async function importFile<Read>(db: Store, actor: Actor, kind: ImportKindOf<Read>, input: ImportInput): Promise<ImportAccount> {
  requirePermission(actor, kind.permission);
  const clock = input.clock ?? (() => new Date());
  const run = await beginRun(db, actor, kind, input);
  try {
    return await carryOut({ db, actor, kind, input, run, clock });
  } catch (error) {
    const message = error instanceof Trouble && run.counts.rowsRead === 0 ? error.message : brokenOffMessage(run.counts);
    await updateRun(db, run.id, clock(), { state: "broken_off", message, finishedAt: clock() });
    throw error;
  }
}
