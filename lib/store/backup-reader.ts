import Database from "better-sqlite3";
import pg from "pg";
import type { BackupTable } from "./backup-tables";
import { type BackupCell, fromEmbedded, fromServer } from "./backup-values";
import { parseDatabaseUrl } from "./database-url";

/** One state of a database: whatever is written meanwhile, every table is read as it was at one moment. */
export interface Snapshot {
  readonly rows: (table: BackupTable) => AsyncIterable<BackupCell[]>;
  readonly lastMigration: () => Promise<string>;
  readonly close: () => Promise<void>;
}

const lastMigrationSql = `SELECT max(migration_name) AS name FROM "_prisma_migrations"`;
const quote = (name: string) => `"${name}"`;
/** Rows fetched from a server at once: a row may hold a part of a log of a few megabytes. */
const fetchRows = 200;

function embeddedSnapshot(file: string): Snapshot {
  const db = new Database(file, { readonly: true, timeout: 60_000 });
  db.exec("BEGIN");
  // The snapshot is taken by the first read, not by BEGIN.
  const { name } = db.prepare(lastMigrationSql).get() as { name: string };
  return {
    async *rows(table) {
      const select = db.prepare(`SELECT ${table.columns.map((column) => quote(column.name)).join(", ")} FROM ${quote(table.name)}`).raw();
      for (const row of select.iterate() as Iterable<unknown[]>) yield table.columns.map((column, i) => fromEmbedded(row[i], column));
    },
    lastMigration: async () => name,
    close: async () => {
      db.close();
    },
  };
}

async function serverSnapshot(connectionString: string): Promise<Snapshot> {
  const client = new pg.Client({ connectionString });
  await client.connect();
  await client.query("BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY");
  const { rows } = await client.query<{ name: string }>(lastMigrationSql);
  return {
    async *rows(table) {
      await client.query(`DECLARE backup_rows CURSOR FOR SELECT row_to_json(t) AS row FROM ${quote(table.name)} t`);
      for (;;) {
        const fetched = await client.query<{ row: Record<string, unknown> }>(`FETCH ${fetchRows} FROM backup_rows`);
        if (fetched.rows.length === 0) break;
        for (const { row } of fetched.rows) yield table.columns.map((column) => fromServer(row[column.name], column));
      }
      await client.query("CLOSE backup_rows");
    },
    lastMigration: async () => rows[0]?.name ?? "",
    close: () => client.end(),
  };
}

/** Opens the database at `url` for reading one state of it. Close it when done. */
export async function openSnapshot(url: string): Promise<Snapshot> {
  const target = parseDatabaseUrl(url);
  return target.dialect === "sqlite" ? embeddedSnapshot(target.file) : serverSnapshot(target.connectionString);
}
