import fc from "fast-check";
import { expect, it } from "vitest";
import { applianceColumns, type LabelFacts } from "@/lib/registry/appliance-columns";
import { observe, observeMany, type Sighting } from "@/lib/registry/observation";
import { labelFactNames } from "@/lib/store/appliance-selects";
import type { Store } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";
import { makeActor, makeOrganisation, makeSite } from "../../seed/builders";
import { eachDatabase } from "../support/database";

const now = new Date("2026-03-02T12:00:00Z");
const minute = (n: number) => new Date(Date.UTC(2026, 2, 1, 0, n));
const blank = Object.fromEntries(labelFactNames.map((name) => [name, null])) as unknown as LabelFacts;

async function makePlugged(db: Store, organisationId: string, siteId: string, tag: string) {
  const id = newId();
  const columns = applianceColumns(tag, blank);
  await db.appliance.create({ data: { id, organisationId, tag, siteId, updatedAt: now, ...columns } });
  return id;
}

async function house(db: Store) {
  const { id: organisationId } = await makeOrganisation(db);
  const actor = await makeActor(db, organisationId);
  const place = await makeSite(db, organisationId);
  const outlets = place.outlets.map((outlet) => outlet.name) as [string, string];
  return { ...place, organisationId, actor, outlets };
}

async function history(db: Store, applianceId: string) {
  const rows = await db.placement.findMany({ where: { applianceId }, orderBy: [{ fromAt: "asc" }, { toAt: "asc" }] });
  return rows.map(({ outletId, receptacle, fromAt, toAt, source }) => ({ outletId, receptacle, fromAt, toAt, source }));
}

eachDatabase("observed tags", (open) => {
  it("move the appliance, keep its history and write one record entry a move", async () => {
    const { db, close } = await open();
    const { actor, organisationId, site, unit, outlets } = await house(db);
    const id = await makePlugged(db, organisationId, site.id, "A-1");
    const see = (outlet: string, n: number) =>
      observe(db, actor, { tag: "a 1", outlet, receptacle: "upper", at: minute(n), source: "walk", now });
    await see(outlets[0], 0);
    await see(outlets[0], 50);
    const account = await see(outlets[1], 90);
    expect(account.moved).toEqual([{ applianceId: id, tag: "A-1", outlet: outlets[1] }]);
    const stays = await history(db, id);
    expect(stays.map(({ fromAt, toAt }) => [fromAt, toAt])).toEqual([
      [minute(0), minute(90)],
      [minute(90), null],
    ]);
    const appliance = await db.appliance.findUniqueOrThrow({ where: { id } });
    expect(appliance).toMatchObject({ unitId: unit.id, outletId: stays[1]?.outletId, receptacle: "1", lastSeenAt: minute(90) });
    const entries = await db.recordEntry.findMany({ where: { subjectId: id } });
    expect(entries.map((entry) => entry.what)).toEqual(["appliance moved by its tag", "appliance moved by its tag"]);
    await close();
  });

  it("end in the same history in whatever order and in however many calls they come", async () => {
    const { db, close } = await open();
    const { actor, organisationId, site, outlets } = await house(db);
    let round = 0;
    // One tag is at one place at a time: two places at the very same instant contradict each other, and are not tried here.
    const sightings = fc.uniqueArray(
      fc.record({ outlet: fc.constantFrom(...outlets), receptacle: fc.constantFrom("1", "2", null), n: fc.integer({ min: 0, max: 300 }) }),
      { minLength: 1, maxLength: 12, selector: ({ n }) => n },
    );
    const orders = sightings.chain((list) =>
      fc.tuple(fc.constant(list), fc.shuffledSubarray(list, { minLength: list.length }), fc.integer({ min: 1, max: 4 })),
    );
    await fc.assert(
      fc.asyncProperty(orders, async ([list, shuffled, size]) => {
        round += 1;
        const ids = [
          await makePlugged(db, organisationId, site.id, `L${round}`),
          await makePlugged(db, organisationId, site.id, `R${round}`),
        ];
        const take = (some: typeof list, tag: string) => {
          const seen: Sighting[] = some.map(({ outlet, receptacle, n }) => ({ tag, outlet, receptacle, at: minute(n) }));
          return observeMany(db, actor, { sightings: seen, source: "log", now });
        };
        await take(list, `L${round}`);
        for (let at = 0; at < shuffled.length; at += size) await take(shuffled.slice(at, at + size), `R${round}`);
        expect(await history(db, ids[1] ?? "")).toEqual(await history(db, ids[0] ?? ""));
        const [left, right] = await Promise.all(ids.map((id) => db.appliance.findUniqueOrThrow({ where: { id } })));
        expect([right?.outletId, right?.receptacle, right?.lastSeenAt]).toEqual([left?.outletId, left?.receptacle, left?.lastSeenAt]);
      }),
      { numRuns: 40 },
    );
    await close();
  });

  it("leave an ended stay ended when an older sighting comes in late, and begin a new one after the end", async () => {
    const { db, close } = await open();
    const { actor, organisationId, site, outlets } = await house(db);
    const id = await makePlugged(db, organisationId, site.id, "A-1");
    const see = (n: number) =>
      observeMany(db, actor, { sightings: [{ tag: "A-1", outlet: outlets[0], receptacle: "1", at: minute(n) }], source: "log", now });
    await see(10);
    await db.placement.updateMany({ where: { applianceId: id }, data: { toAt: minute(200) } });
    await see(100);
    expect((await history(db, id)).map(({ fromAt, toAt }) => [fromAt, toAt])).toEqual([[minute(10), minute(200)]]);
    await see(500);
    expect((await history(db, id)).map(({ fromAt, toAt }) => [fromAt, toAt])).toEqual([
      [minute(10), minute(200)],
      [minute(500), null],
    ]);
    await close();
  });

  it("tell unknown tags, unknown outlets and tags that should be out of use, and take the rest", async () => {
    const { db, close } = await open();
    const { actor, organisationId, site, outlets } = await house(db);
    const id = await makePlugged(db, organisationId, site.id, "A-1");
    await db.appliance.update({ where: { id }, data: { state: "out_of_use" } });
    const one = (tag: string, outlet: string) => ({ tag, outlet, receptacle: null, at: minute(1) });
    const sightings = [one("A-1", outlets[0]), one("Z-9", outlets[0]), one("A-1", "nowhere")];
    const account = await observeMany(db, actor, { sightings, source: "log", now });
    expect(account).toMatchObject({ taken: 1, seenAlthoughOut: [id], unknownTags: ["Z-9"], unknownOutlets: ["nowhere"] });
    await expect(observe(db, actor, { ...one("Z-9", outlets[0]), source: "walk", now })).rejects.toThrow("Z-9");
    await close();
  });

  it("are refused to those who may not load logs, and do not reach another person's sites", async () => {
    const { db, close } = await open();
    const { organisationId, site, outlets } = await house(db);
    const id = await makePlugged(db, organisationId, site.id, "A-1");
    const sightings = [{ tag: "A-1", outlet: outlets[0], receptacle: "1", at: minute(1) }];
    const surveyor = await makeActor(db, organisationId, "surveyor");
    await expect(observeMany(db, surveyor, { sightings, source: "log", now })).rejects.toThrow("may not load log");
    const other = await makeSite(db, organisationId, "Birch House");
    const elsewhere = await makeActor(db, organisationId, "manager", [other.site.id]);
    expect(await observeMany(db, elsewhere, { sightings, source: "log", now })).toMatchObject({ taken: 0, unknownOutlets: [outlets[0]] });
    expect(await history(db, id)).toEqual([]);
    await close();
  });
});
