import { bulkInsert } from "./bulk";
import { type Db, dialectOf } from "./client";
import type { ImportKind, ImportState } from "./generated/sqlite/client";

export type { ImportKind, ImportState };

export interface RunCounts {
  readonly rowsRead: number;
  readonly created: number;
  readonly updated: number;
  readonly unchanged: number;
  readonly setAside: number;
}

/** Which headers of the file became which columns; `headers` keeps their order for the download of set-aside rows. */
export interface RunMapping {
  readonly headers: readonly string[];
  readonly targets: Readonly<Record<string, string | null>>;
}

/** What was chosen for cells that cannot be read, and where the run's process lives. */
export interface RunChoices {
  readonly unreadableCells?: "set_aside" | "leave_out";
  readonly upload?: string;
  readonly process?: { readonly host: string; readonly pid: number };
}

export interface NewRun {
  readonly id: string;
  readonly organisationId: string;
  readonly kind: ImportKind;
  readonly state: ImportState;
  readonly fileName: string;
  readonly fileHash: string | null;
  readonly byteLength: number | null;
  readonly mapping: RunMapping | null;
  readonly choices: RunChoices;
  readonly byUserId: string | null;
  readonly at: Date;
}

const jsonOrNothing = (name: "mapping" | "choices", value: object | null | undefined) => (value ? { [name]: value } : {});

export async function insertRun(db: Db, run: NewRun): Promise<void> {
  const { at, byteLength, mapping, choices, ...rest } = run;
  await db.importRun.create({
    data: {
      ...rest,
      byteLength: byteLength === null ? null : BigInt(byteLength),
      ...jsonOrNothing("mapping", mapping),
      ...jsonOrNothing("choices", choices),
      startedAt: at,
      heartbeatAt: at,
    },
  });
}

export interface RunChange {
  readonly state?: ImportState;
  readonly kind?: ImportKind;
  readonly message?: string | null;
  readonly fileHash?: string;
  readonly mapping?: RunMapping;
  readonly choices?: RunChoices;
  readonly startedAt?: Date;
  readonly finishedAt?: Date | null;
  readonly counts?: RunCounts;
  readonly bytesDone?: number;
}

/** Writes what changed of a run, always with its sign of life. */
export async function updateRun(db: Db, id: string, at: Date, change: RunChange): Promise<void> {
  const { counts, bytesDone, mapping, choices, ...rest } = change;
  await db.importRun.update({
    where: { id },
    data: {
      ...rest,
      ...counts,
      ...(bytesDone === undefined ? {} : { bytesDone: BigInt(bytesDone) }),
      ...jsonOrNothing("mapping", mapping),
      ...jsonOrNothing("choices", choices),
      heartbeatAt: at,
    },
  });
}

/** Moves a run to another state if it is still in `from`; false when someone else was first. */
export async function moveRun(db: Db, id: string, from: ImportState, to: ImportState, at: Date): Promise<boolean> {
  const { count } = await db.importRun.updateMany({ where: { id, state: from }, data: { state: to, heartbeatAt: at } });
  return count === 1;
}

export interface SetAsideDraft {
  readonly line: number;
  readonly reason: string;
  readonly content: string;
}

export async function insertSetAside(db: Db, importRunId: string, rows: readonly SetAsideDraft[]): Promise<void> {
  await bulkInsert(db, {
    table: "SetAsideRow",
    columns: [
      { name: "importRunId", type: "text" },
      { name: "line", type: "integer" },
      { name: "reason", type: "text" },
      { name: "content", type: "text" },
    ],
    rows: rows.map(({ line, reason, content }) => [importRunId, line, reason, content]),
  });
}

export function findRun(db: Db, organisationId: string, id: string) {
  return db.importRun.findFirst({ where: { id, organisationId } });
}

export type StoredRun = NonNullable<Awaited<ReturnType<typeof findRun>>>;

export function findRuns(db: Db, organisationId: string, kinds: readonly ImportKind[], page: { skip: number; take: number }) {
  return db.importRun.findMany({
    where: { organisationId, kind: { in: [...kinds] } },
    orderBy: [{ startedAt: "desc" }, { id: "desc" }],
    ...page,
  });
}

export function countRuns(db: Db, organisationId: string, kinds: readonly ImportKind[]): Promise<number> {
  return db.importRun.count({ where: { organisationId, kind: { in: [...kinds] } } });
}

/** Runs that say they are running; of one organisation. */
export function findRunning(db: Db, organisationId: string) {
  return db.importRun.findMany({ where: { organisationId, state: "running" } });
}

/** The latest finished run of the same bytes, to say that a file was seen before. */
export function findRunOfFile(db: Db, organisationId: string, fileHash: string) {
  return db.importRun.findFirst({
    where: { organisationId, fileHash, state: "done" },
    orderBy: { startedAt: "desc" },
    select: { id: true, startedAt: true, fileName: true },
  });
}

/** The mapping of the latest finished run of a kind, to offer it for the next file with the same headers. */
export function findLastMappings(db: Db, organisationId: string, kind: ImportKind, take: number) {
  return db.importRun.findMany({
    where: { organisationId, kind, state: "done" },
    orderBy: { startedAt: "desc" },
    take,
    select: { mapping: true },
  });
}

/** Set-aside rows of a run in line order, after a line. */
export function findSetAside(db: Db, importRunId: string, afterLine: number, take: number) {
  return db.setAsideRow.findMany({ where: { importRunId, line: { gt: afterLine } }, orderBy: { line: "asc" }, take });
}

/** Lets the organisation's imports take turns on the server; the embedded database has one writer anyway. */
export async function holdOrganisation(tx: Db, organisationId: string): Promise<void> {
  if (dialectOf(tx) === "postgresql") await tx.$queryRaw`SELECT 1 AS "held" FROM "Organisation" WHERE "id" = ${organisationId} FOR UPDATE`;
}

/** The name of the person behind an id, for showing; null when the account is gone. */
export async function findPersonName(db: Db, userId: string): Promise<string | null> {
  return (await db.user.findUnique({ where: { id: userId }, select: { name: true } }))?.name ?? null;
}

/**
 * Gives the embedded database's writing connection more memory for pages (64 MB) and a longer log before it is folded into the
 * file: with many indexes, each page is then written once for many rows instead of once a commit. What a long statement would need to
 * undo itself is kept in memory, not in a file.
 */
export async function giveRoom(db: Db): Promise<void> {
  if (dialectOf(db) !== "sqlite") return;
  await db.$queryRawUnsafe("PRAGMA cache_size = -65536");
  await db.$queryRawUnsafe("PRAGMA wal_autocheckpoint = 16000");
  await db.$queryRawUnsafe("PRAGMA temp_store = MEMORY");
}
