import { afterEach, beforeEach, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { jobWorks } from "@/lib/jobs/job-works";
import { queueMerging } from "@/lib/jobs/merge-parts-job";
import { queuePuttingAway } from "@/lib/jobs/put-away-job";
import { runNextJob } from "@/lib/jobs/worker";
import { applianceColumns, type LabelFacts } from "@/lib/registry/appliance-columns";
import { bookEnergy } from "@/lib/registry/energy-book";
import { setRetention } from "@/lib/registry/readings-retention";
import { newId } from "@/lib/store/ids";
import { findKeptParts, openKeptPart, readingKey } from "@/lib/store/kept-log-queries";
import { replayParts } from "@/lib/store/replay-parts";
import { screenRegistry } from "@/lib/watch/screening.run";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { makeChance } from "@/seed/chance";
import { unreadFacts } from "@/seed/recall-builders";
import { makeArrivals, makeSender } from "../support/arrivals";
import { eachDatabase, type FreshDatabase } from "../support/database";
import { follow } from "../support/following";

const startMs = Date.parse("2026-01-05T18:00:00Z");
const now = new Date(startMs + 6 * 3_600_000);
const heater: LabelFacts = { ...unreadFacts, category: "space heater", labelText: "120V~ 60Hz 1500W" };
const batches = 40;

eachDatabase("Small parts of live readings that are kept as one", (open) => {
  let fresh: FreshDatabase;
  let administrator: Actor;
  let organisationId: string;
  let siteId: string;
  let outlets: { id: string; name: string }[];

  beforeEach(async () => {
    fresh = await open();
    ({ id: organisationId } = await makeOrganisation(fresh.db));
    administrator = await makeActor(fresh.db, organisationId, "administrator");
    const alder = await makeSite(fresh.db, organisationId);
    [siteId, outlets] = [alder.site.id, alder.outlets];
    for (const [i, tag] of ["K7-HEAT", "K7-WARM"].entries()) {
      const place = { organisationId, siteId, outletId: outlets[i]!.id, receptacle: "1" };
      const id = newId();
      const times = { createdAt: new Date(startMs), updatedAt: new Date(startMs) };
      await fresh.db.appliance.create({ data: { id, ...place, tag, ...heater, ...applianceColumns(tag, heater, 120), ...times } });
      await fresh.db.placement.create({
        data: { id: newId(), ...place, applianceId: id, fromAt: new Date(startMs - 1e9), source: "labels" },
      });
    }
  });
  afterEach(() => fresh.close());

  /** Two senders in turn, each its own heater, too strong for a while; some rows late, out of order or sent twice. */
  async function sendAll(seed: number): Promise<void> {
    const chance = makeChance(seed);
    const arrivals = makeArrivals(fresh.db);
    const senders = [0, 1].map((i) => makeSender(fresh.db, administrator, siteId, `gateway ${i}`));
    for (let batch = 0; batch < batches; batch++) {
      for (const [i, sender] of (await Promise.all(senders)).entries()) {
        const rows = Array.from({ length: 20 }, (_, row) => {
          const late = chance.happens(0.1) ? chance.whole(1, 90) : 0;
          const second = (batch * 20 + row) * 9 - late;
          const watts = batch > 15 && batch < 25 ? 1700 + i : 1400 + chance.whole(0, 60);
          const at = new Date(startMs + second * 1000).toISOString();
          return JSON.stringify({ at, outlet: outlets[i]!.name, receptacle: "1", tag: ["K7-HEAT", "K7-WARM"][i], watts, volts: 120 });
        });
        await sender.send(arrivals, rows.join("\n"));
      }
      if (batch % 7 === 0) await follow(fresh.db, organisationId, siteId);
    }
    await follow(fresh.db, organisationId, siteId);
    await bookEnergy(fresh.db, administrator, now);
  }

  const bare = <T extends object>(rows: readonly T[], ...names: string[]) =>
    rows.map((row) => Object.fromEntries(Object.entries(row).filter(([name]) => !["id", ...names].includes(name))));

  async function judged() {
    await screenRegistry(fresh.db, administrator, { now });
    return {
      results: bare(await fresh.db.screeningResultRow.findMany({ orderBy: { key: "asc" } }), "screenedAt"),
      energy: await fresh.db.energyHour.findMany({ orderBy: [{ outletId: "asc" }, { receptacle: "asc" }, { at: "asc" }] }),
      minutes: bare(await fresh.db.drawMinute.findMany({ orderBy: [{ outletId: "asc" }, { receptacle: "asc" }, { at: "asc" }] })),
    };
  }

  async function replayed(): Promise<string[]> {
    const keys: string[] = [];
    for await (const { rows } of replayParts(fresh.db, await findKeptParts(fresh.db, { organisationId })))
      for (const row of rows) keys.push(readingKey(row));
    return keys;
  }

  async function merge(at = now): Promise<string | null> {
    await queueMerging(fresh.db, at);
    const id = await runNextJob(fresh.db, jobWorks, () => at);
    return id === null ? null : (await fresh.db.job.findUniqueOrThrow({ where: { id } })).message;
  }

  test.each([1, 2, 3])("are judged, replayed and booked as they were before (log %i)", async (seed) => {
    await sendAll(seed);
    const before = await judged();
    expect(before.results).toContainEqual(expect.objectContaining({ kind: "over_rating" }));
    const order = await replayed();
    expect(await merge()).toBe(`${2 * batches} parts of readings are kept as 2.`);
    expect(await findKeptParts(fresh.db, { organisationId })).toHaveLength(2);
    expect(await replayed()).toEqual(order);
    expect(await judged()).toEqual(before);
    expect(await merge(new Date(now.getTime() + 3_600_000))).toBeNull();
  });

  test("are still known one by one: a row sent again is repeated, a new one is followed from where it stood", async () => {
    await sendAll(4);
    await merge();
    const { send } = await makeSender(fresh.db, administrator, siteId, "another gateway");
    const [part] = await findKeptParts(fresh.db, { organisationId });
    const [row] = await openKeptPart(fresh.db, part!.id);
    const { outletId: _, atMs, ...measures } = row!;
    const again = JSON.stringify({
      ...measures,
      at: new Date(atMs).toISOString(),
      outlet: outlets.find(({ id }) => id === row!.outletId)!.name,
    });
    expect(await send(makeArrivals(fresh.db), again)).toMatchObject({ accepted: 0, repeated: 1 });
    const later = { at: new Date(startMs + 8000_000).toISOString(), outlet: outlets[0]!.name, receptacle: "1", watts: 5 };
    expect(await send(makeArrivals(fresh.db), JSON.stringify(later))).toMatchObject({ accepted: 1 });
    expect(await follow(fresh.db, organisationId, siteId)).toMatchObject({ rows: 1, anew: null });
  });

  /** How many rows of each load come before its clock reaches an instant: what goes of it, however it is kept in parts. */
  async function rowsBefore(cutMs: number): Promise<number> {
    const newest = new Map<string, number>();
    let count = 0;
    for await (const { load, rows } of replayParts(fresh.db, await findKeptParts(fresh.db, { organisationId })))
      for (const { atMs } of rows) {
        newest.set(load, Math.max(newest.get(load) ?? 0, atMs));
        if (newest.get(load)! < cutMs) count += 1;
      }
    return count;
  }

  test("are put away as far as they would have been alone, with what was due of their energy booked first", async () => {
    await sendAll(5);
    await judged();
    const cutMs = startMs + 3_600_000;
    const [kept, old] = [(await replayed()).length, await rowsBefore(cutMs)];
    expect(old).toBeGreaterThan(0);
    await merge();
    await setRetention(fresh.db, administrator, { siteId, keepDays: 35, now });
    await fresh.db.energyDue.create({ data: { organisationId, siteId, at: new Date(startMs) } });
    const at = new Date(cutMs + 35 * 86_400_000 + 1_800_000);
    await queuePuttingAway(fresh.db, at);
    const id = await runNextJob(fresh.db, jobWorks, () => at);
    expect((await fresh.db.job.findUniqueOrThrow({ where: { id: id! } })).message).toMatch(new RegExp(`^${old} readings`));
    expect((await replayed()).length).toBe(kept - old);
    expect(await fresh.db.energyDue.count()).toBe(0);
  });
});
