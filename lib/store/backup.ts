import { createHash, type Hash } from "node:crypto";
import { openSnapshot } from "./backup-reader";
import { type BackupTable, backupTables } from "./backup-tables";
import { openStore } from "./client";

/** The first line of a backup: its format, when and from which shape of the database it was taken, and its tables in order. */
export interface BackupHead {
  readonly backup: "platewarden";
  readonly format: 1;
  readonly takenAt: string;
  readonly migration: string;
  readonly tables: readonly BackupTable[];
}

/** The last line: how many rows there are, and the SHA-256 of all lines before it. */
export interface BackupEnd {
  readonly end: true;
  readonly rows: number;
  readonly sha256: string;
}

function seal(hash: Hash, line: string): string {
  const written = `${line}\n`;
  hash.update(written);
  return written;
}

/**
 * The whole database at `url` as JSON Lines: a head, for each table a line that names it and its rows as arrays, and an end that
 * proves the file whole. Everything is of one moment, however long it takes. Either kind of database can be filled from it.
 */
export async function* backupLines(url: string, takenAt: Date): AsyncGenerator<string> {
  const store = openStore(url);
  const tables = await backupTables(store).finally(() => store.$disconnect());
  const snapshot = await openSnapshot(url);
  try {
    const hash = createHash("sha256");
    const head: BackupHead = {
      backup: "platewarden",
      format: 1,
      takenAt: takenAt.toISOString(),
      migration: await snapshot.lastMigration(),
      tables,
    };
    yield seal(hash, JSON.stringify(head));
    let rows = 0;
    for (const table of tables) {
      yield seal(hash, JSON.stringify({ table: table.name }));
      for await (const row of snapshot.rows(table)) {
        rows += 1;
        yield seal(hash, JSON.stringify(row));
      }
    }
    const end: BackupEnd = { end: true, rows, sha256: hash.digest("hex") };
    yield `${JSON.stringify(end)}\n`;
  } finally {
    await snapshot.close();
  }
}
