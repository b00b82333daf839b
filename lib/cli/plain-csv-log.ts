import { CsvRows } from "@/lib/registry/csv-rows";
import { type LogRow, type LogRowReader, makeLogRowReader } from "@/lib/watch/log-rows";
import { PlainRows } from "@/lib/watch/plain-rows";
import type { Reading } from "@/lib/watch/reading";

/** Where the rows go. */
export interface RowTaker {
  readonly take: (reading: Reading) => void;
  readonly takeRow: (row: LogRow) => void;
  /** A record whose cells cannot be told apart. */
  readonly takeBroken: () => void;
}

const lineFeed = 0x0a;
const carriageReturn = 0x0d;

/** A quoted stretch longer than this has lost a quotation mark. */
const longestRecord = 128 * 1024;

function countQuotes(text: string): number {
  let count = 0;
  for (let at = text.indexOf('"'); at >= 0; at = text.indexOf('"', at + 1)) count++;
  return count;
}

/** The header's cells where the text begins with a plain one (comma, no quotation marks); null otherwise. */
function plainHeader(text: string): string[] | null {
  if (!/^[\x20-\x7e]*,[\x20-\x7e]*$/.test(text) || /["\t;]/.test(text)) return null;
  return text.split(",").map((cell) => cell.trim().replace(/\s+/g, " "));
}

/**
 * Reads a CSV log from its bytes: plain lines straight, runs of other lines through the CSV reader. Gives up, with all that is
 * left, at bytes that are no UTF-8 and at a quotation mark that does not close; the usual reader goes on from there.
 */
export class PlainCsvLog {
  private carry: Uint8Array = new Uint8Array(0);
  /** Lines that are not plain and wait to be read together; they begin with a record. */
  private held: string[] = [];
  private heldLength = 0;
  private heldQuotes = 0;
  private left: Uint8Array[] | null = null;
  private readonly decoder = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true });

  private constructor(
    private readonly header: readonly string[],
    private readonly plain: PlainRows,
    private readonly read: LogRowReader,
    private readonly taker: RowTaker,
  ) {}

  /** Opens a log by its first piece, which must hold the whole first line; null when it is not a plain CSV log. */
  static open(head: Uint8Array, zoneOf: (outlet: string) => string | null | undefined, taker: RowTaker): PlainCsvLog | null {
    const from = head[0] === 0xef && head[1] === 0xbb && head[2] === 0xbf ? 3 : 0;
    const end = head.indexOf(lineFeed);
    if (end < 0 || end > 4096) return null;
    const header = plainHeader(Buffer.from(head.subarray(from, head[end - 1] === carriageReturn ? end - 1 : end)).toString("latin1"));
    if (header === null || new Set(header).size < header.length || header.includes("")) return null;
    const plain = new PlainRows(header, zoneOf);
    if (!plain.isUsable) return null;
    const log = new PlainCsvLog(header, plain, makeLogRowReader(header, zoneOf), taker);
    log.feed(head.subarray(end + 1));
    return log;
  }

  get goesOn(): boolean {
    return this.left === null;
  }

  feed(piece: Uint8Array): void {
    if (this.left !== null) {
      this.left.push(piece);
      return;
    }
    const bytes = this.carry.length === 0 ? piece : Buffer.concat([this.carry, piece]);
    this.carry = bytes.subarray(this.takeLines(bytes));
  }

  /** Takes the whole lines of a piece; the place where the rest begins. */
  private takeLines(bytes: Uint8Array): number {
    let from = 0;
    for (let end = bytes.indexOf(lineFeed); end >= 0; end = bytes.indexOf(lineFeed, from)) {
      if (!this.takeLine(bytes, from, end)) {
        this.giveUp(bytes.subarray(from));
        return bytes.length;
      }
      from = end + 1;
    }
    return from;
  }

  /** One line without its line feed; false when the reader must give up before it. */
  private takeLine(bytes: Uint8Array, from: number, lineEnd: number): boolean {
    const end = lineEnd > from && bytes[lineEnd - 1] === carriageReturn ? lineEnd - 1 : lineEnd;
    if (this.heldQuotes % 2 === 0) {
      if (end === from) return true;
      const reading = this.plain.read(bytes, from, end);
      if (reading !== null) {
        this.release();
        this.taker.take(reading);
        return true;
      }
    }
    return this.hold(bytes.subarray(from, end));
  }

  private hold(line: Uint8Array): boolean {
    const text = this.decoded(line);
    if (text === null || this.heldLength + text.length > longestRecord) {
      if (text === null || this.heldQuotes % 2 === 1) return false;
      this.release();
    }
    this.held.push(text);
    this.heldLength += text.length + 1;
    this.heldQuotes += countQuotes(text);
    return true;
  }

  private decoded(line: Uint8Array): string | null {
    try {
      return this.decoder.decode(line);
    } catch {
      return null;
    }
  }

  /** Reads the lines that wait, in the order in which they came. */
  private release(): void {
    if (this.held.length === 0) return;
    const text = this.held.join("\n").replace(/\r\n?/g, "\n");
    this.forget();
    for (const { cells, problem } of new CsvRows(",", this.header.length, 1).take(text, true)) {
      if (problem !== null) this.taker.takeBroken();
      else this.taker.takeRow(this.read(cells));
    }
  }

  private forget(): void {
    this.held = [];
    this.heldLength = 0;
    this.heldQuotes = 0;
  }

  private giveUp(rest: Uint8Array): void {
    const start = [this.header.join(","), ...this.held, ""].join("\n");
    this.forget();
    this.left = [Buffer.from(start), rest];
  }

  /** Ends the log: reads the last line; or gives all that is left for the usual reader, under the same header. */
  finish(): readonly Uint8Array[] | null {
    if (this.left === null && this.carry.length > 0 && !this.takeLine(this.carry, 0, this.carry.length)) this.giveUp(this.carry);
    if (this.left !== null) return this.left;
    this.release();
    return null;
  }
}
