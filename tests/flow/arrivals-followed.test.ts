import { afterEach, beforeEach, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { applianceColumns, type LabelFacts } from "@/lib/registry/appliance-columns";
import type { Arrivals } from "@/lib/registry/readings-batch";
import { SiteFollower } from "@/lib/registry/site-follow";
import { siteTurnName, takeSiteTurn } from "@/lib/registry/site-turn";
import { newId } from "@/lib/store/ids";
import { LeaseLost, takeLease } from "@/lib/store/lease-queries";
import { loadLog } from "@/lib/watch/log.run";
import { screenRegistry } from "@/lib/watch/screening.run";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { unreadFacts } from "@/seed/recall-builders";
import { makeArrivals, makeSender } from "../support/arrivals";
import { eachDatabase, type FreshDatabase } from "../support/database";
import { follow, followingActor } from "../support/following";

const now = new Date("2026-03-10T10:00:00Z");
const startMs = Date.parse("2026-03-02T18:00:00Z");
const instant = (seconds: number) => new Date(startMs + seconds * 1000).toISOString();
const heaterFacts: LabelFacts = {
  ...unreadFacts,
  category: "space heater",
  brand: "Keldamar",
  model: "HT-1500C",
  labelText: "120V~ 60Hz 1500W",
};

eachDatabase("Readings that are followed as they arrive", (open) => {
  let fresh: FreshDatabase;
  let administrator: Actor;
  let organisationId: string;
  let siteId: string;
  let outlets: { id: string; name: string }[];
  let arrivals: Arrivals;

  beforeEach(async () => {
    fresh = await open();
    ({ id: organisationId } = await makeOrganisation(fresh.db));
    administrator = await makeActor(fresh.db, organisationId, "administrator");
    const alder = await makeSite(fresh.db, organisationId);
    [siteId, outlets] = [alder.site.id, alder.outlets];
    await addAppliance("K7-HEAT", heaterFacts, outlets[0]!.id);
    await addAppliance("K7-FAN", { ...unreadFacts, category: "fan", labelText: "120V 60Hz 0.6A" }, outlets[1]!.id);
    arrivals = makeArrivals(fresh.db);
  });
  afterEach(() => fresh.close());

  async function addAppliance(tag: string, facts: LabelFacts, outletId: string): Promise<void> {
    const place = { organisationId, siteId, outletId, receptacle: "1" };
    const id = newId();
    await fresh.db.appliance.create({
      data: { id, ...place, tag, ...facts, ...applianceColumns(tag, facts, 120), createdAt: now, updatedAt: now },
    });
    await fresh.db.placement.create({
      data: { id: newId(), ...place, applianceId: id, fromAt: new Date("2026-01-01T00:00:00Z"), source: "labels" },
    });
  }

  type Row = Record<string, string | number | undefined>;
  const line = (seconds: number, outlet: number, more: Row) =>
    JSON.stringify({ at: instant(seconds), outlet: outlets[outlet]!.name, receptacle: "1", volts: 120, ...more });

  /** The heater runs for ten minutes at 1480 W, then 25 minutes at 1742 W, and trips; the fan turns beside it and moves at the end. */
  function evening(): string[] {
    const heater = Array.from({ length: 210 }, (_, i) => line(i * 10, 0, { tag: "K7-HEAT", watts: i === 0 ? 2600 : i < 60 ? 1480 : 1742 }));
    const fan = Array.from({ length: 35 }, (_, i) => line(i * 60 + 5, 1, { tag: "K7-FAN", watts: 55 }));
    const end = [line(2100, 0, { tag: "K7-HEAT", event: "trip", cause: "overload" }), line(2110, 1, { tag: "K7-FAN", event: "unplugged" })];
    const moved = Array.from({ length: 30 }, (_, i) => line(2200 + i * 10, 0, { tag: "K7-FAN", watts: 56, receptacle: "2" }));
    return [...heater, ...fan].sort().concat(end, moved);
  }

  /** Everything that following leaves, without ids and times of work. */
  async function state() {
    const bare = <T extends object>(rows: readonly T[], ...names: string[]) =>
      rows.map((row) => Object.fromEntries(Object.entries(row).filter(([name]) => !["id", "screenedAt", ...names].includes(name))));
    const { db } = fresh;
    return {
      results: bare(await db.screeningResultRow.findMany({ orderBy: { key: "asc" } })),
      findings: bare(await db.finding.findMany({ orderBy: { key: "asc" } }), "openedAt", "refreshedAt", "dueAt", "version", "timesSeen"),
      minutes: bare(await db.drawMinute.findMany({ orderBy: [{ outletId: "asc" }, { receptacle: "asc" }, { at: "asc" }] })),
      events: bare(await db.outletEventRow.findMany({ orderBy: [{ outletId: "asc" }, { at: "asc" }] })),
      seen: await db.appliance.findMany({
        select: { tag: true, seenWatts: true, seenAt: true, outletId: true, receptacle: true },
        orderBy: { tag: "asc" },
      }),
      stays: bare(await db.placement.findMany({ orderBy: [{ applianceId: "asc" }, { fromAt: "asc" }] })),
    };
  }

  async function forget(): Promise<void> {
    const tables = ["findingNote", "finding", "screeningResultRow", "drawMinute", "outletEventRow", "keptLogPart", "siteStream"] as const;
    for (const table of tables) await (fresh.db[table] as { deleteMany: () => Promise<unknown> }).deleteMany();
    await fresh.db.observation.deleteMany();
    await fresh.db.placement.deleteMany({ where: { source: "log" } });
    await fresh.db.placement.updateMany({ data: { toAt: null } });
    for (const [at, tag] of ["K7-HEAT", "K7-FAN"].entries())
      await fresh.db.appliance.updateMany({
        where: { tag },
        data: { seenWatts: null, seenAt: null, lastSeenAt: null, outletId: outlets[at]!.id, receptacle: "1" },
      });
  }

  async function loadWhole(rows: readonly string[]) {
    async function* source() {
      yield rows.join("\n");
    }
    return loadLog(fresh.db, administrator, { source: source(), fileName: "evening.jsonl", now, clock: () => now });
  }

  test("batches of any size, with a new process after each, leave what one file of the same rows leaves", async () => {
    const rows = evening();
    await loadWhole(rows);
    const expected = await state();
    expect(expected.findings.map((finding) => String(finding["cause"]))).toContain("over_rating");
    for (const size of [1000, 97, 40]) {
      await forget();
      const { send } = await makeSender(fresh.db, administrator, siteId, `gateway ${size}`);
      const emptied = makeArrivals(fresh.db);
      for (let at = 0; at < rows.length; at += size) {
        await send(emptied, rows.slice(at, at + size).join("\n"));
        const followed = await follow(fresh.db, organisationId, siteId);
        expect(followed.anew).toBe(at === 0 ? "first" : null);
      }
      expect(await state(), `batches of ${size}`).toEqual(expected);
    }
  });

  test("a process that goes on in memory leaves the same, and judging all anew afterwards changes nothing", async () => {
    const rows = evening();
    const { send } = await makeSender(fresh.db, administrator, siteId);
    const follower = new SiteFollower(organisationId, siteId);
    for (let at = 0; at < rows.length; at += 31) {
      await send(arrivals, rows.slice(at, at + 31).join("\n"));
      await follow(fresh.db, organisationId, siteId, { follower });
    }
    const before = await state();
    const { account } = await screenRegistry(fresh.db, administrator, { now });
    expect(account).toMatchObject({ created: 0, updated: 0, gone: 0, opened: 0, refreshed: 0, anew: { asked: 1 } });
    expect((await state()).results).toEqual(before.results);
    await forget();
    await loadWhole(rows);
    expect((await state()).results).toEqual(before.results);
  });

  test("a file whose rows are all later goes on from the checkpoint; one that belongs before is judged anew, and each says so", async () => {
    const rows = evening();
    expect((await loadWhole(rows.slice(0, 100))).run.message).toMatch(/1 site from the beginning: not judged before/);
    expect((await loadWhole(rows.slice(150, 200))).run.message).toMatch(/Judged 1 site from where it stood/);
    expect((await loadWhole(rows.slice(100, 150))).run.message).toMatch(/from the beginning: readings came that belong before/);
    expect((await loadWhole(rows.slice(200))).run.message).toMatch(/Judged 1 site from where it stood/);
    const inParts = await state();
    await forget();
    await loadWhole(rows);
    expect((await state()).results).toEqual(inParts.results);
  });

  test("readings of a second sender that come late are told, and judged in their place when everything is judged anew", async () => {
    const rows = evening();
    const first = await makeSender(fresh.db, administrator, siteId, "heater's");
    const second = await makeSender(fresh.db, administrator, siteId, "fan's");
    const [heater, fan] = [rows.filter((row) => !row.includes("K7-FAN")), rows.filter((row) => row.includes("K7-FAN"))];
    await first.send(arrivals, heater.join("\n"));
    await follow(fresh.db, organisationId, siteId);
    await second.send(arrivals, fan.join("\n"));
    expect(await follow(fresh.db, organisationId, siteId)).toMatchObject({ isStale: true, anew: null });
    expect(await follow(fresh.db, organisationId, siteId, { isAnew: () => true })).toMatchObject({ isStale: false, anew: "late" });
    const { account } = await screenRegistry(fresh.db, administrator, { now });
    expect(account).toMatchObject({ created: 0, updated: 0, gone: 0 });
  });

  test("a changed plate is noticed and judged by at the next judging anew", async () => {
    const rows = evening();
    const { send } = await makeSender(fresh.db, administrator, siteId);
    await send(arrivals, rows.slice(0, 200).join("\n"));
    await follow(fresh.db, organisationId, siteId);
    const mended = { ...heaterFacts, labelText: "120V~ 60Hz 1800W" };
    await fresh.db.appliance.updateMany({ where: { tag: "K7-HEAT" }, data: { ...mended, ...applianceColumns("K7-HEAT", mended, 120) } });
    await send(arrivals, rows.slice(200).join("\n"));
    expect(await follow(fresh.db, organisationId, siteId, { isAnew: () => true })).toMatchObject({ anew: "ground" });
    expect(await fresh.db.screeningResultRow.count({ where: { kind: "over_rating" } })).toBe(0);
  });

  test("a process whose turn was taken over meanwhile writes nothing", async () => {
    const { send } = await makeSender(fresh.db, administrator, siteId);
    await send(arrivals, evening().slice(0, 120).join("\n"));
    await follow(fresh.db, organisationId, siteId);
    const sleeper = new SiteFollower(organisationId, siteId);
    await send(arrivals, evening().slice(120).join("\n"));
    const before = await state();
    const slept = takeSiteTurn(fresh.db, siteId, async (lease) => {
      const later = new Date(Date.now() + 3_600_000);
      const until = new Date(later.getTime() + 60_000);
      expect(await takeLease(fresh.db, { name: siteTurnName(siteId), owner: "another process", now: later, until })).not.toBeNull();
      const actor = followingActor(organisationId);
      return sleeper.follow({ db: fresh.db, actor, siteId, lease, now }, { isAnew: () => false });
    });
    await expect(slept).rejects.toBeInstanceOf(LeaseLost);
    expect(await state()).toEqual(before);
    expect(await takeSiteTurn(fresh.db, siteId, async () => "mine", 0)).toBeNull();
  });

  test("a process that was overtaken without noticing is stopped by the position, and goes on from there", async () => {
    const { send } = await makeSender(fresh.db, administrator, siteId);
    const rows = evening();
    const [one, two] = [new SiteFollower(organisationId, siteId), new SiteFollower(organisationId, siteId)];
    for (const [at, follower] of [one, two, one, two, one].entries()) {
      await send(arrivals, rows.slice(at * 56, (at + 1) * 56).join("\n"));
      await follow(fresh.db, organisationId, siteId, { follower });
    }
    const before = await state();
    await forget();
    await loadWhole(rows);
    expect(before).toEqual(await state());
  });
});
