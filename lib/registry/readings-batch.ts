import { createHash } from "node:crypto";
import { PassThrough, Readable } from "node:stream";
import { createGunzip } from "node:zlib";
import { Trouble } from "@/lib/access/trouble";
import type { ArrivalAnswer, ArrivalBatch, ArrivalSource } from "./arrival-batch";
import type { ArrivalOutlets } from "./arrival-outlets";
import type { ArrivalQueue } from "./arrival-queue";
import { readArrivedRows } from "./arrival-rows";
import { type LogFile, openLog } from "./log-lines";

/** What one batch may be. */
export const batchLimits = {
  /** Bytes, unpacked. */
  mostBytes: 8 * 1024 ** 2,
  mostRows: 50_000,
  longestBatchId: 200,
} as const;

/** What takes readings in: the queue and the memory of what they name. One of each a process. */
export interface Arrivals {
  readonly queue: ArrivalQueue;
  readonly outlets: ArrivalOutlets;
}

export interface ReadingsBatch {
  readonly source: ArrivalSource;
  readonly body: AsyncIterable<Uint8Array>;
  /** Length that the sender announced, bytes as sent; null when it did not. */
  readonly announced?: number | null;
  readonly batchId: string | null;
  readonly now: Date;
  readonly lease?: ArrivalBatch["lease"];
}

const tooLarge = () =>
  new Trouble(
    "too_large",
    `A batch may have ${batchLimits.mostBytes / 1024 ** 2} MB unpacked and ${batchLimits.mostRows} rows: send it in several.`,
  );

/** The body whole, unpacked when it begins as gzip does. */
async function readBody(body: AsyncIterable<Uint8Array>, announced: number | null): Promise<Buffer> {
  if (announced !== null && announced > batchLimits.mostBytes) throw tooLarge();
  const packed = await gather(body);
  if (announced !== null && announced !== packed.length)
    throw new Trouble("unreadable", `Only ${packed.length} of ${announced} bytes arrived, so nothing was taken: send the batch again.`);
  if (packed[0] !== 0x1f || packed[1] !== 0x8b) return packed;
  try {
    return await gather(Readable.from([packed]).pipe(createGunzip()));
  } catch (error) {
    if (error instanceof Trouble) throw error;
    throw new Trouble("unreadable", "The batch begins like gzip but cannot be unpacked, so nothing was taken: pack and send it again.");
  }
}

async function gather(pieces: AsyncIterable<Uint8Array>): Promise<Buffer> {
  const taken: Uint8Array[] = [];
  let length = 0;
  for await (const piece of pieces) {
    length += piece.length;
    if (length > batchLimits.mostBytes) throw tooLarge();
    taken.push(piece);
  }
  return Buffer.concat(taken, length);
}

/** Opens the rows of a batch: CSV, JSON Lines, or a JSON array of the same objects. */
async function openBatch(bytes: Buffer): Promise<LogFile> {
  const text = bytes
    .toString("utf8")
    .replace(/^\uFEFF/, "")
    .trimStart();
  if (text === "") throw new Trouble("unreadable", "The batch is empty: send CSV with its header line, or JSON Lines.");
  if (text.startsWith("[")) return openArray(text);
  const whole = new PassThrough();
  whole.end(bytes);
  return openLog(whole);
}

function openArray(text: string): LogFile {
  let values: unknown;
  try {
    values = JSON.parse(text);
  } catch {
    throw new Trouble("unreadable", "The batch begins like a JSON array but cannot be read as one, so nothing was taken.");
  }
  const rows = (values as readonly unknown[]).map((value, at) => {
    const isRow = value !== null && typeof value === "object" && !Array.isArray(value);
    const problem = isRow ? null : `Entry ${at + 1} is no JSON object: write each like {"at": "...", "outlet": "..."}.`;
    return { line: at + 1, row: isRow ? (value as Record<string, unknown>) : {}, problem, content: "" };
  });
  async function* batches() {
    yield rows;
  }
  return { header: "jsonl", batches: batches() };
}

function requireBatchId(batchId: string | null): void {
  if (batchId === null || new RegExp(`^[\\x21-\\x7e]{1,${batchLimits.longestBatchId}}$`).test(batchId)) return;
  throw new Trouble("not_valid", `A batch name has 1 to ${batchLimits.longestBatchId} visible ASCII characters without spaces.`);
}

/**
 * Takes one batch of readings of a site and answers once they are kept for good. Throws `Trouble` when nothing of it can be taken, and
 * `TooBusy` or `BatchConflict` (see `ArrivalQueue`). Whoever calls it has proved that the source may send for its site.
 */
export async function takeBatch({ queue, outlets }: Arrivals, batch: ReadingsBatch): Promise<ArrivalAnswer> {
  const { source, batchId, now, lease } = batch;
  requireBatchId(batchId);
  queue.requireRoom(source.name);
  const site = await outlets.site(source.organisationId, source.siteId, now);
  if (site === null) throw new Trouble("not_found", "The site of this key or topic is no longer in use, so nothing was taken.");
  const bytes = await readBody(batch.body, batch.announced ?? null);
  const bodyHash = createHash("sha256").update(bytes).digest("hex");
  const rows = await readArrivedRows(await openBatch(bytes), { outlets, site, mostRows: batchLimits.mostRows });
  if (rows === null) throw tooLarge();
  return queue.offer({ source, batchId, bodyHash, rows, at: now, ...(lease ? { lease } : {}) });
}
