import { createHash } from "node:crypto";
import sharp from "sharp";
import { Trouble } from "@/lib/access/trouble";

/** Longest photo or document that is taken, bytes. */
export const mostFileBytes = 20 * 1024 ** 2;
/** Most picture points of a photo: what the largest phone cameras make, and no picture made to fill the memory. */
const mostPixels = 120_000_000;
/** Longest side that a photo is kept with: a rating plate stays readable. */
const longestSide = 2400;
const thumbnailSide = 320;

/** A file made ready to be kept: what it is, its bytes, and for a photo its size and a small copy. */
export interface KeptFile {
  readonly mediaType: "image/jpeg" | "application/pdf";
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly sha256: string;
  readonly width: number | null;
  readonly height: number | null;
  readonly thumbnail: Uint8Array<ArrayBuffer> | null;
}

const photoFormats: readonly string[] = ["jpeg", "png", "webp", "gif", "tiff", "avif"];
const isPdf = (bytes: Uint8Array) => Buffer.from(bytes.subarray(0, 1024)).includes("%PDF-");
const own = (buffer: Buffer): Uint8Array<ArrayBuffer> => new Uint8Array(buffer);

/**
 * Makes a photo or a PDF ready to be kept. What it is tells its content, never its name. A photo is drawn anew as JPEG, upright, at
 * most 2,400 points long, so that nothing remains of its metadata (where, when and with what it was taken) or of anything hidden in
 * the file. A PDF is kept as it is. Throws `Trouble` for anything else.
 */
export async function keptFile(bytes: Uint8Array): Promise<KeptFile> {
  if (bytes.length === 0) throw new Trouble("unreadable", "The file is empty: choose another.");
  if (bytes.length > mostFileBytes) throw new Trouble("too_large", "The file is longer than 20 MB: send a smaller photo, or fewer pages.");
  if (isPdf(bytes)) return { ...sealed(own(Buffer.from(bytes))), mediaType: "application/pdf", width: null, height: null, thumbnail: null };
  return keptPhoto(bytes);
}

async function keptPhoto(bytes: Uint8Array): Promise<KeptFile> {
  const source = () => sharp(bytes, { limitInputPixels: mostPixels, failOn: "error", pages: 1 });
  try {
    const { format } = await source().metadata();
    if (!photoFormats.includes(format)) throw new Error(`Photos of the kind ${format} are not taken.`);
    const upright = source().rotate().flatten({ background: "#ffffff" });
    const drawn = await upright
      .clone()
      .resize({ width: longestSide, height: longestSide, fit: "inside", withoutEnlargement: true })
      .jpeg({ quality: 82, mozjpeg: false })
      .toBuffer({ resolveWithObject: true });
    const thumbnail = await sharp(drawn.data)
      .resize({ width: thumbnailSide, height: thumbnailSide, fit: "inside", withoutEnlargement: true })
      .jpeg({ quality: 75 })
      .toBuffer();
    const { width, height } = drawn.info;
    return { ...sealed(own(drawn.data)), mediaType: "image/jpeg", width, height, thumbnail: own(thumbnail) };
  } catch {
    throw new Trouble("unreadable", "This is no photo that can be read, and no PDF: send a JPEG, PNG or WebP photo, or a PDF.");
  }
}

function sealed(bytes: Uint8Array<ArrayBuffer>): Pick<KeptFile, "bytes" | "sha256"> {
  return { bytes, sha256: createHash("sha256").update(bytes).digest("hex") };
}
