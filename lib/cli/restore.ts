import { createReadStream } from "node:fs";
import type { Readable } from "node:stream";
import { createGunzip } from "node:zlib";
import { databaseUrl } from "@/lib/store/database-url";
import { NotRestored, restoreLines } from "@/lib/store/restore";
import { type Command, WrongUse } from "./command";

const usage = "Use: restore FILE (or - for standard input). DATABASE_URL names the empty database to fill.";

/** The lines of a compressed file; a file that cannot be read or is not compressed throws `NotRestored`. */
async function* linesOf(file: string): AsyncGenerator<string> {
  const unzipped = createGunzip().setEncoding("utf8");
  const source: Readable = file === "-" ? process.stdin : createReadStream(file);
  source.once("error", (error: Error) => unzipped.destroy(error));
  let rest = "";
  try {
    for await (const text of source.pipe(unzipped) as AsyncIterable<string>) {
      const lines = (rest + text).split("\n");
      rest = lines.pop() ?? "";
      yield* lines;
    }
  } catch (error) {
    throw new NotRestored(`${file} cannot be read as a backup: ${error instanceof Error ? error.message : String(error)}.`);
  }
  if (rest !== "") yield rest;
}

/** `restore FILE`: fills an empty database, of either kind, from what `backup` wrote. All or nothing. */
export const restoreCommand: Command = async (args) => {
  const [file, ...more] = args;
  if (file === undefined || more.length > 0) throw new WrongUse(usage);
  try {
    const { rows, takenAt } = await restoreLines(databaseUrl(), linesOf(file));
    process.stdout.write(`Restored ${rows} rows as they were at ${takenAt.toISOString()}. Everybody signs in anew.\n`);
    return 0;
  } catch (error) {
    if (error instanceof NotRestored) throw new WrongUse(error.message);
    throw error;
  }
};
