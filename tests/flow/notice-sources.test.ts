import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { afterAll, afterEach, beforeAll, beforeEach, expect, it, vi } from "vitest";
import { Refused } from "@/lib/access/refusal";
import { Trouble } from "@/lib/access/trouble";
import { heldListJob, heldListKind, leaveHeldList, takeHeldList } from "@/lib/jobs/held-list";
import { listCheckJob } from "@/lib/jobs/list-check";
import { checkSourceNow, listCheckKind, queueDueLists } from "@/lib/jobs/list-schedule";
import { runNextJob, Worker } from "@/lib/jobs/worker";
import { addSource, changeSource, removeSource, switchSource } from "@/lib/registry/notice-source";
import { listChecks, uncheckedSources, viewSource } from "@/lib/registry/notice-source-view";
import { verifyRecord } from "@/lib/store/verify-record";
import { makeActor, makeOrganisation } from "@/seed/builders";
import { type ListRow, plainList } from "@/seed/recall-builders";
import { eachDatabase, type FreshDatabase } from "../support/database";
import { type ListServer, listServer, tagged } from "../support/list-server";

const rows = (count: number, change: Partial<ListRow> = {}): ListRow[] =>
  Array.from({ length: count }, (_, at) => ({
    source: "Office of Product Safety",
    number: `26-${100 + at}`,
    title: `Larkfield Recalls Kettles ${at}`,
    brand: "Larkfield",
    product: "kettle",
    models: `LF-${200 + at}`,
    ...change,
  }));
const list = (count: number) => plainList(rows(count));

const folder = mkdtempSync(join(tmpdir(), "lists-"));
let server: ListServer;
beforeAll(async () => {
  server = await listServer();
});
beforeEach(() => {
  server.forget();
  vi.stubEnv("PLATEWARDEN_DATA", folder);
  vi.stubEnv("PLATEWARDEN_LIST_HOSTS", server.host);
});
afterEach(() => vi.unstubAllEnvs());
afterAll(async () => {
  await server.close();
  rmSync(folder, { recursive: true, force: true });
});
const keptFiles = () => readdirSync(join(folder, "uploads")).length;

async function start(open: () => Promise<FreshDatabase>, path = "/list.csv") {
  const database = await open();
  const { db } = database;
  const organisation = await makeOrganisation(db);
  const actor = await makeActor(db, organisation.id);
  let hours = 0;
  const now = () => new Date(Date.UTC(2026, 0, 1) + hours * 3_600_000);
  const { id } = await addSource(db, actor, { name: "Office list", url: server.url(path), everyHours: 24, now: now() });
  const works = { [listCheckKind]: listCheckJob(), [heldListKind]: heldListJob };
  const work = async () => {
    while ((await runNextJob(db, works, now)) !== null);
  };
  const lookAfter = async (more: number) => {
    hours += more;
    await queueDueLists(db, now());
    await work();
    return viewSource(db, actor, { id, now: now() });
  };
  const checks = async () => (await listChecks(db, actor, { page: 1 })).rows;
  return { ...database, organisation, actor, id, now, works, work, lookAfter, checks };
}

eachDatabase("a list that is fetched on a schedule", (open) => {
  it("is due at once, loaded as an import run, and its check says which version stood there", async () => {
    const { db, lookAfter, checks, organisation, close } = await start(open);
    server.answer("/list.csv", tagged(list(10), '"v1"'));
    const source = await lookAfter(0);
    expect(source).toMatchObject({
      state: "current",
      notices: 10,
      format: "plain-list",
      etag: '"v1"',
      problem: null,
      isBeingChecked: false,
    });
    expect(source.nextDueAt).toEqual(new Date("2026-01-02T00:00:00Z"));
    const [check] = await checks();
    expect(check).toMatchObject({ outcome: "loaded", notices: 10, status: 200, etag: '"v1"', answeredBy: server.url("/list.csv") });
    expect(check?.fileHash).toMatch(/^[0-9a-f]{64}$/);
    const run = await db.importRun.findUniqueOrThrow({ where: { id: check?.importRunId ?? "" } });
    expect(run).toMatchObject({ kind: "notices", state: "done", created: 10, byUserId: null });
    expect(await db.notice.count()).toBe(10);
    expect(await verifyRecord(db, organisation.id)).toMatchObject({ broken: null });
    await close();
  });

  it("is asked for by its marks when it is due again, and an unchanged one is accounted for without a load", async () => {
    const { db, lookAfter, checks, close } = await start(open);
    server.answer("/list.csv", tagged(list(10), '"v1"'));
    await lookAfter(0);
    server.asked.length = 0;
    await lookAfter(23);
    expect(server.asked).toHaveLength(0);
    const source = await lookAfter(1);
    expect(server.asked).toHaveLength(1);
    expect(source).toMatchObject({ state: "current", notices: 10, checkedAt: new Date("2026-01-02T00:00:00Z") });
    expect(source.loadedAt).toEqual(new Date("2026-01-01T00:00:00Z"));
    expect((await checks()).map(({ outcome, status }) => [outcome, status])).toEqual([
      ["unchanged", 304],
      ["loaded", 200],
    ]);
    expect(await db.importRun.count()).toBe(1);
    await close();
  });

  it("is unchanged when a publisher without marks sends the same bytes again, and loaded when they changed", async () => {
    const { db, lookAfter, checks, close } = await start(open);
    let text = list(10);
    server.answer("/list.csv", (_request, response) => response.end(text));
    await lookAfter(0);
    await lookAfter(24);
    text = list(12);
    await lookAfter(24);
    expect((await checks()).map(({ outcome, notices }) => [outcome, notices])).toEqual([
      ["loaded", 12],
      ["unchanged", null],
      ["loaded", 10],
    ]);
    expect(await db.notice.count()).toBe(12);
    await close();
  });

  it("keeps what we have when a web page, a cut-off file or nothing comes, says so, and tries again after a growing pause", async () => {
    const { db, actor, now, lookAfter, checks, close } = await start(open);
    server.answer("/list.csv", tagged(list(10), '"v1"'));
    await lookAfter(0);
    server.answer("/list.csv", (_request, response) => response.end("<!doctype html><html><body>Maintenance</body></html>"));
    const refused = await lookAfter(24);
    expect(refused).toMatchObject({ state: "troubled", failures: 1, notices: 10, etag: '"v1"' });
    expect(refused.problem).toMatch(/This is a web page, not a recall list/);
    expect(refused.nextDueAt).toEqual(new Date("2026-01-02T00:15:00Z"));
    server.answer("/list.csv", (_request, response) =>
      response.writeHead(200, { "content-encoding": "gzip" }).end(gzipSync(list(10)).subarray(0, 60)),
    );
    expect(await lookAfter(0.25)).toMatchObject({ failures: 2, problem: `${server.host} sent a compressed list that was cut off.` });
    server.answer("/list.csv", (_request, response) => response.writeHead(503, { "retry-after": "7200" }).end());
    expect((await lookAfter(0.5)).nextDueAt).toEqual(new Date("2026-01-02T02:45:00Z"));
    expect(await uncheckedSources(db, actor, { now: now() })).toHaveLength(1);
    expect(await db.notice.count({ where: { goneAt: null } })).toBe(10);
    server.answer("/list.csv", tagged(list(10), '"v1"'));
    expect(await lookAfter(2)).toMatchObject({ state: "current", failures: 0, problem: null });
    expect((await checks()).map(({ outcome }) => outcome)).toEqual(["unchanged", "failed", "failed", "refused", "loaded"]);
    await close();
  });

  it("is held when it shrank to less than half, replaces nothing, and is taken in when a person says so", async () => {
    const { db, actor, id, now, work, lookAfter, checks, organisation, close } = await start(open);
    server.answer("/list.csv", tagged(list(10), '"v1"'));
    await lookAfter(0);
    server.answer("/list.csv", tagged(list(4), '"v2"'));
    const held = await lookAfter(24);
    expect(held).toMatchObject({ state: "held", notices: 10, etag: '"v1"' });
    expect(held.held?.message).toBe("It holds 4 notices, and the version before held 10: fewer than half.");
    expect(await db.notice.count({ where: { goneAt: { not: null } } })).toBe(0);
    const files = keptFiles();
    await lookAfter(24);
    expect((await checks()).map(({ outcome }) => outcome)).toEqual(["held", "held", "loaded"]);
    expect(keptFiles()).toBe(files);
    const checkId = held.heldCheckId ?? "";
    const surveyor = await makeActor(db, organisation.id, "surveyor");
    await expect(takeHeldList(db, surveyor, { id, checkId, now: now() })).rejects.toThrow(Refused);
    await takeHeldList(db, actor, { id, checkId, now: now() });
    await work();
    expect(await viewSource(db, actor, { id, now: now() })).toMatchObject({
      state: "current",
      notices: 4,
      etag: '"v2"',
      heldCheckId: null,
    });
    expect(await db.notice.count({ where: { goneAt: { not: null } } })).toBe(6);
    expect(await db.noticeSourceCheck.findUniqueOrThrow({ where: { id: checkId } })).toMatchObject({
      takenIn: true,
      decidedBy: actor.userId,
      upload: null,
    });
    expect(keptFiles()).toBe(files - 1);
    expect(await verifyRecord(db, organisation.id)).toMatchObject({ broken: null });
    await expect(takeHeldList(db, actor, { id, checkId, now: now() })).rejects.toThrow(/no longer waits/);
    await close();
  });

  it("is held anew with its file when the kept file was lost, so that it can still be taken in", async () => {
    const { db, actor, id, now, work, lookAfter, close } = await start(open);
    server.answer("/list.csv", tagged(list(10), '"v1"'));
    await lookAfter(0);
    server.answer("/list.csv", tagged(list(4), '"v2"'));
    const lost = await lookAfter(24);
    rmSync(join(folder, "uploads", lost.held?.upload ?? ""));
    await takeHeldList(db, actor, { id, checkId: lost.heldCheckId ?? "", now: now() });
    await work();
    expect(await viewSource(db, actor, { id, now: now() })).toMatchObject({
      state: "held",
      failure: expect.stringMatching(/no longer kept/),
    });
    const again = await lookAfter(24);
    expect(again.heldCheckId).not.toBe(lost.heldCheckId);
    await takeHeldList(db, actor, { id, checkId: again.heldCheckId ?? "", now: now() });
    await work();
    expect(await viewSource(db, actor, { id, now: now() })).toMatchObject({ state: "current", notices: 4 });
    await close();
  });

  it("is left aside when a person says so, and a later good version is taken in by itself", async () => {
    const { db, actor, id, now, lookAfter, checks, close } = await start(open);
    server.answer("/list.csv", tagged(list(10), '"v1"'));
    await lookAfter(0);
    server.answer("/list.csv", tagged(list(4), '"v2"'));
    const held = await lookAfter(24);
    await leaveHeldList(db, actor, { id, checkId: held.heldCheckId ?? "", now: now() });
    expect(await viewSource(db, actor, { id, now: now() })).toMatchObject({ state: "current", heldCheckId: null, notices: 10 });
    expect(await lookAfter(24)).toMatchObject({ state: "held" });
    server.answer("/list.csv", tagged(list(11), '"v3"'));
    expect(await lookAfter(24)).toMatchObject({ state: "current", notices: 11, held: null });
    expect((await checks()).map(({ outcome, takenIn }) => [outcome, takenIn])).toEqual([
      ["loaded", null],
      ["held", false],
      ["held", false],
      ["loaded", null],
    ]);
    expect(await db.notice.count()).toBe(11);
    await close();
  });

  it("is looked at once, however many workers see it due at the same moment", async () => {
    const { db, works, now, checks, close } = await start(open);
    server.answer("/list.csv", tagged(list(3), '"v1"'));
    server.asked.length = 0;
    const workers = [1, 2, 3].map(() => new Worker(db, works, { clock: now, everyMs: 60_000, schedules: [queueDueLists] }));
    await Promise.all(workers.flatMap((worker) => [worker.wake(), worker.wake()]));
    await Promise.all(workers.map((worker) => worker.stop()));
    expect(server.asked).toHaveLength(1);
    expect(await db.job.count({ where: { kind: listCheckKind } })).toBe(1);
    expect(await checks()).toHaveLength(1);
    await close();
  });

  it("is looked at when a person asks, once at a time, also while it is paused", async () => {
    const { db, actor, id, now, work, lookAfter, checks, close } = await start(open);
    server.answer("/list.csv", tagged(list(3), '"v1"'));
    await lookAfter(0);
    await switchSource(db, actor, { id, isOn: false, now: now() });
    expect(await lookAfter(100)).toMatchObject({ state: "paused" });
    expect(await checks()).toHaveLength(1);
    await checkSourceNow(db, actor, { id, now: now() });
    await expect(checkSourceNow(db, actor, { id, now: now() })).rejects.toThrow(/being looked at already/);
    await work();
    expect(await checks()).toHaveLength(2);
    await switchSource(db, actor, { id, isOn: true, now: now() });
    expect(await lookAfter(0)).toMatchObject({ state: "current" });
    await close();
  });

  it("says nothing about what is gone when another address holds a part of the same publisher's list", async () => {
    const { db, actor, now, lookAfter, close } = await start(open);
    server.answer("/list.csv", tagged(list(10), '"v1"'));
    await lookAfter(0);
    server.answer("/more.csv", tagged(plainList(rows(3, { number: "27-1" })), '"v1"'));
    await addSource(db, actor, { name: "Second part", url: server.url("/more.csv"), everyHours: 24, now: now() });
    await lookAfter(0);
    server.answer("/list.csv", tagged(list(9), '"v2"'));
    await lookAfter(24);
    expect(await db.notice.count()).toBe(13);
    expect(await db.notice.count({ where: { goneAt: { not: null } } })).toBe(0);
    await close();
  });

  it("that names weekly reports is followed: each report once, the newest first, some at a look, until all are in", async () => {
    const { db, now, lookAfter, checks, close } = await start(open, "/reports.xml");
    const reportAt = (week: number) => server.url(`/report/${week}`);
    const index = (weeks: number) =>
      `<Safety-Gate>${Array.from({ length: weeks }, (_, at) => `<weeklyReport><publicationDate>${String((at % 28) + 1).padStart(2, "0")}/0${1 + Math.floor(at / 28)}/2026</publicationDate><URL>${reportAt(at)}</URL></weeklyReport>`).join("")}</Safety-Gate>`;
    const answerReport = (week: number) =>
      server.answer(`/report/${week}`, (_request, response) =>
        response.end(
          `<Safety-Gate><notifications><caseNumber>SR/${week}/26</caseNumber><product>Fan</product><brand>Larkfield</brand></notifications></Safety-Gate>`,
        ),
      );
    for (let week = 0; week < 13; week++) answerReport(week);
    server.answer("/reports.xml", tagged(index(12), '"12"'));
    server.asked.length = 0;
    const first = await lookAfter(0);
    expect(server.asked.map(({ path }) => path)).toEqual(["/reports.xml", ...Array.from({ length: 10 }, (_, at) => `/report/${11 - at}`)]);
    expect(first).toMatchObject({ state: "current", notices: 10, etag: null });
    expect(first.nextDueAt.getTime() - now().getTime()).toBe(15 * 60_000);
    expect((await checks()).map(({ message }) => message)).toContain("10 of its 12 reports were taken in; 2 older ones follow.");
    expect(await lookAfter(0.25)).toMatchObject({ state: "current", notices: 12, etag: '"12"' });
    server.asked.length = 0;
    await lookAfter(24);
    expect(server.asked.map(({ path }) => path)).toEqual(["/reports.xml"]);
    server.answer("/reports.xml", tagged(index(13), '"13"'));
    expect(await lookAfter(24)).toMatchObject({ notices: 13, etag: '"13"' });
    expect(server.asked.map(({ path }) => path)).toEqual(["/reports.xml", "/reports.xml", "/report/12"]);
    expect(await db.notice.count({ where: { goneAt: null } })).toBe(13);
    await close();
  });

  it("that names a report which does not come keeps the reports before it, says so, and goes on later", async () => {
    const { db, lookAfter, close } = await start(open, "/reports.xml");
    const named = (...weeks: number[]) =>
      `<Safety-Gate>${weeks.map((week) => `<weeklyReport><publicationDate>0${week}/01/2026</publicationDate><URL>${server.url(`/one/${week}`)}</URL></weeklyReport>`).join("")}</Safety-Gate>`;
    server.answer("/reports.xml", tagged(named(1, 2, 3), '"a"'));
    const report = `<Safety-Gate><notifications><caseNumber>SR/3/26</caseNumber><product>Fan</product></notifications></Safety-Gate>`;
    server.answer("/one/3", (_request, response) => response.end(report));
    expect(await lookAfter(0)).toMatchObject({
      state: "troubled",
      failures: 1,
      problem: expect.stringMatching(/has nothing at this address/),
    });
    expect(await db.notice.count()).toBe(1);
    for (const week of [1, 2]) server.answer(`/one/${week}`, (_request, response) => response.end(report.replace("SR/3", `SR/${week}`)));
    expect(await lookAfter(1)).toMatchObject({ state: "current", problem: null });
    expect(await db.notice.count()).toBe(3);
    await close();
  });

  it("keeps its account and its notices when it is taken off", async () => {
    const { db, actor, id, now, lookAfter, checks, close } = await start(open);
    server.answer("/list.csv", tagged(list(3), '"v1"'));
    await lookAfter(0);
    await removeSource(db, actor, { id, now: now() });
    await expect(viewSource(db, actor, { id, now: now() })).rejects.toThrow(Trouble);
    expect(await checks()).toHaveLength(1);
    expect(await db.notice.count()).toBe(3);
    await close();
  });

  it("is not added or changed to an address of one's own network, twice, or by who may not load notices", async () => {
    const { db, actor, id, now, organisation, close } = await start(open);
    const form = { name: "Another", everyHours: 24, now: now() };
    await expect(addSource(db, actor, { ...form, url: "https://10.0.0.1/list" })).rejects.toMatchObject({
      fields: { url: expect.stringMatching(/private/) },
    });
    await expect(changeSource(db, actor, { ...form, id, url: "http://regulator.example/list" })).rejects.toThrow(/https:\/\/ only/);
    await expect(addSource(db, actor, { ...form, url: server.url("/list.csv#part") })).rejects.toThrow(/fetched from this address already/);
    const inspector = await makeActor(db, organisation.id, "inspector");
    for (const attempt of [
      addSource(db, inspector, { ...form, url: "https://regulator.example/list" }),
      changeSource(db, inspector, { ...form, id, url: "https://regulator.example/list" }),
      switchSource(db, inspector, { id, isOn: false, now: now() }),
      removeSource(db, inspector, { id, now: now() }),
      checkSourceNow(db, inspector, { id, now: now() }),
    ])
      await expect(attempt).rejects.toThrow(Refused);
    const stranger = await makeActor(db, (await makeOrganisation(db, "Elsewhere")).id);
    await expect(viewSource(db, stranger, { id, now: now() })).rejects.toThrow(Trouble);
    await expect(switchSource(db, stranger, { id, isOn: false, now: now() })).rejects.toThrow(Trouble);
    await close();
  });

  it("is fetched whole and at once when its address changes, and is still measured by the version before", async () => {
    const { db, actor, id, now, lookAfter, close } = await start(open);
    server.answer("/list.csv", tagged(list(10), '"v1"'));
    await lookAfter(0);
    server.answer("/moved.csv", tagged(list(2), '"v1"'));
    await changeSource(db, actor, { id, name: "Moved", url: server.url("/moved.csv"), everyHours: 24, now: now() });
    expect(await lookAfter(0)).toMatchObject({ name: "Moved", state: "held", notices: 10 });
    expect(server.asked.at(-1)?.headers["if-none-match"]).toBeUndefined();
    await close();
  });
});
