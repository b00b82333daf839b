import Database from "better-sqlite3";
import pg from "pg";
import type { BackupTable } from "./backup-tables";
import { type BackupCell, toEmbedded, toServer } from "./backup-values";
import { parseDatabaseUrl } from "./database-url";

/** A database being filled in one transaction: nothing is there until `keep`, and nothing remains after `drop`. */
export interface Filling {
  readonly isEmpty: () => Promise<boolean>;
  readonly insert: (table: BackupTable, rows: readonly BackupCell[][]) => Promise<void>;
  readonly keep: () => Promise<void>;
  readonly drop: () => Promise<void>;
}

const quote = (name: string) => `"${name}"`;
const columnList = (table: BackupTable) => table.columns.map((column) => quote(column.name)).join(", ");
const emptySql = `SELECT (SELECT count(*) FROM "Organisation") + (SELECT count(*) FROM "User") AS rows`;

function fillEmbedded(file: string): Filling {
  const db = new Database(file, { timeout: 60_000 });
  db.pragma("foreign_keys = OFF");
  db.exec("BEGIN IMMEDIATE");
  return {
    isEmpty: async () => (db.prepare(emptySql).get() as { rows: number }).rows === 0,
    insert: async (table, rows) => {
      const insert = db.prepare(
        `INSERT INTO ${quote(table.name)} (${columnList(table)}) VALUES (${table.columns.map(() => "?").join(", ")})`,
      );
      for (const row of rows) insert.run(row.map((cell, i) => toEmbedded(cell, table.columns[i] as BackupTable["columns"][number])));
    },
    keep: async () => {
      const broken = db.pragma("foreign_key_check") as unknown[];
      if (broken.length > 0) throw new Error(`${broken.length} rows of the backup point nowhere.`);
      db.exec("COMMIT");
      db.close();
    },
    drop: async () => {
      if (db.inTransaction) db.exec("ROLLBACK");
      db.close();
    },
  };
}

async function fillServer(connectionString: string): Promise<Filling> {
  const client = new pg.Client({ connectionString });
  await client.connect();
  await client.query("BEGIN");
  return {
    isEmpty: async () => Number((await client.query<{ rows: string }>(emptySql)).rows[0]?.rows) === 0,
    insert: async (table, rows) => {
      const objects = rows.map((row) =>
        Object.fromEntries(table.columns.map((column, i) => [column.name, toServer(row[i] ?? null, column)])),
      );
      const names = columnList(table);
      await client.query(
        `INSERT INTO ${quote(table.name)} (${names}) SELECT ${names} FROM jsonb_populate_recordset(NULL::${quote(table.name)}, $1::jsonb)`,
        [JSON.stringify(objects)],
      );
    },
    keep: async () => {
      await client.query("COMMIT");
      await client.end();
    },
    drop: async () => {
      await client.query("ROLLBACK");
      await client.end();
    },
  };
}

/** Opens the database at `url`, migrated before, for filling it from a backup. End with `keep` or `drop`. */
export async function openFilling(url: string): Promise<Filling> {
  const target = parseDatabaseUrl(url);
  return target.dialect === "sqlite" ? fillEmbedded(target.file) : fillServer(target.connectionString);
}
