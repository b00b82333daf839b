import { afterEach, beforeEach, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { siteTrips } from "@/lib/registry/site-trips";
import { loadLog } from "@/lib/watch/log.run";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { eachDatabase, type FreshDatabase } from "../support/database";

const now = new Date("2026-03-10T10:00:00Z");
const startMs = Date.parse("2026-03-02T18:00:00Z");

eachDatabase("The trips of a site", (open) => {
  let fresh: FreshDatabase;
  let manager: Actor;
  let siteId: string;
  let names: string[];

  beforeEach(async () => {
    fresh = await open();
    const { id } = await makeOrganisation(fresh.db);
    manager = await makeActor(fresh.db, id, "manager");
    const made = await makeSite(fresh.db, id);
    siteId = made.site.id;
    names = made.outlets.map(({ name }) => name);
  });
  afterEach(() => fresh.close());

  const trip = (second: number, outlet: number, cause = "") =>
    JSON.stringify({ at: new Date(startMs + second * 1000).toISOString(), outlet: names[outlet], receptacle: "1", event: "trip", cause });
  async function load(rows: readonly string[]): Promise<void> {
    async function* source() {
      yield rows.join("\n");
    }
    await loadLog(fresh.db, manager, { source: source(), fileName: "trips.jsonl", now, clock: () => now });
  }

  test("are shown the latest first, each counted or set aside with its reason, however many loads they came in", async () => {
    expect(await siteTrips(fresh.db, manager, { siteId, page: 1 })).toMatchObject({ total: 0, pages: 1 });
    await load([trip(0, 0, "ground_fault"), trip(1, 1)]);
    await load([trip(600, 0, "manual"), trip(1200, 1, "schedule"), trip(1800, 0, "supply")]);
    const { trips, total, setAside } = await siteTrips(fresh.db, manager, { siteId, page: 1 });
    expect([total, setAside]).toEqual([5, 4]);
    expect(trips.map(({ trip: { outlet }, verdict }) => [outlet, verdict])).toEqual([
      [names[0], "supply"],
      [names[1], "commanded"],
      [names[0], "commanded"],
      [names[1], "coincident"],
      [names[0], "counted"],
    ]);
    expect(trips[3]?.why).toBe(`Within 3 s of the trip at ${names[0]}, which is the cause: a neighbour's fault.`);
  });

  test("come by the page, and only to who may see the site's readings", async () => {
    await load(Array.from({ length: 60 }, (_, i) => trip(i * 600, i % 2)));
    expect((await siteTrips(fresh.db, manager, { siteId, page: 2 })).trips).toHaveLength(10);
    expect(await siteTrips(fresh.db, manager, { siteId, page: 99 })).toMatchObject({ page: 2, pages: 2 });
    await expect(siteTrips(fresh.db, { ...manager, siteIds: [] }, { siteId, page: 1 })).rejects.toMatchObject({ name: "Refused" });
    await expect(siteTrips(fresh.db, manager, { siteId: "none", page: 1 })).rejects.toMatchObject({ code: "not_found" });
  });
});
