import { randomUUID } from "node:crypto";
import { rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, expect, it, vi } from "vitest";
import { verifyCommand } from "@/lib/cli/verify";
import { appendRecord } from "@/lib/store/record";
import { makeOrganisation } from "@/seed/builders";
import { eachDatabase } from "../support/database";

/** Runs the command in this process and returns what it prints. */
async function verifyPrints(url: string, ...args: string[]): Promise<string> {
  vi.stubEnv("DATABASE_URL", url);
  const written: string[] = [];
  vi.restoreAllMocks();
  vi.spyOn(process.stdout, "write").mockImplementation((text) => {
    written.push(String(text));
    return true;
  });
  const code = await verifyCommand(args);
  expect(code).toBe(0);
  return written.join("");
}

afterEach(() => {
  vi.restoreAllMocks();
  vi.unstubAllEnvs();
});

eachDatabase("verify", (open) => {
  it("says that the record is whole, and finds an entry changed behind its back", async () => {
    const { db, url, close } = await open();
    const { id, name } = await makeOrganisation(db);
    const draft = (what: string) => ({
      organisationId: id,
      at: new Date("2026-03-04T05:06:07Z"),
      actor: "test",
      what,
      subjectKind: "thing",
      subjectId: "1",
    });
    await db.$transaction((tx) => appendRecord(tx, [draft("first"), draft("second"), draft("third")]));
    expect(await verifyPrints(url)).toMatch(new RegExp(`^${name}: whole, 3 entries; its end is 3:[0-9a-f]{64}\n$`));
    await db.recordEntry.updateMany({ where: { organisationId: id, number: 2 }, data: { what: "something else" } });
    expect(await verifyPrints(url)).toBe(
      `${name}: BROKEN at entry 2: its content was changed after it was written. The 1 entries before it are as they were written.\n`,
    );
    await close();
  });

  it("writes the record down and verifies the file without a database; an end cut off shows against the end written down", async () => {
    const { db, url, close } = await open();
    const { id, name } = await makeOrganisation(db);
    const draft = {
      organisationId: id,
      at: new Date("2026-03-04T05:06:07Z"),
      actor: "test",
      what: "did",
      subjectKind: "thing",
      subjectId: "1",
    };
    await db.$transaction((tx) => appendRecord(tx, [draft, draft, draft]));
    const file = join(tmpdir(), `${randomUUID()}.jsonl`);
    const printed = await verifyPrints(url, "--export", file);
    const head = /3:[0-9a-f]{64}/.exec(printed)?.[0] ?? "";
    expect(await verifyPrints("file:/nowhere", "--file", file, "--head", head)).toContain(": whole, 3 entries, and the end written down");
    await db.recordEntry.delete({ where: { organisationId_number: { organisationId: id, number: 3 } } });
    expect(await verifyPrints(url)).toContain("whole, 2 entries");
    expect(await verifyPrints(url, "--head", head)).toContain(`${name}: BROKEN at entry 3: the record ends before it`);
    await expect(verifyPrints(url, "--head", "3")).rejects.toThrow(/NUMBER:HASH/);
    await expect(verifyPrints(url, "--organisation", "Nobody")).rejects.toThrow(/no organisation "Nobody"/);
    await expect(verifyPrints(url, "--file", `${file}.gone`)).rejects.toThrow(/cannot be read/);
    await makeOrganisation(db);
    await expect(verifyPrints(url, "--export", "-")).rejects.toThrow(/several organisations/);
    rmSync(file);
    await close();
  });
});
