import { afterEach, beforeEach, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { applianceColumns } from "@/lib/registry/appliance-columns";
import { drawSeries, outletSeries } from "@/lib/registry/draw-series";
import { readingsOverview, readingsQuery } from "@/lib/registry/readings-overview";
import { takeStep } from "@/lib/registry/take-step";
import { findingHistory } from "@/lib/store/finding-queries";
import { newId } from "@/lib/store/ids";
import { loadLog } from "@/lib/watch/log.run";
import { screenRegistry } from "@/lib/watch/screening.run";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { unreadFacts } from "@/seed/recall-builders";
import { eachDatabase, type FreshDatabase } from "../support/database";

const now = new Date("2026-03-10T10:00:00Z");
const startMs = Date.parse("2026-03-02T18:00:00Z");

eachDatabase("Readings, their results and what follows", (open) => {
  let fresh: FreshDatabase;
  let manager: Actor;
  let applianceId: string;
  let outletId: string;

  beforeEach(async () => {
    fresh = await open();
    const { id: organisationId } = await makeOrganisation(fresh.db);
    manager = await makeActor(fresh.db, organisationId);
    const { site, outlets } = await makeSite(fresh.db, organisationId);
    applianceId = newId();
    outletId = outlets[0]!.id;
    const facts = { ...unreadFacts, category: "space heater", labelText: "120V~ 60Hz 1500W" };
    await fresh.db.appliance.create({
      data: {
        id: applianceId,
        organisationId,
        tag: "K7-HEAT",
        siteId: site.id,
        outletId,
        receptacle: "1",
        ...facts,
        ...applianceColumns("K7-HEAT", facts, 120),
        updatedAt: now,
      },
    });
  });
  afterEach(() => fresh.close());

  /** Minutes of one draw at 120 V from an instant on, a row every ten seconds, then a trip. */
  function run(fromSeconds: number, minutes: number, watts: number): string[] {
    const row = (seconds: number, cells: string) =>
      `${new Date(startMs + seconds * 1000).toISOString()},Alder House A-1-1,upper,K7-HEAT,${cells}`;
    const rows = Array.from({ length: minutes * 6 }, (_, i) => row(fromSeconds + i * 10, `${watts},120,,`));
    return [...rows, row(fromSeconds + minutes * 60, ",,trip,overload")];
  }

  async function load(lines: readonly string[]) {
    async function* source() {
      yield ["at,outlet,receptacle,tag,watts,volts,event,cause", ...lines].join("\n");
    }
    return loadLog(fresh.db, manager, { source: source(), fileName: "log.csv", now, clock: () => now });
  }

  const overRating = () => fresh.db.finding.findFirstOrThrow({ where: { cause: "over_rating" } });

  test("from the log to the closed finding: what comes later opens it again, what is known already does not", async () => {
    await load(run(0, 20, 1742));
    const opened = await overRating();
    await takeStep(fresh.db, manager, { findingId: opened.id, version: 1, step: "take_out_of_use", text: "Unplugged.", now });
    await takeStep(fresh.db, manager, {
      findingId: opened.id,
      version: 2,
      step: "close",
      text: "",
      outcome: "repaired",
      evidence: "Receipt 12",
      now,
    });
    await load(run(0, 20, 1742));
    await screenRegistry(fresh.db, manager, { now });
    expect(await overRating()).toMatchObject({ state: "closed", outcome: "repaired", timesSeen: 1 });
    const { screening } = await load(run(86_400, 20, 1760));
    expect(screening).toMatchObject({ created: 1, opened: 1 });
    expect(await overRating()).toMatchObject({ id: opened.id, state: "open", outcome: null, timesSeen: 2 });
    expect((await findingHistory(fresh.db, opened.id)).at(-1)).toMatchObject({ step: "opened_again" });
  });

  test("a mended plate is judged anew: the result goes, and the finding is told and left to a person", async () => {
    await load(run(0, 20, 1742));
    const facts = { ...unreadFacts, category: "space heater", labelText: "120V~ 60Hz 1800W" };
    await fresh.db.appliance.update({ where: { id: applianceId }, data: { ...facts, ...applianceColumns("K7-HEAT", facts, 120) } });
    const { account, results } = await screenRegistry(fresh.db, manager, { now });
    expect(results.filter(({ kind }) => kind === "over_rating")).toEqual([]);
    expect(account.gone).toBe(1);
    const finding = await overRating();
    expect(finding.state).toBe("open");
    expect((await findingHistory(fresh.db, finding.id)).map(({ step }) => step)).toEqual(["opened", "not_shown_any_more"]);
  });

  // 1575 W is 1500 W + 5 %, IEC 60335-1, 10.1, Table 1 (heating above 200 W), from memory; P ~ V^2 of a resistance is physics:
  // 1653.75 W at 126 V is 1500 W at 120 V.
  test("a high line makes no excess of a resistive load, and its chart is referred to rated voltage", async () => {
    const lines = run(0, 20, 1653.75).map((line) => line.replace(",120,", ",126,"));
    await load(lines);
    expect(await fresh.db.finding.count({ where: { cause: "over_rating" } })).toBe(0);
    const series = await drawSeries(fresh.db, manager, { applianceId, range: null });
    expect(series).toMatchObject({ range: "24h", referredTo: 120, allowed: 1575, rated: 1500 });
    expect(series!.points.every(({ mean }) => Math.abs(mean - 1500) < 0.01)).toBe(true);
  });

  test("the chart of an excess begins with it, shows its trip, and offers the other stretches", async () => {
    await load([...run(0, 20, 1742), ...run(4 * 86_400, 10, 1450)]);
    const series = await drawSeries(fresh.db, manager, { applianceId, range: null });
    expect(series).toMatchObject({ range: "episode", allowed: 1575, rated: 1500, ranges: ["episode", "24h", "7d", "30d", "all"] });
    expect(series!.episodes).toMatchObject([{ fromMs: startMs, value: 1742, unit: "W" }]);
    expect(series!.trips).toEqual([{ atMs: startMs + 1_200_000, cause: "overload" }]);
    expect(series!.points).toHaveLength(20);
    const whole = await drawSeries(fresh.db, manager, { applianceId, range: "all" });
    expect(whole!.points).toHaveLength(30);
    const day = await drawSeries(fresh.db, manager, { applianceId, range: "24h" });
    expect([day!.points.length, day!.episodes.length]).toEqual([10, 0]);
    const [outlet] = await outletSeries(fresh.db, manager, { outletId, range: "all" });
    expect(outlet).toMatchObject({ name: "Alder House A-1-1, receptacle 1", allowed: null });
    expect(outlet!.points).toHaveLength(30);
  });

  test("the readings page lists results, loads and outlets; other sites' people see none of it", async () => {
    await load(run(0, 20, 1742));
    const overview = await readingsOverview(fresh.db, manager, readingsQuery.parse({ kind: "over_rating" }));
    expect(overview.results).toMatchObject([
      { words: "Above its rating", site: "Alder House", spot: "outlet Alder House A-1-1, upper", appliance: { tag: "K7-HEAT" } },
    ]);
    expect(overview.runs).toMatchObject([{ kind: "log", rowsRead: 121, created: 121 }]);
    expect(overview.outlets).toMatchObject([{ id: outletId, lastAt: new Date(startMs + 19 * 60_000) }]);
    expect((await readingsOverview(fresh.db, manager, readingsQuery.parse({ kind: "drift" }))).total).toBe(0);
    const { site } = await makeSite(fresh.db, manager.organisationId, "Birch Yard");
    const neighbour = await makeActor(fresh.db, manager.organisationId, "manager", [site.id]);
    const theirs = await readingsOverview(fresh.db, neighbour, readingsQuery.parse({}));
    expect([theirs.total, theirs.outlets.length]).toEqual([0, 0]);
    await expect(drawSeries(fresh.db, neighbour, { applianceId, range: null })).rejects.toMatchObject({ code: "not_found" });
  });
});
