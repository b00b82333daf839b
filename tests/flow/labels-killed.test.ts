import { spawn } from "node:child_process";
import { once } from "node:events";
import { expect, it } from "vitest";
import { commandLineActor } from "@/lib/access/actor";
import { getRun } from "@/lib/registry/import-list";
import { labelColumns } from "@/lib/registry/label-columns";
import { loadLabels } from "@/lib/registry/labels-import";
import type { Store } from "@/lib/store/client";
import { bytesOf, csvText } from "../support/csv";
import { eachDatabase } from "../support/database";

const rowCount = 6_000;
// A third of the rows has no tag; half of these have no serial either, so that every rule of sameness is at work.
const rows = Array.from({ length: rowCount }, (_, at) => ({
  tag: at % 3 === 0 ? "" : `T-${at}`,
  site: "Alder House",
  unit: String(at % 50),
  brand: "Keldamar",
  model: `HT-${at % 7}`,
  serial: at % 6 === 0 ? "" : `S-${at}`,
}));
const file = csvText(labelColumns, rows);

/** Waits until something the other process does has come true. */
async function until(isTrue: () => Promise<boolean>): Promise<void> {
  while (!(await isTrue())) await new Promise((resolve) => setImmediate(resolve));
}

// The loader is a module of that process, not a parent of it: the signal must reach what does the work.
/** Loads the file in a process of its own that gets only part of it, and ends that process the hard way once rows are stored. */
async function killedLoad(db: Store, url: string): Promise<void> {
  const child = spawn(process.execPath, ["--import", "tsx", "lib/cli/main.ts", "load", "labels", "-"], {
    env: { ...process.env, DATABASE_URL: url },
    stdio: ["pipe", "ignore", "inherit"],
  });
  const ended = once(child, "exit");
  // The pipe breaks with the process, perhaps before all of this is through.
  child.stdin.on("error", () => undefined);
  child.stdin.write(file.slice(0, Math.floor(file.length * 0.8)));
  await until(async () => ((await db.importRun.findFirst())?.rowsRead ?? 0) > 0);
  child.kill("SIGKILL");
  await ended;
}

eachDatabase("an import whose process is killed", (open) => {
  it("is shown as broken off with how far it came, and the same file again makes no doubles", async () => {
    const { db, url, close } = await open();
    await killedLoad(db, url);
    const run = await db.importRun.findFirstOrThrow();
    const actor = commandLineActor(run.organisationId);
    const stored = await db.appliance.count();
    expect(stored).toBeGreaterThan(0);
    expect(stored).toBeLessThan(rowCount);

    const now = new Date();
    const shown = await getRun(db, actor, { runId: run.id, now });
    expect(shown).toMatchObject({ state: "broken_off", rowsRead: stored, created: stored });
    expect(shown.message).toContain(`Broken off after ${stored} rows`);

    const account = await loadLabels(db, actor, { source: bytesOf(file), fileName: "again.csv", now });
    expect(account).toMatchObject({ rowsRead: rowCount, created: rowCount - stored, updated: 0, unchanged: stored, setAside: 0 });
    expect(await db.appliance.count()).toBe(rowCount);
    expect((await db.importRun.findUniqueOrThrow({ where: { id: run.id } })).state).toBe("broken_off");
    await close();
  });

  it("goes on where it was when the run itself is taken up again", async () => {
    const { db, url, close } = await open();
    await killedLoad(db, url);
    const run = await db.importRun.findFirstOrThrow();
    const account = await loadLabels(db, commandLineActor(run.organisationId), {
      source: bytesOf(file),
      fileName: run.fileName,
      now: new Date(),
      runId: run.id,
    });
    expect(account).toMatchObject({ id: run.id, rowsRead: rowCount, created: rowCount, updated: 0, unchanged: 0, setAside: 0 });
    expect(await db.appliance.count()).toBe(rowCount);
    await close();
  });
});
