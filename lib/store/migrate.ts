import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import Database from "better-sqlite3";
import pg from "pg";
import { parseDatabaseUrl } from "./database-url";

interface Migration {
  readonly name: string;
  readonly sql: string;
  readonly checksum: string;
}

// The table and the lock key that Prisma's own migrations use, so that either tool finds the other's work.
const createTable = `CREATE TABLE IF NOT EXISTS "_prisma_migrations" ("id" TEXT PRIMARY KEY NOT NULL, "checksum" TEXT NOT NULL,
  "finished_at" TIMESTAMP, "migration_name" TEXT NOT NULL, "logs" TEXT, "rolled_back_at" TIMESTAMP,
  "started_at" TIMESTAMP NOT NULL DEFAULT CURRENT_TIMESTAMP, "applied_steps_count" INTEGER NOT NULL DEFAULT 0)`;
const lockKey = 72707369;

/** The folder of a provider's migrations: beside the models in a checkout, or where the built server was assembled. */
function migrationsFolder(dialect: string): string {
  const folder = join(/* turbopackIgnore: true */ process.cwd(), "prisma", dialect, "migrations");
  if (!existsSync(folder)) throw new Error(`The migrations are missing: ${folder} is not there. Start from the product's folder.`);
  return folder;
}

function readMigrations(dialect: string): Migration[] {
  const folder = migrationsFolder(dialect);
  const names = readdirSync(folder).filter((name) => /^\d{4}_/.test(name));
  return names.sort().map((name) => {
    const sql = readFileSync(join(folder, name, "migration.sql"), "utf8");
    return { name, sql, checksum: createHash("sha256").update(sql).digest("hex") };
  });
}

/** Those still to apply, up to `last`; refuses a database from a newer version and a migration edited after it was applied. */
function pending(all: readonly Migration[], applied: ReadonlyMap<string, string>, last?: string): Migration[] {
  if (last !== undefined && !all.some(({ name }) => name === last))
    throw new Error(`This version does not know migration ${last}: use the version that is newer.`);
  for (const [name, checksum] of applied) {
    const ours = all.find((migration) => migration.name === name);
    if (!ours) throw new Error(`The database has migration ${name}, which this version does not know: use the newer version.`);
    if (ours.checksum !== checksum) throw new Error(`Migration ${name} was edited after it was applied: restore its text.`);
  }
  return all.filter((migration) => !applied.has(migration.name) && (last === undefined || migration.name <= last));
}

function migrateSqlite(file: string, last?: string): string[] {
  mkdirSync(dirname(file), { recursive: true });
  const db = new Database(file, { timeout: 60_000 });
  try {
    db.pragma("journal_mode = WAL");
    db.pragma("foreign_keys = OFF");
    db.exec("BEGIN IMMEDIATE");
    db.exec(createTable);
    const rows = db.prepare(`SELECT migration_name AS name, checksum FROM "_prisma_migrations"`).all() as {
      name: string;
      checksum: string;
    }[];
    const todo = pending(readMigrations("sqlite"), new Map(rows.map((row) => [row.name, row.checksum])), last);
    const note = db.prepare(
      `INSERT INTO "_prisma_migrations" ("id","checksum","finished_at","migration_name","applied_steps_count") VALUES (?,?,CURRENT_TIMESTAMP,?,1)`,
    );
    for (const migration of todo) {
      db.exec(migration.sql);
      note.run(crypto.randomUUID(), migration.checksum, migration.name);
    }
    const broken = db.pragma("foreign_key_check") as unknown[];
    if (broken.length > 0) throw new Error(`The migration would leave ${broken.length} rows pointing nowhere; nothing was changed.`);
    db.exec("COMMIT");
    return todo.map((migration) => migration.name);
  } finally {
    db.close();
  }
}

async function migratePostgresql(connectionString: string, last?: string): Promise<string[]> {
  const client = new pg.Client({ connectionString });
  await client.connect();
  try {
    await client.query("SELECT pg_advisory_lock($1)", [lockKey]);
    await client.query(createTable);
    const { rows } = await client.query<{ name: string; checksum: string }>(
      `SELECT migration_name AS name, checksum FROM "_prisma_migrations"`,
    );
    const todo = pending(readMigrations("postgresql"), new Map(rows.map((row) => [row.name, row.checksum])), last);
    for (const migration of todo) await applyPostgresql(client, migration);
    return todo.map((migration) => migration.name);
  } finally {
    await client.end();
  }
}

async function applyPostgresql(client: pg.Client, migration: Migration): Promise<void> {
  try {
    await client.query("BEGIN");
    await client.query(migration.sql);
    await client.query(
      `INSERT INTO "_prisma_migrations" ("id","checksum","finished_at","migration_name","applied_steps_count") VALUES ($1,$2,now(),$3,1)`,
      [crypto.randomUUID(), migration.checksum, migration.name],
    );
    await client.query("COMMIT");
  } catch (error) {
    await client.query("ROLLBACK");
    throw error;
  }
}

/**
 * Brings the database at `url` to this version's shape, creating an embedded one if it is not there. Several processes may call
 * it at once: a lock makes them take turns. Returns the names of the migrations it applied. Throws, with nothing half done, when
 * the database comes from a newer version or a migration was edited. `last` stops at an older shape, for filling it from a backup.
 */
export async function migrate(url: string, last?: string): Promise<string[]> {
  const target = parseDatabaseUrl(url);
  return target.dialect === "sqlite" ? migrateSqlite(target.file, last) : migratePostgresql(target.connectionString, last);
}
