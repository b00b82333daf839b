import { Readable } from "node:stream";
import { csvLine } from "@/lib/registry/csv-line";

/** A CSV text under the given columns; cells that a row leaves out are empty. */
export function csvText(columns: readonly string[], rows: readonly Readonly<Record<string, string>>[]): string {
  return `${[csvLine(columns), ...rows.map((row) => csvLine(columns.map((column) => row[column] ?? "")))].join("\n")}\n`;
}

/** A text as a source of bytes, in pieces as a disk would give them. */
export function bytesOf(text: string, pieceSize = 64 * 1024): Readable {
  const bytes = Buffer.from(text);
  return Readable.from(
    (function* () {
      for (let at = 0; at < bytes.length; at += pieceSize) yield bytes.subarray(at, at + pieceSize);
    })(),
  );
}
