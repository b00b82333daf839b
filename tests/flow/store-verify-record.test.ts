import { expect, it } from "vitest";
import { checkRecord, findRecord, recordPageSize } from "@/lib/access/read-record";
import { Refused } from "@/lib/access/refusal";
import type { Store } from "@/lib/store/client";
import { appendRecord } from "@/lib/store/record";
import { verifyRecord } from "@/lib/store/verify-record";
import { makeActor, makeOrganisation } from "@/seed/builders";
import { eachDatabase } from "../support/database";

const at = new Date("2026-01-02T03:04:05Z");

async function fill(db: Store, organisationId: string, entries: number, actor = "test"): Promise<void> {
  const drafts = Array.from({ length: entries }, (_, i) => ({
    organisationId,
    at,
    actor,
    what: "changed thing",
    subjectKind: "thing",
    subjectId: `t${i % 3}`,
    before: { b: 1, a: [0.1, { d: null, c: "ß" }] },
    after: { a: [], z: i },
  }));
  await db.$transaction((tx) => appendRecord(tx, drafts));
}

eachDatabase("verifying the record", (open) => {
  const inOrganisation = async (test: (db: Store, organisationId: string) => Promise<void>) => {
    const { db, close } = await open();
    const { id } = await makeOrganisation(db);
    await fill(db, id, 7);
    await test(db, id).finally(close);
  };

  it("finds a whole chain whole, and an empty one too", () =>
    inOrganisation(async (db, id) => {
      const last = await db.recordEntry.findFirstOrThrow({ where: { organisationId: id, number: 7 } });
      expect(await verifyRecord(db, id)).toEqual({ entries: 7, broken: null, lastHash: last.hash });
      expect(await verifyRecord(db, "nobody")).toMatchObject({ entries: 0, broken: null });
    }));

  it("is read by page, newest first, with names as they are today, by those who may and for the whole organisation only", () =>
    inOrganisation(async (db, id) => {
      const inspector = await makeActor(db, id, "inspector");
      await fill(db, id, recordPageSize, inspector.userId ?? "");
      const first = await findRecord(db, inspector, { page: 1 });
      expect(first).toMatchObject({ entries: recordPageSize + 7, page: 1, pages: 2 });
      expect(first.lines[0]).toMatchObject({ number: recordPageSize + 7, who: inspector.name });
      expect((await findRecord(db, inspector, { page: 99 })).lines.map(({ number }) => number)).toEqual([7, 6, 5, 4, 3, 2, 1]);
      expect((await findRecord(db, inspector, { page: 1, subjectId: "t0" })).lines.every(({ subjectId }) => subjectId === "t0")).toBe(true);
      expect(await checkRecord(db, inspector)).toMatchObject({ broken: null });
      await expect(findRecord(db, await makeActor(db, id, "surveyor"), { page: 1 })).rejects.toThrow(Refused);
      await expect(checkRecord(db, { ...inspector, siteIds: ["one-site"] })).rejects.toThrow(Refused);
    }));
});
