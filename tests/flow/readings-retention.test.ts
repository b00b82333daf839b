import { afterEach, beforeEach, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { jobWorks } from "@/lib/jobs/job-works";
import { queuePuttingAway } from "@/lib/jobs/put-away-job";
import { runNextJob } from "@/lib/jobs/worker";
import { applianceColumns, type LabelFacts } from "@/lib/registry/appliance-columns";
import { fewestKeepDays, retentionOf, setRetention } from "@/lib/registry/readings-retention";
import { insertHold } from "@/lib/store/hold-queries";
import { newId } from "@/lib/store/ids";
import { findKeptParts, openKeptPart, unpackReadings } from "@/lib/store/kept-log-queries";
import { loadLog } from "@/lib/watch/log.run";
import { screenRegistry } from "@/lib/watch/screening.run";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { unreadFacts } from "@/seed/recall-builders";
import { makeArrivals, makeSender } from "../support/arrivals";
import { eachDatabase, type FreshDatabase } from "../support/database";

const day = 86_400;
const startMs = Date.parse("2026-01-05T18:00:00Z");
const now = new Date(startMs + 60 * day * 1000);
const heater: LabelFacts = {
  ...unreadFacts,
  category: "space heater",
  brand: "Keldamar",
  model: "HT-1500C",
  labelText: "120V~ 60Hz 1500W",
};

eachDatabase("How long readings are kept one by one", (open) => {
  let fresh: FreshDatabase;
  let administrator: Actor;
  let organisationId: string;
  let siteId: string;
  let outlet: { id: string; name: string };

  beforeEach(async () => {
    fresh = await open();
    ({ id: organisationId } = await makeOrganisation(fresh.db));
    administrator = await makeActor(fresh.db, organisationId, "administrator");
    const { site, outlets } = await makeSite(fresh.db, organisationId);
    [siteId, outlet] = [site.id, outlets[0]!];
    const place = { organisationId, siteId, outletId: outlet.id, receptacle: "1" };
    const id = newId();
    const times = { createdAt: new Date(startMs), updatedAt: new Date(startMs) };
    await fresh.db.appliance.create({
      data: { id, ...place, tag: "K7-HEAT", ...heater, ...applianceColumns("K7-HEAT", heater, 120), ...times },
    });
    await fresh.db.placement.create({
      data: { id: newId(), ...place, applianceId: id, fromAt: new Date(startMs - 1e9), source: "labels" },
    });
  });
  afterEach(() => fresh.close());

  const row = (seconds: number, watts: number) =>
    JSON.stringify({
      at: new Date(startMs + seconds * 1000).toISOString(),
      outlet: outlet.name,
      receptacle: "1",
      tag: "K7-HEAT",
      watts,
      volts: 120,
    });

  /** Two hours in order, ten minutes too strong in the middle; then an hour in each ten days, the last one too strong as well. */
  function history(): string[] {
    const first = Array.from({ length: 720 }, (_, i) => row(i * 10, i >= 360 && i < 420 ? 1742 : 1480));
    const later = [10, 20, 30, 40, 50, 58].flatMap((at) =>
      Array.from({ length: 120 }, (_, i) => row(at * day + i * 30, at === 58 && i >= 60 && i < 100 ? 1760 : 1490)),
    );
    return [...first, ...later];
  }

  async function load(rows: readonly string[]) {
    async function* source() {
      yield rows.join("\n");
    }
    return loadLog(fresh.db, administrator, { source: source(), fileName: "history.jsonl", now, clock: () => now });
  }

  const results = () => fresh.db.screeningResultRow.findMany({ orderBy: { key: "asc" } });
  const findings = () => fresh.db.finding.findMany({ orderBy: { key: "asc" } });
  async function thinned(): Promise<{ minutes: number; hours: number }> {
    const of = { _sum: { readings: true } } as const;
    const [minutes, hours] = [await fresh.db.drawMinute.aggregate(of), await fresh.db.drawHour.aggregate(of)];
    return { minutes: minutes._sum.readings ?? 0, hours: hours._sum.readings ?? 0 };
  }
  async function keptRows() {
    const parts = await findKeptParts(fresh.db, { organisationId });
    return (await Promise.all(parts.map(({ id }) => openKeptPart(fresh.db, id)))).flat();
  }
  async function putAwayAt(at: Date) {
    await queuePuttingAway(fresh.db, at);
    const id = await runNextJob(fresh.db, jobWorks, () => at);
    return id === null ? null : (await fresh.db.job.findUniqueOrThrow({ where: { id } })).message;
  }

  test("is set by an administrator within bounds, for all or for one site, and recorded", async () => {
    const manager = await makeActor(fresh.db, organisationId, "manager");
    await expect(setRetention(fresh.db, manager, { siteId: null, keepDays: 90, now })).rejects.toMatchObject({ name: "Refused" });
    for (const keepDays of [0, fewestKeepDays - 1, 40.5, 1e9])
      await expect(setRetention(fresh.db, administrator, { siteId: null, keepDays, now })).rejects.toMatchObject({ code: "not_valid" });
    await setRetention(fresh.db, administrator, { siteId: null, keepDays: 90, now });
    await setRetention(fresh.db, administrator, { siteId: null, keepDays: 90, now });
    await setRetention(fresh.db, administrator, { siteId, keepDays: 40, now });
    const { keepDays, sites } = await retentionOf(fresh.db, administrator);
    expect([keepDays, sites.get(siteId)?.keepDays]).toEqual([90, 40]);
    const entries = await fresh.db.recordEntry.findMany({ orderBy: { number: "asc" } });
    expect(entries.map(({ subjectKind, after }) => [subjectKind, after])).toEqual([
      ["organisation", { keepDays: 90 }],
      ["site", { keepDays: 40 }],
    ]);
  });

  test("old seconds go, those around episodes and the sums of hours stay, and what was found stands", async () => {
    const rows = history();
    await load(rows);
    const before = { results: await results(), findings: await findings() };
    expect(before.results.filter(({ kind }) => kind === "over_rating")).toHaveLength(2);
    expect(await putAwayAt(now)).toBeNull();
    await setRetention(fresh.db, administrator, { siteId: null, keepDays: 35, now });
    expect(await putAwayAt(now)).toMatch(/960 readings from before .* are no longer kept one by one; \d+ around episodes stay/);
    const kept = await keptRows();
    expect(kept).toHaveLength(rows.length - 960);
    expect(Math.min(...kept.map(({ atMs }) => atMs))).toBeGreaterThanOrEqual(now.getTime() - 35 * day * 1000 - 3_600_000);
    const episode = (await fresh.db.episodePart.findMany()).flatMap(({ body }) => unpackReadings(body));
    const [from, to] = [startMs + (3600 - 60) * 1000, startMs + (4190 + 60) * 1000];
    expect(episode.every(({ atMs }) => atMs >= from && atMs <= to)).toBe(true);
    expect(episode).toHaveLength(72);
    const { minutes, hours } = await thinned();
    expect(minutes + hours).toBe(rows.length);
    expect(hours).toBeGreaterThan(0);
    const [record] = await fresh.db.recordEntry.findMany({ where: { what: "put old readings away" } });
    expect(record?.after).toMatchObject({ readings: 960, aroundEpisodes: 72 });
    expect({ results: await results(), findings: await findings() }).toEqual(before);
  });

  test("judging anew goes on from what was judged before, and old rows do not come back", async () => {
    const rows = history();
    await load(rows);
    const before = { results: await results(), findings: await findings() };
    await setRetention(fresh.db, administrator, { siteId, keepDays: 35, now });
    await putAwayAt(now);
    const { account } = await screenRegistry(fresh.db, administrator, { now });
    expect(account).toMatchObject({ created: 0, updated: 0, gone: 0, opened: 0, refreshed: 0 });
    expect({ results: await results(), findings: await findings() }).toEqual(before);
    const { run } = await load(rows);
    expect(run).toMatchObject({ created: 0, unchanged: rows.length - 960, setAside: 960 });
    const { send } = await makeSender(fresh.db, administrator, siteId);
    expect(await send(makeArrivals(fresh.db), rows[0]!, null, now)).toMatchObject({ accepted: 0, setAside: 1 });
    expect({ results: await results(), findings: await findings() }).toEqual(before);
    const tomorrow = new Date(now.getTime() + 11 * day * 1000);
    expect(await putAwayAt(tomorrow)).toMatch(/120 readings from before/);
    const { minutes, hours } = await thinned();
    expect(minutes + hours).toBe(rows.length);
  });

  test("a hold on the organisation, the site or an appliance that was there keeps everything", async () => {
    await load(history());
    await setRetention(fresh.db, administrator, { siteId, keepDays: 35, now });
    const appliance = await fresh.db.appliance.findFirstOrThrow();
    const subjects = [
      ["organisation", organisationId],
      ["site", siteId],
      ["appliance", appliance.id],
    ] as const;
    for (const [at, [subjectKind, subjectId]] of subjects.entries()) {
      const hold = { id: newId(), organisationId, subjectKind, subjectId, why: "asked by an insurer", byUserId: null, at: now };
      await fresh.db.$transaction((tx) => insertHold(tx, hold));
      expect(await putAwayAt(new Date(now.getTime() + at * day * 1000))).toMatch(/a hold keeps everything \(asked by an insurer\)/);
      await fresh.db.hold.update({ where: { id: hold.id }, data: { releasedAt: now } });
    }
    expect(await keptRows()).toHaveLength(history().length);
    expect(await fresh.db.drawHour.count()).toBe(0);
    expect(await putAwayAt(new Date(now.getTime() + 5 * day * 1000))).toMatch(/no longer kept one by one/);
  });
});
