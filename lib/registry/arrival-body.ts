import { PassThrough, Readable } from "node:stream";
import { createGunzip } from "node:zlib";
import { Trouble } from "@/lib/access/trouble";
import { arrivalReasons } from "./arrival-rows";
import { type LogFile, openLog } from "./log-lines";

/** What one batch may be. */
export const batchLimits = {
  /** Bytes, unpacked. */
  mostBytes: 8 * 1024 ** 2,
  mostRows: 50_000,
  longestBatchId: 200,
} as const;

export const tooLarge = () =>
  new Trouble(
    "too_large",
    `A batch may have ${batchLimits.mostBytes / 1024 ** 2} MB unpacked and ${batchLimits.mostRows} rows: send it in several.`,
  );

/** The body whole, unpacked when it begins as gzip does. */
export async function readBody(body: AsyncIterable<Uint8Array>, announced: number | null): Promise<Buffer> {
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

/** Opens the rows of a batch: CSV, JSON Lines, a JSON array of the same objects, or such an array under `readings`. */
export async function openBatch(bytes: Buffer): Promise<LogFile> {
  const text = bytes
    .toString("utf8")
    .replace(/^\uFEFF/, "")
    .trimStart();
  if (text === "") throw new Trouble("unreadable", "The batch is empty: send CSV with its header line, or JSON Lines.");
  if (text.startsWith("[")) return arrayFile(parsed(text), {});
  const envelope = text.startsWith("{") && text.includes('"readings"') ? envelopeOf(text) : null;
  if (envelope !== null) return arrayFile(envelope.readings, envelope);
  const whole = new PassThrough();
  whole.end(bytes);
  return openLog(whole);
}

function parsed(text: string): readonly unknown[] {
  try {
    return JSON.parse(text) as readonly unknown[];
  } catch {
    throw new Trouble("unreadable", "The batch begins like a JSON array but cannot be read as one, so nothing was taken.");
  }
}

/** Whose readings an envelope says it holds. */
interface Home {
  readonly organisation?: unknown;
  readonly site?: unknown;
}

function envelopeOf(text: string): (Home & { readonly readings: readonly unknown[] }) | null {
  try {
    const { organisation, site, readings } = JSON.parse(text) as Record<string, unknown>;
    return Array.isArray(readings) ? { organisation, site, readings } : null;
  } catch {
    // JSON Lines, of which the first line alone is an object
    return null;
  }
}

/** Rows of an array; what the envelope says of their home is said by each of them. */
function arrayFile(values: readonly unknown[], home: Home): LogFile {
  const said = Object.entries({ organisation: home.organisation, site: home.site }).filter(([, value]) => value !== undefined);
  const rows = values.map((value, at) => {
    const isRow = value !== null && typeof value === "object" && !Array.isArray(value);
    const record = (isRow ? value : {}) as Record<string, unknown>;
    const differs = said.some(([name, own]) => Object.hasOwn(record, name) && record[name] !== own);
    const problem = isRow
      ? differs
        ? arrivalReasons.disagrees
        : null
      : `Entry ${at + 1} is no JSON object: write each like {"at": "...", "outlet": "..."}.`;
    return {
      line: at + 1,
      row: { ...record, ...Object.fromEntries(said.map(([name, own]) => [name, String(own)])) },
      problem,
      content: "",
    };
  });
  async function* batches() {
    yield rows;
  }
  return { header: "jsonl", batches: batches() };
}
