import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it, vi } from "vitest";
import { addSource } from "@/lib/registry/notice-source";
import { makeActor, makeOrganisation } from "@/seed/builders";
import { plainList } from "@/seed/recall-builders";
import { eachDatabase } from "../support/database";
import { listServer, tagged } from "../support/list-server";
import { startWorker } from "../support/worker-process";

eachDatabase("the worker command", (open) => {
  it("looks at a due list once, however many workers run, and ends cleanly when it is told to", async () => {
    const { db, url, close } = await open();
    const server = await listServer();
    const folder = mkdtempSync(join(tmpdir(), "pw-worker-"));
    vi.stubEnv("PLATEWARDEN_LIST_HOSTS", server.host);
    const text = plainList([{ source: "Office", number: "26-1", title: "Larkfield Recalls Kettles", brand: "Larkfield" }]);
    const asked = new Promise<void>((resolve) => {
      server.answer("/list.csv", (request, response) => {
        tagged(text, '"v1"')(request, response);
        resolve();
      });
    });
    const actor = await makeActor(db, (await makeOrganisation(db)).id);
    await addSource(db, actor, { name: "Office list", url: server.url("/list.csv"), everyHours: 24, now: new Date() });
    const env = { DATABASE_URL: url, PLATEWARDEN_DATA: folder, PLATEWARDEN_LIST_HOSTS: server.host };
    const workers = [startWorker(env), startWorker(env)];
    try {
      await Promise.all([asked, ...workers.map(({ runs }) => runs)]);
      for (const { child } of workers) child.kill("SIGTERM");
      expect(await Promise.all(workers.map(({ ended }) => ended))).toEqual([0, 0]);
      expect(workers[0]?.said()).toMatch(/The worker ends what it has in hand\.\n$/);
      // What was in hand was brought to its end first.
      expect(await db.noticeSourceCheck.findMany()).toMatchObject([{ outcome: "loaded", notices: 1 }]);
      expect(server.asked).toHaveLength(1);
      expect(await db.job.count()).toBe(1);
    } finally {
      for (const { child } of workers) child.kill("SIGKILL");
      await server.close();
      await close();
      vi.unstubAllEnvs();
      rmSync(folder, { recursive: true, force: true });
    }
  });
});

it("says what is wrong with its options, and ends", async () => {
  const { said, ended } = startWorker({}, ["--bogus", "1"]);
  expect(await ended).toBe(2);
  expect(said()).toMatch(/^Unknown option '--bogus'\. Use: worker/);
});
