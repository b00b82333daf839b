import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import pg from "pg";
import type { TestProject } from "vitest/node";
import { migrate } from "../../lib/store/migrate";
import { serverBinaries, startThrowawayServer } from "./postgres-server";

declare module "vitest" {
  interface ProvidedContext {
    databaseFolder: string;
    postgresql: string | null;
  }
}

/** Migrates one template per kind of database; every test copies it. */
export default async function setup(project: TestProject): Promise<() => void> {
  const folder = mkdtempSync(join(tmpdir(), "pw-flow-"));
  await migrate(`file:${join(folder, "template.db")}`);
  const server = serverBinaries() ? await startThrowawayServer() : null;
  if (server) await makeServerTemplate(server.url);
  else process.stderr.write("Left out: the tests on PostgreSQL, because it is not installed (apt-get install postgresql).\n");
  project.provide("databaseFolder", folder);
  project.provide("postgresql", server?.url ?? null);
  return () => {
    server?.stop();
    rmSync(folder, { recursive: true, force: true });
  };
}

async function makeServerTemplate(url: string): Promise<void> {
  const client = new pg.Client({ connectionString: `${url}/postgres` });
  await client.connect();
  await client.query(`CREATE DATABASE pw_template`);
  await client.end();
  await migrate(`${url}/pw_template`);
}
