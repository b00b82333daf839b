import { createHash, randomUUID } from "node:crypto";
import { createReadStream, createWriteStream, existsSync, mkdirSync, type ReadStream } from "node:fs";
import { rm, stat } from "node:fs/promises";
import { join } from "node:path";
import { Transform } from "node:stream";
import { pipeline } from "node:stream/promises";
import { Trouble } from "@/lib/access/trouble";

/** Longest file that is taken in, bytes. */
export const mostUploadBytes = 2 * 1024 ** 3;

/** The folder of uploaded files, in the data folder: `PLATEWARDEN_DATA`, or `.data` beside the product. */
function uploadsFolder(): string {
  const folder = join(process.env["PLATEWARDEN_DATA"] || join(process.cwd(), ".data"), "uploads");
  mkdirSync(folder, { recursive: true });
  return folder;
}

/** Path of an uploaded file. Names are our own random ones, so none can lead elsewhere. */
function uploadPath(name: string): string {
  if (!/^[0-9a-f-]{36}$/.test(name)) throw new Error("This is no upload's name.");
  return join(uploadsFolder(), name);
}

export interface StoredUpload {
  readonly name: string;
  readonly byteLength: number;
  /** SHA-256 of the bytes, hexadecimal. */
  readonly fileHash: string;
}

/**
 * Writes a request's body to a file of its own, piece by piece. Throws `Trouble`, with nothing kept, when fewer or more bytes
 * come than were announced (a connection that broke, a limit on the way) or when the file is too long.
 */
export async function storeUpload(body: AsyncIterable<Uint8Array>, announced: number | null): Promise<StoredUpload> {
  if (announced !== null && announced > mostUploadBytes) throw tooLong();
  const name = randomUUID();
  const path = uploadPath(name);
  const hash = createHash("sha256");
  let byteLength = 0;
  const weigh = new Transform({
    transform(piece: Buffer, _encoding, done) {
      byteLength += piece.length;
      hash.update(piece);
      done(byteLength > mostUploadBytes ? tooLong() : null, piece);
    },
  });
  try {
    await pipeline(body, weigh, createWriteStream(path, { mode: 0o600 }));
    if (byteLength === 0) throw new Trouble("unreadable", "The file is empty: choose another.");
    if (announced !== null && announced !== byteLength) {
      throw new Trouble("unreadable", `Only ${byteLength} of ${announced} bytes arrived, so the file was not taken: send it again.`);
    }
  } catch (error) {
    await rm(path, { force: true });
    throw error;
  }
  return { name, byteLength, fileHash: hash.digest("hex") };
}

function tooLong(): Trouble {
  return new Trouble("too_large", `The file is longer than ${mostUploadBytes / 1024 ** 3} GB: split it, or use the command line's load.`);
}

/** Opens an uploaded file for reading. Throws `Trouble` when it is no longer there. */
export function openUpload(name: string): ReadStream {
  const path = uploadPath(name);
  if (!existsSync(path)) throw new Trouble("not_found", "The uploaded file is no longer kept: send it again.");
  return createReadStream(path, { highWaterMark: 256 * 1024 });
}

/** The length of an uploaded file in bytes; null when it is no longer kept. */
export async function uploadLength(name: string): Promise<number | null> {
  return stat(uploadPath(name)).then(
    (file) => file.size,
    () => null,
  );
}

export async function removeUpload(name: string): Promise<void> {
  await rm(uploadPath(name), { force: true });
}
