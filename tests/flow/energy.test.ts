import { afterEach, beforeEach, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { applianceColumns } from "@/lib/registry/appliance-columns";
import { bookEnergy } from "@/lib/registry/energy-book";
import { observeMany } from "@/lib/registry/observation";
import { countEnergyDue, findEnergyHours, markEnergyDue } from "@/lib/store/energy-queries";
import { newId } from "@/lib/store/ids";
import { kilowattHours, sumEnergy } from "@/lib/watch/energy-sum";
import { loadLog } from "@/lib/watch/log.run";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { unreadFacts } from "@/seed/recall-builders";
import { eachDatabase, type FreshDatabase } from "../support/database";

const now = new Date("2026-03-10T10:00:00Z");
const startMs = Date.parse("2026-03-02T18:00:00Z");
const hourMs = 3_600_000;

interface Row {
  readonly seconds: number;
  readonly outlet: string;
  readonly tag?: string;
  readonly watts: number;
}

const csv = (rows: readonly Row[]) =>
  [
    "at,outlet,receptacle,tag,watts",
    ...rows.map(({ seconds, outlet, tag, watts }) =>
      [new Date(startMs + seconds * 1000).toISOString(), outlet, "1", tag ?? "", watts].join(","),
    ),
  ].join("\n");

/** Two hours of one power every half minute; the last reading holds 60 s, half of it in the third hour. */
const steady = (outlet: string, watts: number, tag?: string): Row[] =>
  Array.from({ length: 240 }, (_, i) => ({ seconds: i * 30, outlet, watts, ...(tag === undefined ? {} : { tag }) }));

eachDatabase("Energy", (open) => {
  let fresh: FreshDatabase;
  let manager: Actor;
  let place: Awaited<ReturnType<typeof makeSite>>;
  let kettle: string;

  beforeEach(async () => {
    fresh = await open();
    const { id: organisationId } = await makeOrganisation(fresh.db);
    manager = await makeActor(fresh.db, organisationId);
    place = await makeSite(fresh.db, organisationId);
    kettle = await plug("K7-KETT", place.outlets[0]!.id);
  });
  afterEach(() => fresh.close());

  async function plug(tag: string, outletId: string): Promise<string> {
    const id = newId();
    const { organisationId } = manager;
    const facts = { ...unreadFacts, category: "kettle", labelText: "120V 1000W" };
    const at = { organisationId, siteId: place.site.id, unitId: place.unit.id, outletId, receptacle: "1" };
    await fresh.db.appliance.create({
      data: { id, tag, ...at, ...facts, ...applianceColumns(tag, facts, 120), createdAt: now, updatedAt: now },
    });
    await fresh.db.placement.create({ data: { id: newId(), applianceId: id, ...at, fromAt: now, source: "labels" } });
    return id;
  }

  async function* bytesOf(text: string) {
    yield new TextEncoder().encode(text);
  }
  const load = (rows: readonly Row[]) => loadLog(fresh.db, manager, { source: bytesOf(csv(rows)), fileName: "log.csv", now });
  const everything = () => findEnergyHours(fresh.db, { organisationId: manager.organisationId, siteIds: null }, 0, Date.now() * 2);
  const kwhBy = async (key: "applianceId" | "outletId") => {
    const sums: Record<string, number> = {};
    for (const row of await everything()) sums[row[key]] = (sums[row[key]] ?? 0) + kilowattHours(row.microjoules);
    return Object.fromEntries(Object.entries(sums).map(([name, sum]) => [name, Math.round(sum * 1e6) / 1e6]));
  };

  test("is booked by the hour as a log is loaded, to the appliance that is recorded there, else to nobody known", async () => {
    const [first, second] = place.outlets;
    await load([...steady(first!.name, 900), ...steady(second!.name, 60)]);
    expect(await kwhBy("applianceId")).toEqual({ [kettle]: 1.8075, "": 0.1205 });
    const rows = await everything();
    expect(rows.map(({ atMs }) => (atMs - startMs) / hourMs)).toEqual([0, 0, 1, 1, 2, 2]);
    expect(rows.every(({ circuitId, unitId }) => circuitId === place.circuit.id && unitId === place.unit.id)).toBe(true);
    expect(sumEnergy(rows).gapMs).toBe(2 * (hourMs - 30_000));
  });

  test("is the same after the same log again, and after booking again", async () => {
    const rows = steady(place.outlets[0]!.name, 900);
    await load(rows);
    const before = await everything();
    await load(rows);
    await bookEnergy(fresh.db, manager, now);
    expect(await everything()).toEqual(before);
    expect(await countEnergyDue(fresh.db, manager.organisationId)).toBe(0);
  });

  test("is what one log gives, when the rows come in two logs in the wrong order", async () => {
    const rows = steady(place.outlets[0]!.name, 900);
    await load(rows.slice(100));
    await load(rows.slice(0, 100));
    expect(await kwhBy("applianceId")).toEqual({ [kettle]: 1.8075 });
  });

  test("of readings that were put away stays as it was booked, although its hour is due again", async () => {
    await load(steady(place.outlets[0]!.name, 900));
    const before = await everything();
    const middle = new Date(startMs + hourMs / 2);
    const { organisationId } = manager;
    await fresh.db.siteStream.update({ where: { siteId: place.site.id }, data: { rawFrom: middle } });
    await fresh.db.keptLogPart.deleteMany();
    await markEnergyDue(fresh.db, organisationId, [{ siteId: place.site.id, atMs: startMs }]);
    await bookEnergy(fresh.db, manager, now);
    expect(await everything()).toEqual(before);
    expect(await countEnergyDue(fresh.db, organisationId)).toBe(0);
  });

  test("follows a tag to another outlet within the hour", async () => {
    const [first, second] = place.outlets;
    await load([...steady(first!.name, 900).slice(0, 60), ...steady(second!.name, 900, "K7-KETT").slice(60, 120)]);
    expect(await kwhBy("applianceId")).toEqual({ [kettle]: 0.9075, "": 0.0075 });
    expect(await kwhBy("outletId")).toEqual({ [first!.id]: 0.4575, [second!.id]: 0.4575 });
  });

  test("is booked anew when a late sighting tells that the appliance was elsewhere", async () => {
    const [first, second] = place.outlets;
    await load(steady(first!.name, 900));
    expect(await kwhBy("applianceId")).toEqual({ [kettle]: 1.8075 });
    const sightings = [{ tag: "K7-KETT", outlet: second!.name, receptacle: "1", at: new Date(startMs - hourMs) }];
    await observeMany(fresh.db, manager, { sightings, source: "walk", now });
    await bookEnergy(fresh.db, manager, now);
    expect(await kwhBy("applianceId")).toEqual({ "": 1.8075 });
  });
});
