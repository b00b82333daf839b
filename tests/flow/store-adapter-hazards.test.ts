import { copyFileSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import Database from "better-sqlite3";
import { afterEach, beforeEach, describe, expect, inject, it } from "vitest";
import { openStore } from "@/lib/store/client";
import { migrate } from "@/lib/store/migrate";
import { openPlain } from "../support/plain-client";
import { runTogether } from "../support/processes";

/** Each hazard of the embedded adapter twice: what it does as it comes, and that lib/store/client.ts removes it. */
const openers = { plain: (file: string) => openPlain(file), safe: (file: string) => openStore(`file:${file}`) };
const row = (id: string) => ({ id, key: id, count: 0, lastRequest: 0n });

let folder: string;
let file: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "pw-hazard-"));
  file = join(folder, "test.db");
  copyFileSync(join(inject("databaseFolder"), "template.db"), file);
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

/** A transaction that is held open while `outside` runs, and rolled back afterwards. */
async function whileRollingBack(kind: "plain" | "safe", outside: (db: ReturnType<typeof openPlain>) => Promise<unknown>, waitFor: boolean) {
  const db = openers[kind](file);
  let enter = () => {};
  let leave = () => {};
  const entered = new Promise<void>((resolve) => {
    enter = resolve;
  });
  const left = new Promise<void>((resolve) => {
    leave = resolve;
  });
  const transaction = db.$transaction(async (tx) => {
    await tx.rateLimit.create({ data: row("inside") });
    enter();
    await left;
    throw new Error("rolled back on purpose");
  });
  const ended = expect(transaction).rejects.toThrow("rolled back on purpose");
  await entered;
  const answer = outside(db);
  if (waitFor) await answer;
  leave();
  await ended;
  const result = await answer;
  const ids = (await db.rateLimit.findMany({ orderBy: { id: "asc" } })).map(({ id }) => id);
  await db.$disconnect();
  return { result, ids };
}

describe("a write sent while another request's transaction is open", () => {
  it("is lost with that transaction by the adapter as it comes, although it was answered", async () => {
    const { result, ids } = await whileRollingBack("plain", (db) => db.rateLimit.create({ data: row("outside") }), true);
    expect(result).toMatchObject({ id: "outside" });
    expect(ids).toEqual([]);
  });

  it("waits its turn and stays with the store's client", async () => {
    const { result, ids } = await whileRollingBack("safe", (db) => db.rateLimit.create({ data: row("outside") }), false);
    expect(result).toMatchObject({ id: "outside" });
    expect(ids).toEqual(["outside"]);
  });
});

describe("a read while another request's transaction is open", () => {
  it("sees what will be rolled back by the adapter as it comes", async () => {
    const { result, ids } = await whileRollingBack("plain", (db) => db.rateLimit.count(), true);
    expect(result).toBe(1);
    expect(ids).toEqual([]);
  });

  it("sees only what is committed with the store's client, and does not wait", async () => {
    const { result } = await whileRollingBack("safe", (db) => db.rateLimit.count(), true);
    expect(result).toBe(0);
  });
});

describe("two processes that read and then write in transactions", () => {
  const rounds = 150;
  async function count(kind: "plain" | "safe"): Promise<{ failed: number; counted: number }> {
    const db = openers.safe(file);
    await db.rateLimit.create({ data: row("counter") });
    await db.$disconnect();
    const args = [kind, file, "counter", String(rounds)];
    const answers = await runTogether("counting-process.ts", [args, args]);
    const raw = new Database(file, { readonly: true });
    const counted = raw.prepare(`SELECT "count" FROM "RateLimit" WHERE "id" = 'counter'`).pluck().get() as number;
    raw.close();
    return { failed: answers.reduce((sum, answer) => sum + Number(answer), 0), counted };
  }

  it("fail each other by the adapter as it comes, which begins without the write lock", async () => {
    const { failed, counted } = await count("plain");
    expect(failed).toBeGreaterThan(0);
    expect(counted).toBe(2 * rounds - failed);
  });

  it("all succeed with the store's client", async () => {
    expect(await count("safe")).toEqual({ failed: 0, counted: 2 * rounds });
  });
});

describe("the journal", () => {
  const mode = (path: string) => {
    const raw = new Database(path);
    const found: unknown = raw.pragma("journal_mode", { simple: true });
    raw.close();
    return found;
  };

  it("is a rollback journal by the adapter as it comes, in which readers and the writer stop each other", async () => {
    const fresh = join(folder, "plain.db");
    const db = openPlain(fresh);
    await db.$executeRawUnsafe(`CREATE TABLE "T" ("id" TEXT)`);
    await db.$disconnect();
    expect(mode(fresh)).toBe("delete");
  });

  it("is a write-ahead log once the store has migrated", async () => {
    const fresh = join(folder, "migrated.db");
    await migrate(`file:${fresh}`);
    expect(mode(fresh)).toBe("wal");
  });
});

describe("many writers in one process", () => {
  it("each read what the one before wrote", async () => {
    const db = openers.safe(file);
    await db.rateLimit.create({ data: row("counter") });
    const raise = () =>
      db.$transaction(async (tx) => {
        const { count } = await tx.rateLimit.findUniqueOrThrow({ where: { id: "counter" } });
        await tx.rateLimit.update({ where: { id: "counter" }, data: { count: count + 1 } });
      });
    await Promise.all(Array.from({ length: 300 }, raise));
    expect(await db.rateLimit.findUnique({ where: { id: "counter" } })).toMatchObject({ count: 300 });
    await db.$disconnect();
  });

  it("are told at once when one opens a transaction inside a transaction, instead of waiting for themselves", async () => {
    const db = openers.safe(file);
    await expect(db.$transaction(() => db.$transaction(async () => undefined))).rejects.toThrow(/inside a transaction/);
    expect(await db.rateLimit.create({ data: row("after") })).toMatchObject({ id: "after" });
    await db.$disconnect();
  });

  it("go on after one of them failed", async () => {
    const db = openers.safe(file);
    await db.rateLimit.create({ data: row("once") });
    const twice = db.rateLimit.create({ data: row("once") });
    const other = db.rateLimit.create({ data: row("other") });
    await expect(twice).rejects.toThrow();
    await other;
    expect(await db.rateLimit.count()).toBe(2);
    await db.$disconnect();
  });
});
