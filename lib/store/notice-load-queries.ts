import { bulkInsert } from "./bulk";
import type { Db } from "./client";

export interface LoadCounts {
  readonly rowsRead: number;
  readonly created: number;
  readonly updated: number;
  readonly unchanged: number;
  readonly setAside: number;
}

export interface StartedLoad {
  readonly id: string;
  readonly organisationId: string;
  readonly fileName: string;
  readonly fileHash: string;
  readonly byteLength: number;
  readonly byUserId: string | null;
  readonly at: Date;
}

/** Starts the import run of a recall list; one that waits or broke off is started again. */
export async function startLoad(tx: Db, load: StartedLoad): Promise<void> {
  const { at, byteLength, fileHash, ...rest } = load;
  const started = { kind: "notices", state: "running", fileHash, byteLength: BigInt(byteLength), heartbeatAt: at } as const;
  await tx.importRun.upsert({
    where: { id: rest.id },
    create: { ...rest, ...started, startedAt: at },
    update: { ...started, message: null, finishedAt: null },
  });
}

/** Writes how far the run has come; call it in the transaction that stores what it counts. */
export async function advanceLoad(tx: Db, id: string, counts: LoadCounts, at: Date): Promise<void> {
  await tx.importRun.update({ where: { id }, data: { ...counts, heartbeatAt: at } });
}

export async function keepSetAside(
  tx: Db,
  importRunId: string,
  rows: readonly { line: number; reason: string; content: string }[],
): Promise<void> {
  await bulkInsert(tx, {
    table: "SetAsideRow",
    columns: [
      { name: "importRunId", type: "text" },
      { name: "line", type: "integer" },
      { name: "reason", type: "text" },
      { name: "content", type: "text" },
    ],
    rows: rows.map(({ line, reason, content }) => [importRunId, line, reason, content]),
    onConflict: { key: ["importRunId", "line"] },
  });
}

export async function breakOffLoad(db: Db, id: string, message: string, at: Date): Promise<void> {
  await db.importRun.update({ where: { id }, data: { state: "broken_off", message, finishedAt: at, heartbeatAt: at } });
}

export interface ListLoad {
  readonly id: string;
  readonly organisationId: string;
  readonly source: string;
  readonly format: string;
  readonly fileName: string;
  readonly fileHash: string;
  readonly loadedAt: Date;
  readonly records: number;
  readonly fresh: number;
  readonly amended: number;
  readonly unchanged: number;
  readonly gone: number;
  readonly importRunId: string;
}

/** Ends the run and writes down the list's load. */
export async function finishLoad(tx: Db, load: ListLoad, message: string | null): Promise<void> {
  await tx.noticeListLoad.create({ data: load });
  const at = load.loadedAt;
  await tx.importRun.update({ where: { id: load.importRunId }, data: { state: "done", message, finishedAt: at, heartbeatAt: at } });
}

/** The loads of an organisation, the latest first. */
export function findListLoads(db: Db, organisationId: string, take: number) {
  return db.noticeListLoad.findMany({ where: { organisationId }, orderBy: [{ loadedAt: "desc" }, { id: "desc" }], take });
}
