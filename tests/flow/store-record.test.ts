import { expect, it } from "vitest";
import { newId } from "@/lib/store/ids";
import { appendRecord, entryHash, firstLink } from "@/lib/store/record";
import { eachDatabase } from "../support/database";

eachDatabase("the record", (open) => {
  it("links each entry to the one before, in order, also when writers come at once", async () => {
    const { db, close } = await open();
    const organisationId = newId();
    await db.organisation.create({ data: { id: organisationId, name: "Linden Estates" } });
    const draft = (subjectId: string) => ({
      organisationId,
      at: new Date("2026-01-02T03:04:05Z"),
      actor: "test",
      what: "tried",
      subjectKind: "thing",
      subjectId,
      after: { b: 1, a: [2, { d: 3, c: 4 }] },
    });
    await Promise.all(Array.from({ length: 12 }, (_, i) => db.$transaction((tx) => appendRecord(tx, [draft(`${i}a`), draft(`${i}b`)]))));
    const entries = await db.recordEntry.findMany({ where: { organisationId }, orderBy: { number: "asc" } });
    expect(entries.map((entry) => entry.number)).toEqual(Array.from({ length: 24 }, (_, i) => i + 1));
    let previous = firstLink;
    for (const entry of entries) {
      expect(entry.previousHash).toBe(previous);
      expect(entry.hash).toBe(
        entryHash(entry.number, { ...entry, before: entry.before ?? undefined, after: entry.after ?? undefined }, previous),
      );
      previous = entry.hash;
    }
    await close();
  });
});
