import { createHash } from "node:crypto";
import { z } from "zod";
import type { BackupTable } from "./backup-tables";
import type { BackupCell } from "./backup-values";
import { type Filling, openFilling } from "./backup-writer";
import { migrate } from "./migrate";

/** Why a backup cannot be restored, in one sentence; the database is as it was. */
export class NotRestored extends Error {
  override readonly name = "NotRestored";
}

const headSchema = z.object({
  backup: z.literal("platewarden"),
  format: z.literal(1),
  takenAt: z.iso.datetime(),
  migration: z.string(),
  tables: z.array(
    z.object({
      name: z.string().regex(/^\w+$/),
      columns: z.array(z.object({ name: z.string().regex(/^\w+$/), kind: z.enum(["plain", "boolean", "instant", "bytes", "json"]) })),
    }),
  ),
});
const lineSchema = z.union([
  z.array(z.json()),
  z.object({ table: z.string() }),
  z.object({ end: z.literal(true), rows: z.number(), sha256: z.string() }),
]);

export interface Restored {
  readonly takenAt: Date;
  readonly rows: number;
}

function parseLine<T>(schema: z.ZodType<T>, line: string, at: number): T {
  let value: unknown;
  try {
    value = JSON.parse(line);
  } catch {
    throw new NotRestored(`Line ${at} of the backup is not JSON: the file is damaged. Take another copy of it.`);
  }
  const parsed = schema.safeParse(value);
  if (!parsed.success) throw new NotRestored(`Line ${at} is not a line of a backup of this version: name a file that "backup" wrote.`);
  return parsed.data;
}

/** Rows put into the database at once; rows with parts of logs are large, so not too many. */
const chunkRows = 500;
const chunkCharacters = 8_000_000;

/** Gathers rows of one table and hands them on in chunks. */
class Gathered {
  private rows: BackupCell[][] = [];
  private characters = 0;
  table: BackupTable | null = null;

  constructor(private readonly filling: Filling) {}

  async add(row: BackupCell[], characters: number): Promise<void> {
    this.rows.push(row);
    this.characters += characters;
    if (this.rows.length >= chunkRows || this.characters >= chunkCharacters) await this.flush();
  }

  async flush(): Promise<void> {
    if (this.table && this.rows.length > 0) await this.filling.insert(this.table, this.rows);
    this.rows = [];
    this.characters = 0;
  }
}

async function fill(filling: Filling, tables: readonly BackupTable[], lines: AsyncIterator<string>, headLine: string): Promise<number> {
  const hash = createHash("sha256").update(`${headLine}\n`);
  const gathered = new Gathered(filling);
  let rows = 0;
  for (let at = 2; ; at++) {
    const next = await lines.next();
    if (next.done) throw new NotRestored("The backup has no end: it was cut off. Take another copy of it.");
    const line = parseLine(lineSchema, next.value, at);
    if ("end" in line) {
      if (line.rows !== rows || line.sha256 !== hash.digest("hex"))
        throw new NotRestored("The backup was changed after it was written: its check sum does not fit. Take another copy of it.");
      await gathered.flush();
      return rows;
    }
    hash.update(`${next.value}\n`);
    if (Array.isArray(line)) {
      if (line.length !== gathered.table?.columns.length) throw new NotRestored(`Line ${at} does not have its table's columns.`);
      rows += 1;
      await gathered.add(line, next.value.length);
    } else {
      await gathered.flush();
      gathered.table = tables.find(({ name }) => name === line.table) ?? null;
      if (!gathered.table) throw new NotRestored(`Line ${at} names a table that the backup's first line does not: ${line.table}.`);
    }
  }
}

/**
 * Fills the empty database at `url` from the lines of a backup, and brings it to this version's shape. All or nothing: a damaged
 * file, a database that already holds something, or a backup of a newer version throws `NotRestored` and changes nothing.
 */
export async function restoreLines(url: string, source: AsyncIterable<string>): Promise<Restored> {
  const lines = source[Symbol.asyncIterator]();
  const first = await lines.next();
  if (first.done) throw new NotRestored('The file is empty: name a file that "backup" wrote.');
  const head = parseLine(headSchema, first.value, 1);
  await migrate(url, head.migration).catch((error: unknown) => {
    throw new NotRestored(error instanceof Error ? error.message : String(error));
  });
  const filling = await openFilling(url);
  try {
    if (!(await filling.isEmpty()))
      throw new NotRestored(
        "The database already holds people or organisations: name an empty one in DATABASE_URL, so that nothing is overwritten.",
      );
    const rows = await fill(filling, head.tables, lines, first.value);
    await filling.keep();
    await migrate(url);
    return { takenAt: new Date(head.takenAt), rows };
  } catch (error) {
    await filling.drop().catch(() => undefined);
    throw error;
  }
}
