import { unzipSync } from "fflate";
import { afterEach, beforeEach, expect, inject, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { Refused } from "@/lib/access/refusal";
import { Trouble } from "@/lib/access/trouble";
import { readSitePack, type SitePack } from "@/lib/documents/site-pack";
import { sitePackPdf } from "@/lib/documents/site-pack-pdf";
import { sitePackTables } from "@/lib/documents/site-pack-tables";
import { jobWorks } from "@/lib/jobs/job-works";
import { forgetOldPacks, packDays, packJobId } from "@/lib/jobs/site-pack-job";
import { askSitePack, openPackFile, stopSitePack, viewSitePacks } from "@/lib/jobs/site-packs";
import { type JobWork, runNextJob } from "@/lib/jobs/worker";
import { backupLines } from "@/lib/store/backup";
import { findJob } from "@/lib/store/job-queries";
import { restoreLines } from "@/lib/store/restore";
import { makeActor } from "@/seed/builders";
import { eachDatabase, type FreshDatabase, freshDatabase } from "../support/database";
import { type PackStory, tellPackStory } from "../support/site-pack";

const now = new Date("2026-03-20T12:00:00Z");

/** A backup's lines, read to its end. */
async function linesOf(url: string): Promise<string[]> {
  const lines: string[] = [];
  for await (const line of backupLines(url, now)) lines.push(line.trimEnd());
  return lines;
}

async function* each(lines: readonly string[]): AsyncGenerator<string> {
  yield* lines;
}

eachDatabase("The pack of a site for a day", (open) => {
  let fresh: FreshDatabase;
  let story: PackStory;
  const read = (day: string, actor: Actor = story.manager, db = fresh.db) => readSitePack(db, actor, { siteId: story.siteId, day, now });
  const table = (pack: SitePack, key: string) => {
    const section = pack.sections.find((one) => one.key === key);
    const names = section?.columns.map(({ name }) => name) ?? [];
    return section?.rows.map((row) => Object.fromEntries(row.flatMap((cell, i) => (names[i] ? [[names[i], cell]] : []))));
  };
  const ask = (day = "2026-03-06", actor = story.manager) => askSitePack(fresh.db, actor, { siteId: story.siteId, day, now });
  const view = () => viewSitePacks(fresh.db, story.manager, { siteId: story.siteId, now });
  const work = (works: Readonly<Record<string, JobWork>> = jobWorks) => runNextJob(fresh.db, works, () => now);

  beforeEach(async () => {
    fresh = await open();
    story = await tellPackStory(fresh.db);
  });
  afterEach(() => fresh.close());

  test("says what was known on the day, and nothing that came later", async () => {
    const sixth = await read("2026-03-06");
    expect(table(sixth, "open_findings")).toMatchObject([
      { signal_word: "DANGER", cause: "Recalled", outlet: "Große Übersee-Straße 12 A-1-1" },
    ]);
    expect(table(sixth, "decisions")).toMatchObject([
      { verdict: "affected", reason: "Listed model.", by_role: "inspector", stands: "yes" },
    ]);
    expect(table(sixth, "undecided_recalls")?.filter(({ notice }) => notice === "26-114")).toMatchObject([{ grade: "covered" }]);
    expect(table(sixth, "appliances_in_use")?.length).toBe(3);
    expect(table(sixth, "appliances_retired")).toMatchObject([{ brand: "Łabędź" }]);
    expect(table(sixth, "overdue_inspections")?.filter(({ last }) => last !== "never")).toMatchObject([
      { last: "2026-03-02", due: "2026-03-05" },
    ]);
    expect(table(sixth, "notices_not_checked")).toMatchObject([{ notice: "26-115", published: "2026-02-20" }]);
    expect(table(sixth, "circuit_loads")).toEqual([
      { circuit: "A-1", unit: "0101", device_amps: "15", seen_amps: "16.0", percent_of_device: "107", kept_by: "minute" },
    ]);
    expect(table(sixth, "people")).toMatchObject([{ role: "inspector" }, { role: "manager" }]);

    const fourth = await read("2026-03-04");
    expect(table(fourth, "appliances_retired")).toEqual([]);
    expect(table(fourth, "circuit_loads")).toMatchObject([{ seen_amps: null, kept_by: "no readings" }]);
    const ninth = await read("2026-03-09");
    expect(table(ninth, "decisions")).toMatchObject([{ verdict: "not affected", reason: "Rev. D plate." }]);
    const before = await read("2026-02-27");
    expect([before.head, before.sections.filter(({ rows }) => rows.length > 0).map(({ key }) => key)]).toEqual([null, ["circuit_loads"]]);
    expect(before.sections.every(({ empty, knownAsOf }) => empty !== "" && knownAsOf !== "")).toBe(true);
  });

  test("is the same byte for byte when it is made again, and from the other kind of database", async () => {
    const bytesOf = async (pack: SitePack) => [(await sitePackPdf(pack))?.bytes, Buffer.from(sitePackTables(pack))] as const;
    const first = await bytesOf(await read("2026-03-06"));
    const [again, byInspector] = [await bytesOf(await read("2026-03-06")), await bytesOf(await read("2026-03-06", story.inspector))];
    for (const other of [again, byInspector]) for (const i of [0, 1] as const) expect(other[i]?.equals(first[i] ?? Buffer.of())).toBe(true);
    const lines = await linesOf(fresh.url);
    for (const kind of inject("postgresql") ? (["sqlite", "postgresql"] as const) : (["sqlite"] as const)) {
      const target = await freshDatabase(kind);
      await restoreLines(target.url, each(lines));
      const restored = await bytesOf(await read("2026-03-06", story.manager, target.db));
      for (const i of [0, 1] as const) expect(restored[i]?.equals(first[i] ?? Buffer.of())).toBe(true);
      await target.close();
    }
    const otherDay = await bytesOf(await read("2026-03-09"));
    expect(otherDay[0]?.equals(first[0] ?? Buffer.of())).toBe(false);
  });

  test("is refused for another site, for a role that may not, and for a day that is none or is still to come", async () => {
    const { organisationId, otherSiteId } = story;
    const elsewhere = await makeActor(fresh.db, organisationId, "manager", [otherSiteId]);
    const surveyor = await makeActor(fresh.db, organisationId, "surveyor");
    const { siteId } = story;
    for (const actor of [elsewhere, surveyor]) {
      await expect(read("2026-03-06", actor)).rejects.toThrow(Refused);
      await expect(ask("2026-03-06", actor)).rejects.toThrow(Refused);
      await expect(stopSitePack(fresh.db, actor, { siteId, day: "2026-03-06", now })).rejects.toThrow(Refused);
      await expect(viewSitePacks(fresh.db, actor, { siteId, now })).rejects.toThrow(Refused);
      await expect(openPackFile(fresh.db, actor, { siteId, day: "2026-03-06", file: "document" })).rejects.toThrow(Refused);
    }
    for (const day of ["2026-03-32", "today", "2026-03-21"]) await expect(ask(day)).rejects.toThrow(Trouble);
    const stranger = { ...story.manager, organisationId: "another" };
    await expect(viewSitePacks(fresh.db, stranger, { siteId, now })).rejects.toThrow(Trouble);
    expect((await view()).atWork).toEqual([]);
  });

  test("asked for twice at once is made once, and both files are kept as they were made", async () => {
    await Promise.all([ask(), ask(), ask("2026-03-06", story.inspector)]);
    expect((await view()).atWork).toMatchObject([{ day: "2026-03-06", state: "waiting" }]);
    const id = await work();
    expect(id).toBe(packJobId({ siteId: story.siteId, day: "2026-03-06" }));
    expect(await work()).toBeNull();
    const { packs, atWork } = await view();
    expect([packs.length, atWork.length]).toEqual([1, 0]);
    const pack = await read("2026-03-06");
    const given = { siteId: story.siteId, day: "2026-03-06" };
    const document = await openPackFile(fresh.db, story.inspector, { ...given, file: "document" });
    expect(Buffer.from(document.bytes).equals((await sitePackPdf(pack))?.bytes ?? Buffer.of())).toBe(true);
    expect(document.name).toBe("site-pack-grosse-ubersee-strasse-12-2026-03-06.pdf");
    const tables = await openPackFile(fresh.db, story.manager, { ...given, file: "tables" });
    const inUse = Buffer.from(unzipSync(tables.bytes)["10_appliances_in_use.csv"] ?? []).toString("utf8");
    expect(inUse).toContain(`"'=HYPERLINK(""x"")",Wäschetrockner Ω-7,0O1I8B`);
    expect((await findJob(fresh.db, story.organisationId, id ?? ""))?.done).toBeGreaterThan(5);
  });

  test("stopped while it waits or while it is drawn keeps nothing, and can be asked for again", async () => {
    const given = { siteId: story.siteId, day: "2026-03-06", now };
    await ask();
    await stopSitePack(fresh.db, story.manager, given);
    expect(await work()).toBeNull();
    await ask();
    const stopped: JobWork = (db, handle) => {
      const advance = async (done: number, total: number | null) => {
        await handle.advance(done, total);
        await stopSitePack(fresh.db, story.manager, given);
      };
      return (jobWorks["site pack"] as JobWork)(db, { ...handle, advance });
    };
    await work({ "site pack": stopped });
    expect(await findJob(fresh.db, story.organisationId, packJobId(given))).toMatchObject({ state: "cancelled" });
    expect((await view()).packs).toEqual([]);
    await expect(openPackFile(fresh.db, story.manager, { ...given, file: "tables" })).rejects.toThrow("make it again");
    await ask();
    await work();
    expect((await view()).packs.length).toBe(1);
  });

  test("is made with the rights that whoever asked has when it is made, and says why it was not", async () => {
    await ask();
    await fresh.db.membership.updateMany({ where: { userId: story.manager.userId ?? "" }, data: { role: "surveyor" } });
    await work();
    expect((await view()).packs).toEqual([]);
    expect((await view()).failed).toMatchObject([{ message: expect.stringContaining("may not make site packs") }]);
  });

  test("is kept for its days and then removed", async () => {
    await ask();
    await work();
    await forgetOldPacks(fresh.db, new Date(now.getTime() + packDays * 86_400_000));
    expect((await view()).packs.length).toBe(1);
    await forgetOldPacks(fresh.db, new Date(now.getTime() + packDays * 86_400_000 + 1));
    expect((await view()).packs).toEqual([]);
  });
});
