import { spawnSync } from "node:child_process";
import { appendFileSync, cpSync, mkdtempSync, rmSync, symlinkSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import pg from "pg";
import { afterEach, beforeEach, describe, expect, inject, it } from "vitest";
import { type Dialect, openStore } from "@/lib/store/client";
import { migrate } from "@/lib/store/migrate";
import { prepareStore } from "@/lib/store/prepare";
import { runTogether } from "../support/processes";

const root = join(import.meta.dirname, "../..");
let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "pw-migrate-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

let made = 0;
/** The address of a database that has nothing in it yet, not even its file. */
async function emptyUrl(kind: Dialect): Promise<string> {
  made += 1;
  if (kind === "sqlite") return `file:${join(folder, "below", `empty-${made}.db`)}`;
  const server = inject("postgresql");
  const name = `pw_empty_${process.pid}_${made}`;
  const admin = new pg.Client({ connectionString: `${server}/postgres` });
  await admin.connect();
  await admin.query(`CREATE DATABASE "${name}"`);
  await admin.end();
  return `${server}/${name}`;
}

const kinds: Dialect[] = inject("postgresql") ? ["sqlite", "postgresql"] : ["sqlite"];

describe.each(kinds)("migrating (%s)", (kind) => {
  it("applies everything once, in order, and nothing the second time", async () => {
    const url = await emptyUrl(kind);
    const applied = await migrate(url);
    expect(applied[0]).toBe("0001_first");
    expect(applied).toEqual([...applied].sort());
    expect(await migrate(url)).toEqual([]);
  });

  it("is done by exactly one of three processes that begin at the same moment", async () => {
    const url = await emptyUrl(kind);
    const answers = (await runTogether("migrating-process.ts", [[url], [url], [url]])).map((line) => JSON.parse(line) as string[]);
    expect(answers.filter((names) => names.length > 0)).toHaveLength(1);
    expect(answers.filter((names) => names.length === 0)).toHaveLength(2);
    const db = openStore(url);
    expect(await db.organisation.count()).toBe(0);
    await db.$disconnect();
  });

  it("refuses a database from a newer version, and one whose applied migration was edited, and changes nothing", async () => {
    const url = await emptyUrl(kind);
    const db = await prepareStore(url);
    const stamp = `INSERT INTO "_prisma_migrations" ("id","checksum","finished_at","migration_name") VALUES ('x','x',CURRENT_TIMESTAMP,'9999_later')`;
    await db.$executeRawUnsafe(stamp);
    await expect(migrate(url)).rejects.toThrow(/9999_later, which this version does not know: use the newer version/);
    await db.$executeRawUnsafe(`DELETE FROM "_prisma_migrations" WHERE "id" = 'x'`);
    expect(await migrate(url)).toEqual([]);
    await db.$executeRawUnsafe(`UPDATE "_prisma_migrations" SET "checksum" = 'other' WHERE "migration_name" = '0001_first'`);
    await expect(migrate(url)).rejects.toThrow(/0001_first was edited after it was applied/);
    await db.$disconnect();
  });
});

it("refuses an address that is no database's with one sentence", async () => {
  await expect(prepareStore("mysql://localhost/x")).rejects.toThrow(/must begin with "file:" or "postgresql:\/\/"/);
});

describe("the check that models and migrations agree", () => {
  const check = (where: string) =>
    spawnSync(process.execPath, ["lib/store/draft-migration.mjs", "--check"], { cwd: where, encoding: "utf8" });

  it("passes on what is committed", () => {
    const { status, stderr } = check(root);
    expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
  });

  it("fails on both providers when a model has moved on", () => {
    const copy = join(folder, "copy");
    cpSync(join(root, "prisma"), join(copy, "prisma"), { recursive: true });
    for (const script of ["draft-migration.mjs", "generate.mjs"]) cpSync(join(root, "lib/store", script), join(copy, "lib/store", script));
    symlinkSync(join(root, "node_modules"), join(copy, "node_modules"));
    appendFileSync(join(copy, "prisma/models.prisma"), "\nmodel Afterthought {\n  id String @id\n}\n");
    const { status, stderr } = check(copy);
    expect(status).toBe(1);
    expect(stderr).toMatch(/since the last sqlite migration[\s\S]*Afterthought[\s\S]*since the last postgresql migration/);
  });
});
