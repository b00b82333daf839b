import { Trouble } from "@/lib/access/trouble";

/** Bytes as they come from a file, a request or standard input. */
export type ByteSource = AsyncIterable<Uint8Array | string>;

type Encoding = "utf-8" | "utf-16le" | "utf-16be" | "windows-1252";

/** First bytes of files that are no text, with what to do instead. */
const strangers: readonly (readonly [readonly number[], string])[] = [
  [[0x50, 0x4b, 0x03, 0x04], "This is a workbook or a zip archive, not a CSV file: open it and save the sheet as CSV (UTF-8)."],
  [[0xd0, 0xcf, 0x11, 0xe0], "This is an old workbook, not a CSV file: open it and save the sheet as CSV (UTF-8)."],
  [[0x25, 0x50, 0x44, 0x46], "This is a PDF document, not a CSV file: ask for the table it was printed from."],
  [[0x1f, 0x8b], "This file is compressed (gzip): unpack it first."],
];

const sampleBytes = 1024;

function refuseStrangers(head: Uint8Array): void {
  for (const [signature, sentence] of strangers) {
    if (signature.every((byte, at) => head[at] === byte)) throw new Trouble("unreadable", sentence);
  }
  const start = new TextDecoder("latin1").decode(head.subarray(0, 200)).trimStart().toLowerCase();
  if (start.startsWith("<!doctype html") || start.startsWith("<html")) {
    throw new Trouble("unreadable", "This is a web page, not a CSV file: save the table itself, or export it as CSV.");
  }
}

/** A mark decides; without one, western text in UTF-16 has a zero in nearly every other byte. */
function encodingOf(head: Uint8Array): Encoding {
  if (head[0] === 0xff && head[1] === 0xfe) return "utf-16le";
  if (head[0] === 0xfe && head[1] === 0xff) return "utf-16be";
  const zeros = [0, 0];
  head.forEach((byte, at) => {
    if (byte === 0) zeros[at % 2] = (zeros[at % 2] ?? 0) + 1;
  });
  const [even = 0, odd = 0] = zeros;
  const many = head.length / 4;
  if (odd > many && even === 0) return "utf-16le";
  if (even > many && odd === 0) return "utf-16be";
  if (even + odd > 0) throw new Trouble("unreadable", "The file holds zero bytes, so it is no text: save the table as CSV (UTF-8).");
  return "utf-8";
}

/** Length of the bytes up to the last complete UTF-8 character. */
function wholeLength(bytes: Uint8Array): number {
  for (let back = 1; back <= Math.min(3, bytes.length); back++) {
    const byte = bytes[bytes.length - back] ?? 0;
    if (byte < 0x80) return bytes.length;
    if (byte >= 0xc0) {
      const needs = byte >= 0xf0 ? 4 : byte >= 0xe0 ? 3 : 2;
      return needs > back ? bytes.length - back : bytes.length;
    }
  }
  return bytes.length;
}

/** What stands where bytes cannot be read; a row that holds it is set aside. */
export const unreadable = "\uFFFD";

/**
 * Decodes UTF-8 piece by piece. At the first byte that is no UTF-8 it takes the rest as Windows-1252 if everything so far was
 * plain ASCII, which reads the same in both; in a file that has shown real UTF-8 the bytes are damage and become U+FFFD.
 */
class TextReader {
  private encoding: Encoding;
  private decoder: TextDecoder;
  private tail: Uint8Array = new Uint8Array(0);
  private seenUtf8 = false;

  constructor(head: Uint8Array) {
    this.encoding = encodingOf(head);
    this.decoder = new TextDecoder(this.encoding, { fatal: this.encoding === "utf-8" });
  }

  read(bytes: Uint8Array, isLast: boolean): string {
    if (this.encoding !== "utf-8") return this.decoder.decode(bytes, { stream: !isLast });
    const joined = this.tail.length === 0 ? bytes : Buffer.concat([this.tail, bytes]);
    const end = isLast ? joined.length : wholeLength(joined);
    const whole = joined.subarray(0, end);
    this.tail = joined.slice(end);
    try {
      const text = this.decoder.decode(whole);
      if (text.length !== whole.length) this.seenUtf8 = true;
      return text;
    } catch {
      return this.readDamaged(whole, isLast);
    }
  }

  private readDamaged(whole: Uint8Array, isLast: boolean): string {
    const loose = new TextDecoder("utf-8").decode(whole);
    const damaged = loose.split(unreadable).length - 1;
    const sound = loose.replace(/[\p{ASCII}\uFFFD]+/gu, "").length;
    if (this.seenUtf8 || sound > damaged) {
      this.seenUtf8 = true;
      return loose;
    }
    this.encoding = "windows-1252";
    this.decoder = new TextDecoder("windows-1252");
    const all = this.tail.length === 0 ? whole : Buffer.concat([whole, this.tail]);
    this.tail = new Uint8Array(0);
    return this.decoder.decode(all, { stream: !isLast });
  }
}

const asBytes = (piece: Uint8Array | string): Uint8Array => (typeof piece === "string" ? Buffer.from(piece) : piece);

async function* pieces(source: ByteSource, onBytes?: (count: number) => void): AsyncGenerator<Uint8Array> {
  let head: Uint8Array | null = new Uint8Array(0);
  for await (const piece of source) {
    const bytes = asBytes(piece);
    onBytes?.(bytes.length);
    if (head === null) yield bytes;
    else {
      head = head.length === 0 ? bytes : Buffer.concat([head, bytes]);
      if (head.length < sampleBytes) continue;
      yield head;
      head = null;
    }
  }
  if (head !== null) yield head;
}

/**
 * The text of a file in pieces, with line ends as `\n` and without a byte order mark: UTF-8, UTF-16 of either order, else
 * Windows-1252 (the superset of Latin-1 that browsers assume, WHATWG Encoding Standard). Throws `Trouble` with one sentence for
 * workbooks, archives, documents and web pages.
 */
export async function* readText(source: ByteSource, onBytes?: (count: number) => void): AsyncGenerator<string> {
  let reader: TextReader | null = null;
  let held = "";
  const normal = (text: string, isLast: boolean): string => {
    const whole = held + text;
    // A carriage return at the end may be half of a pair.
    held = !isLast && whole.endsWith("\r") ? "\r" : "";
    const ready = held === "" ? whole : whole.slice(0, -1);
    return ready.includes("\r") ? ready.replace(/\r\n?/g, "\n") : ready;
  };
  let isFirst = true;
  for await (const bytes of pieces(source, onBytes)) {
    if (reader === null) {
      const head = bytes.subarray(0, sampleBytes);
      refuseStrangers(head);
      reader = new TextReader(head);
    }
    const text = normal(reader.read(bytes, false), false);
    if (text === "") continue;
    yield isFirst && text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
    isFirst = false;
  }
  const rest = normal(reader?.read(new Uint8Array(0), true) ?? "", true);
  if (rest !== "") yield rest;
}
