import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Readable } from "node:stream";
import { afterAll, beforeAll, expect, it } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { setAsideCsv } from "@/lib/documents/set-aside-csv";
import { chooseColumns, chooseKind, startImport, stopImport, takeUpload } from "@/lib/jobs/bring-in";
import { importJob, importJobKind } from "@/lib/jobs/import-job";
import { getRunView, lookAtRun } from "@/lib/jobs/run-view";
import { runNextJob } from "@/lib/jobs/worker";
import { openCsv } from "@/lib/registry/csv-source";
import { eachSetAside, getRun, listRuns } from "@/lib/registry/import-list";
import type { Store } from "@/lib/store/client";
import { makeActor, makeOrganisation } from "@/seed/builders";
import { bytesOf } from "../support/csv";
import { eachDatabase, type FreshDatabase } from "../support/database";

const now = new Date("2026-02-03T10:00:00Z");
const messy = `Asset Tag;Bldg;Apt;Manufacturer;Mod. No.;Ser.;Elec;Power;Fuse
B7K2Q9;Kestrel Court;0704;Keldamar;HT-1500C;KM-1;120V~ 60Hz 1500W;1500 W;13A
;Kestrel Court;0806;Ostrel;KL-17;;120V~ 60Hz 1500W;lots;
H3N9D1;;0806;Pellwick;DH-50E;;115V~ 60Hz 575W;575;
`;

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "pw-uploads-"));
  process.env["PLATEWARDEN_DATA"] = folder;
});
afterAll(() => {
  delete process.env["PLATEWARDEN_DATA"];
  rmSync(folder, { recursive: true, force: true });
});

async function withActor<T>(open: () => Promise<FreshDatabase>, work: (db: Store, actor: Actor) => Promise<T>): Promise<T> {
  const { db, close } = await open();
  try {
    return await work(db, await makeActor(db, (await makeOrganisation(db)).id, "manager"));
  } finally {
    await close();
  }
}

const upload = (db: Store, actor: Actor, text: string, fileName = "walk.csv") =>
  takeUpload(db, actor, { body: bytesOf(text), fileName, announced: Buffer.byteLength(text), now });
const workOff = async (db: Store, at = now) => {
  while (await runNextJob(db, { [importJobKind]: importJob }, () => at));
};
const keptFiles = () => readdirSync(join(folder, "uploads")).length;

eachDatabase("bringing a file in on the web", (open) => {
  it("goes from the file over its columns to the account, and the set-aside rows come home as CSV", async () => {
    await withActor(open, async (db, actor) => {
      const { runId } = await upload(db, actor, messy);
      const look = await lookAtRun(await getRun(db, actor, { runId, now }));
      expect(look?.columns.map(({ header, target }) => [header, target])).toEqual([
        ["Asset Tag", "tag"],
        ["Bldg", "site"],
        ["Apt", "unit"],
        ["Manufacturer", "brand"],
        ["Mod. No.", "model"],
        ["Ser.", "serial"],
        ["Elec", "label_text"],
        ["Power", "rated_watts"],
        ["Fuse", "keep_in_notes"],
      ]);
      expect(look?.preview).toMatchObject({ delimiter: ";", looked: 3, asTheyAre: 0, mended: 1, troubled: 2 });
      expect(await db.appliance.count()).toBe(0);

      await startImport(db, actor, { runId, now });
      await workOff(db);
      const { run, setAside } = await getRunView(db, actor, { runId, now });
      expect(run).toMatchObject({ state: "done", rowsRead: 3, created: 1, updated: 0, unchanged: 0, setAside: 2 });
      expect(setAside.map((row) => row.line)).toEqual([3, 4]);
      expect(await db.appliance.findFirst()).toMatchObject({ tag: "B7K2Q9", ratedWatts: 1500, notes: "Fuse: 13A" });

      const csv = Readable.from(setAsideCsv(run.mapping?.headers ?? null, eachSetAside(db, actor, { runId, now })));
      const rows = [];
      for await (const row of openCsv(csv)) rows.push(row.record);
      expect(rows.map((row) => [row["line"], row["Asset Tag"], row["Power"]])).toEqual([
        ["3", "", "lots"],
        ["4", "H3N9D1", "575"],
      ]);
      expect(rows[0]?.["reason"]).toContain("rated_watts");
    });
  });

  it("offers the columns of the last file with the same headers, and says that a file was seen before", async () => {
    await withActor(open, async (db, actor) => {
      const first = await upload(db, actor, messy);
      const targets = ["tag", "site", "unit", "brand", "model", "serial", "label_text", "keep_in_notes", null];
      await chooseColumns(db, actor, { runId: first.runId, targets, unreadableCells: "set_aside", now });
      await startImport(db, actor, { runId: first.runId, now });
      await workOff(db);
      const second = await upload(db, actor, messy);
      const view = await getRunView(db, actor, { runId: second.runId, now });
      expect(view.run.mapping?.headers.map((header) => view.run.mapping?.targets[header])).toEqual(targets);
      expect(view.seenBefore?.id).toBe(first.runId);
    });
  });

  it("refuses columns that cannot be, with a sentence", async () => {
    await withActor(open, async (db, actor) => {
      const { runId } = await upload(db, actor, messy);
      const choose = (targets: (string | null)[]) => chooseColumns(db, actor, { runId, targets, unreadableCells: "set_aside", now });
      await expect(choose(["tag", "tag", "site"])).rejects.toThrow('Two columns are said to be "tag"');
      await expect(choose(["tag", null, "unit"])).rejects.toThrow("at which site");
    });
  });

  it("knows labels, places, recall lists and outlet logs apart, and lets a person say otherwise", async () => {
    await withActor(open, async (db, actor) => {
      const kinds = [
        "tag,site,brand,model\nT-1,Alder House,Keldamar,HT-1\n",
        "site,unit,circuit,device_amps,outlet\nAlder House,0101,A-1,15,AH-1\n",
        "source,number,date,title,brand,product\nlist,26-001,2026-01-01,Heater recalled,Keldamar,heater\n",
        "at,outlet,receptacle,tag,watts\n2026-01-01T00:00:00Z,AH-1,upper,T-1,100\n",
        '{"at":"2026-01-01T00:00:00Z","outlet":"AH-1","watts":5}\n',
        '[{"RecallID":1}]',
      ];
      const ids = [];
      for (const text of kinds) ids.push((await upload(db, actor, text)).runId);
      const found = await Promise.all(ids.map(async (runId) => (await getRun(db, actor, { runId, now })).kind));
      expect(found).toEqual(["labels", "places", "notices", "log", "log", "notices"]);
      const [runId = ""] = ids;
      await chooseKind(db, actor, { runId, kind: "places", now });
      expect(await getRun(db, actor, { runId, now })).toMatchObject({ kind: "places" });
    });
  });

  it("takes no file of which fewer bytes arrive than were announced, and keeps nothing of it", async () => {
    await withActor(open, async (db, actor) => {
      const before = keptFiles();
      const arrival = { body: bytesOf(messy), fileName: "cut.csv", announced: messy.length + 100, now };
      await expect(takeUpload(db, actor, arrival)).rejects.toThrow(`Only ${messy.length} of ${messy.length + 100} bytes arrived`);
      expect(keptFiles()).toBe(before);
      expect(await db.importRun.count()).toBe(0);
    });
  });

  it("refuses an inspector, and a surveyor the kinds that are not theirs", async () => {
    await withActor(open, async (db, manager) => {
      const inspector = await makeActor(db, manager.organisationId, "inspector");
      await expect(upload(db, inspector, messy)).rejects.toThrow("may not bring in labels");
      const surveyor = await makeActor(db, manager.organisationId, "surveyor");
      const { runId } = await upload(db, surveyor, messy);
      await expect(chooseKind(db, surveyor, { runId, kind: "places", now })).rejects.toThrow("may not bring in places");
      await expect(listRuns(db, inspector, { page: 1, take: 5, now })).rejects.toThrow("may not");
    });
  });

  const many = `tag,site,unit,brand,model\n${Array.from({ length: 9_000 }, (_, at) => `T-${at},Alder House,0101,Keldamar,HT-1`).join("\n")}\n`;

  it("stops between two chunks when asked, keeps what is in, and goes on from there later", async () => {
    await withActor(open, async (db, actor) => {
      const { runId } = await upload(db, actor, many);
      await startImport(db, actor, { runId, now });
      await runNextJob(
        db,
        {
          [importJobKind]: async (store, handle) => {
            await stopImport(db, actor, { runId, now });
            return importJob(store, handle);
          },
        },
        () => now,
      );
      const stopped = await getRun(db, actor, { runId, now });
      expect(stopped).toMatchObject({ state: "stopped", setAside: 0 });
      expect(stopped.rowsRead).toBeGreaterThan(0);
      expect(stopped.rowsRead).toBeLessThan(9_000);
      expect(stopped.message).toContain(`Stopped after ${stopped.rowsRead} rows`);
      expect(await db.appliance.count()).toBe(stopped.rowsRead);

      await startImport(db, actor, { runId, now });
      await workOff(db);
      expect(await getRun(db, actor, { runId, now })).toMatchObject({ state: "done", rowsRead: 9_000, created: 9_000, unchanged: 0 });
      expect(await db.appliance.count()).toBe(9_000);
    });
  });

  it("does nothing for someone who lost the right between asking and the work", async () => {
    await withActor(open, async (db, actor) => {
      const { runId } = await upload(db, actor, messy);
      await startImport(db, actor, { runId, now });
      await db.membership.updateMany({ where: { userId: actor.userId ?? "" }, data: { role: "inspector" } });
      await workOff(db);
      expect(await db.appliance.count()).toBe(0);
      expect((await db.importRun.findUniqueOrThrow({ where: { id: runId } })).state).toBe("broken_off");
    });
  });
});
