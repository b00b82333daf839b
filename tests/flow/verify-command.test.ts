import { afterEach, expect, it, vi } from "vitest";
import { verifyCommand } from "@/lib/cli/verify";
import { appendRecord } from "@/lib/store/record";
import { makeOrganisation } from "@/seed/builders";
import { eachDatabase } from "../support/database";

/** Runs the command in this process and returns what it prints. */
async function verifyPrints(url: string): Promise<string> {
  vi.stubEnv("DATABASE_URL", url);
  const written: string[] = [];
  const spy = vi.spyOn(process.stdout, "write").mockImplementation((text) => {
    written.push(String(text));
    return true;
  });
  const code = await verifyCommand([]);
  spy.mockRestore();
  expect(code).toBe(0);
  return written.join("");
}

afterEach(() => vi.unstubAllEnvs());

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
    expect(await verifyPrints(url)).toMatch(new RegExp(`^${name}: whole, 3 entries, the last one's hash [0-9a-f]{64}\n$`));
    await db.recordEntry.updateMany({ where: { organisationId: id, number: 2 }, data: { what: "something else" } });
    expect(await verifyPrints(url)).toBe(
      `${name}: BROKEN at entry 2: its content was changed after it was written. The 1 entries before it are as they were written.\n`,
    );
    await close();
  });
});
