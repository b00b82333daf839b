import { copyFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import pg from "pg";
import { describe, inject } from "vitest";
import { type Dialect, openStore, type Store } from "../../lib/store/client";

export interface FreshDatabase {
  readonly db: Store;
  readonly url: string;
  readonly close: () => Promise<void>;
}

let counter = 0;

/** A migrated, empty database of its own for one test. Close it when done. */
export async function freshDatabase(kind: Dialect = "sqlite"): Promise<FreshDatabase> {
  counter += 1;
  const name = `pw_${process.pid}_${counter}`;
  return kind === "sqlite" ? freshFile(name) : freshOnServer(name);
}

function freshFile(name: string): FreshDatabase {
  const folder = inject("databaseFolder");
  const file = join(folder, `${name}.db`);
  copyFileSync(join(folder, "template.db"), file);
  const url = `file:${file}`;
  const db = openStore(url);
  const close = async () => {
    await db.$disconnect();
    for (const suffix of ["", "-wal", "-shm"]) rmSync(file + suffix, { force: true });
  };
  return { db, url, close };
}

async function freshOnServer(name: string): Promise<FreshDatabase> {
  const server = inject("postgresql");
  if (!server) throw new Error("PostgreSQL is not installed.");
  const admin = new pg.Client({ connectionString: `${server}/postgres` });
  await admin.connect();
  await admin.query(`CREATE DATABASE "${name}" TEMPLATE pw_template STRATEGY FILE_COPY`);
  const url = `${server}/${name}`;
  const db = openStore(url);
  const close = async () => {
    await db.$disconnect();
    await admin.query(`DROP DATABASE "${name}" WITH (FORCE)`);
    await admin.end();
  };
  return { db, url, close };
}

/** Declares the same flow tests for the embedded database and, where it is installed, for PostgreSQL. */
export function eachDatabase(name: string, tests: (open: () => Promise<FreshDatabase>) => void): void {
  const kinds: Dialect[] = inject("postgresql") ? ["sqlite", "postgresql"] : ["sqlite"];
  for (const kind of kinds) describe(`${name} (${kind})`, () => tests(() => freshDatabase(kind)));
}
