import { once } from "node:events";
import { createWriteStream } from "node:fs";
import { rename, rm } from "node:fs/promises";
import { Readable } from "node:stream";
import { pipeline } from "node:stream/promises";
import { createGzip } from "node:zlib";
import { backupLines } from "@/lib/store/backup";
import { databaseUrl } from "@/lib/store/database-url";
import { migrate } from "@/lib/store/migrate";
import { type Command, WrongUse } from "./command";

const usage = "Use: backup FILE (or - for standard output). DATABASE_URL names the database.";

/**
 * `backup FILE`: the whole database, of either kind and while it is in use, as compressed JSON Lines that `restore` reads. The file
 * appears under its name only when it is complete.
 */
export const backupCommand: Command = async (args) => {
  const [file, ...more] = args;
  if (file === undefined || more.length > 0) throw new WrongUse(usage);
  const url = databaseUrl();
  await migrate(url).catch((error: unknown) => {
    throw new WrongUse(error instanceof Error ? error.message : String(error));
  });
  const source = Readable.from(backupLines(url, new Date()));
  if (file === "-") {
    for await (const chunk of source.pipe(createGzip())) if (!process.stdout.write(chunk as Buffer)) await once(process.stdout, "drain");
    return 0;
  }
  const partial = `${file}.partial`;
  try {
    await pipeline(source, createGzip(), createWriteStream(partial, { mode: 0o600 }));
    await rename(partial, file);
  } catch (error) {
    await rm(partial, { force: true });
    throw new WrongUse(`The backup could not be written to ${file}: ${error instanceof Error ? error.message : String(error)}`);
  }
  process.stderr.write(`Backed up to ${file}. It holds everything, people's details too: keep it where only you can read it.\n`);
  return 0;
};
