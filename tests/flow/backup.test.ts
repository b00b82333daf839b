import { randomUUID } from "node:crypto";
import { existsSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { gunzipSync, gzipSync } from "node:zlib";
import { afterEach, describe, expect, inject, it, vi } from "vitest";
import { backupCommand } from "@/lib/cli/backup";
import { WrongUse } from "@/lib/cli/command";
import { restoreCommand } from "@/lib/cli/restore";
import { backupLines } from "@/lib/store/backup";
import { afterTheirParents } from "@/lib/store/backup-tables";
import { appendRecord, canonicalJson } from "@/lib/store/record";
import { restoreLines } from "@/lib/store/restore";
import { verifyRecord } from "@/lib/store/verify-record";
import { makeOrganisation } from "@/seed/builders";
import { eachDatabase, freshDatabase } from "../support/database";

const at = new Date("2026-03-04T05:06:07.089Z");

async function allLines(url: string): Promise<string[]> {
  const lines: string[] = [];
  for await (const line of backupLines(url, at)) lines.push(line.trimEnd());
  return lines;
}

async function* from(lines: readonly string[]): AsyncGenerator<string> {
  yield* lines;
}

/** An organisation with a value of every kind that a column can hold. */
async function fill({ db }: Awaited<ReturnType<typeof freshDatabase>>): Promise<string> {
  const { id } = await makeOrganisation(db);
  await db.user.create({
    data: { id: randomUUID(), name: "Åsa \u2028 O'Hara\n", email: "a@b.example", emailVerified: true, updatedAt: at },
  });
  await db.importRun.create({
    data: {
      id: randomUUID(),
      organisationId: id,
      kind: "log",
      state: "done",
      fileName: "log.csv",
      byteLength: 12_345_678_901n,
      mapping: { at: null, list: [1, "two"] },
      startedAt: at,
      heartbeatAt: at,
    },
  });
  const draft = (number: number) => ({
    organisationId: id,
    at: new Date(at.getTime() + number),
    actor: "test",
    what: "changed",
    subjectKind: "thing",
    subjectId: "1",
    before: { b: [1, 0.1, 1e21, "ß", null], a: { z: true } },
    after: { number },
  });
  await db.$transaction((tx) =>
    appendRecord(
      tx,
      Array.from({ length: 700 }, (_, i) => draft(i)),
    ),
  );
  return id;
}

afterEach(() => vi.unstubAllEnvs());

eachDatabase("a backup", (open) => {
  it("restored into an empty database gives the same content and a whole record, in either kind of database", async () => {
    const source = await open();
    const id = await fill(source);
    const lines = await allLines(source.url);
    for (const kind of inject("postgresql") ? (["sqlite", "postgresql"] as const) : (["sqlite"] as const)) {
      const target = await freshDatabase(kind);
      const { rows } = await restoreLines(target.url, from(lines));
      expect(rows).toBeGreaterThan(700);
      expect(sorted(await allLines(target.url))).toEqual(sorted(lines));
      expect(await verifyRecord(target.db, id)).toMatchObject({ entries: 700, broken: null });
      await target.close();
    }
    await source.close();
  });

  it("is refused where it was cut off, changed or shuffled, and leaves the database empty", async () => {
    const source = await open();
    await fill(source);
    const lines = await allLines(source.url);
    const target = await open();
    const damaged: [string, string[], RegExp][] = [
      ["cut off", lines.slice(0, -1), /cut off/],
      ["a changed value", lines.map((line) => line.replace('"changed"', '"unchanged"')), /check sum/],
      ["a row left out", lines.filter((_, i) => i !== lines.length - 2), /check sum/],
      ["a shortened row", lines.map((line, i) => (i === lines.length - 2 ? "[1]" : line)), /columns/],
      ["not JSON", [lines[0] ?? "", "{"], /Line 2 .* not JSON/],
      ["something else", ["tag,site"], /Line 1 .* not JSON/],
      ["another program's JSON", ["{}"], /Line 1 is not a line of a backup/],
      ["a newer version's", [(lines[0] ?? "").replace(/"migration":"\d{4}/, '"migration":"9999')], /newer/],
      ["nothing", [], /empty/],
    ];
    for (const [, given, why] of damaged) await expect(restoreLines(target.url, from(given))).rejects.toThrow(why);
    expect(await target.db.recordEntry.count()).toBe(0);
    await restoreLines(target.url, from(lines));
    await expect(restoreLines(target.url, from(lines))).rejects.toThrow(/already holds/);
    await source.close();
    await target.close();
  });

  it("is one command to write and one to read; a damaged file is one clear sentence", async () => {
    const source = await open();
    await fill(source);
    const file = join(tmpdir(), `${randomUUID()}.backup`);
    const printed = vi.spyOn(process.stdout, "write").mockReturnValue(true);
    vi.spyOn(process.stderr, "write").mockReturnValue(true);
    vi.stubEnv("DATABASE_URL", source.url);
    expect(await backupCommand([file])).toBe(0);
    expect(existsSync(`${file}.partial`)).toBe(false);
    const target = await open();
    vi.stubEnv("DATABASE_URL", target.url);
    const whole = readFileSync(file);
    writeFileSync(file, whole.subarray(0, whole.length / 2));
    await expect(restoreCommand([file])).rejects.toThrow(WrongUse);
    writeFileSync(file, gunzipSync(whole));
    await expect(restoreCommand([file])).rejects.toThrow(/cannot be read as a backup/);
    writeFileSync(file, gzipSync(gunzipSync(whole)));
    expect(await restoreCommand([file])).toBe(0);
    expect(printed.mock.calls.join("")).toMatch(/^Restored 7\d\d rows as they were at 20/);
    await expect(restoreCommand([`${file}.gone`])).rejects.toThrow(/cannot be read/);
    await expect(backupCommand(["/nowhere/at/all"])).rejects.toThrow(/could not be written/);
    vi.restoreAllMocks();
    rmSync(file);
    await source.close();
    await target.close();
  });
});

/** Neither tables nor the keys of stored JSON have an order, so both are sorted; the end line's sum covers them and is left out. */
function sorted(lines: readonly string[]): string[] {
  return lines
    .slice(1, -1)
    .map((line) => canonicalJson(JSON.parse(line)))
    .sort();
}

describe("tables of a backup", () => {
  it("come after those that they point to, and a ring is refused", () => {
    const parents = new Map([
      ["a", new Set(["c"])],
      ["b", new Set(["a", "c"])],
    ]);
    expect(afterTheirParents(["a", "b", "c"], parents)).toEqual(["c", "a", "b"]);
    expect(() => afterTheirParents(["a", "c"], new Map([...parents, ["c", new Set(["a"])]]))).toThrow(/ring/);
  });
});
