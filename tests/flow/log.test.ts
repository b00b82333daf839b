import { afterEach, beforeEach, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { applianceColumns, type LabelFacts, ratingOf } from "@/lib/registry/appliance-columns";
import { newId } from "@/lib/store/ids";
import { loadLog } from "@/lib/watch/log.run";
import { makeLogRowReader } from "@/lib/watch/log-rows";
import { makeScreening } from "@/lib/watch/screening";
import { screenRegistry } from "@/lib/watch/screening.run";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { unreadFacts } from "@/seed/recall-builders";
import { eachDatabase, type FreshDatabase } from "../support/database";

const now = new Date("2026-03-10T10:00:00Z");
const header = "at,outlet,receptacle,tag,watts,amps,volts,power_factor,event,cause";
const startMs = Date.parse("2026-03-02T18:00:00Z");
const instant = (seconds: number) => new Date(startMs + seconds * 1000).toISOString();

const heaterFacts: LabelFacts = {
  ...unreadFacts,
  category: "space heater",
  brand: "Keldamar",
  model: "HT-1500C",
  labelText: "120V~ 60Hz 1500W",
};

interface Row {
  seconds: number;
  outlet?: string;
  receptacle?: string;
  tag?: string;
  watts?: number;
  volts?: number;
  event?: string;
  cause?: string;
}

eachDatabase("Loading an outlet log", (open) => {
  let fresh: FreshDatabase;
  let manager: Actor;
  let siteId: string;
  let outletNames: string[];
  let outletIds: string[];

  beforeEach(async () => {
    fresh = await open();
    const { id: organisationId } = await makeOrganisation(fresh.db);
    manager = await makeActor(fresh.db, organisationId);
    const { site, outlets } = await makeSite(fresh.db, organisationId);
    siteId = site.id;
    outletNames = outlets.map(({ name }) => name);
    outletIds = outlets.map(({ id }) => id);
    await tagAppliance("K7-HEAT", heaterFacts, outletIds[0]!, "1");
    await tagAppliance("K7-FAN", { ...unreadFacts, category: "fan", labelText: "120V 60Hz 0.6A" }, outletIds[1]!, "1");
  });
  afterEach(() => fresh.close());

  async function tagAppliance(tag: string, facts: LabelFacts, outletId: string, receptacle: string): Promise<string> {
    const id = newId();
    const { organisationId } = manager;
    await fresh.db.appliance.create({
      data: {
        id,
        organisationId,
        tag,
        siteId,
        outletId,
        receptacle,
        ...facts,
        ...applianceColumns(tag, facts, 120),
        createdAt: now,
        updatedAt: now,
      },
    });
    await fresh.db.placement.create({
      data: {
        id: newId(),
        organisationId,
        applianceId: id,
        siteId,
        outletId,
        receptacle,
        fromAt: new Date("2026-01-01T00:00:00Z"),
        source: "labels",
      },
    });
    return id;
  }

  const line = ({ seconds, outlet, receptacle, tag, watts, volts, event, cause }: Row) =>
    [
      instant(seconds),
      outlet ?? outletNames[0],
      receptacle ?? "1",
      tag ?? "",
      watts ?? "",
      "",
      volts ?? "",
      "",
      event ?? "",
      cause ?? "",
    ].join(",");

  /** The heater runs for ten minutes at 1480 W, then 25 minutes at 1742 W, and trips; the fan turns beside it. */
  function evening(): string[] {
    const heater = Array.from({ length: 210 }, (_, i) =>
      line({ seconds: i * 10, tag: "K7-HEAT", watts: i === 0 ? 2600 : i < 60 ? 1480 : 1742, volts: 120 }),
    );
    const fan = Array.from({ length: 35 }, (_, i) =>
      line({ seconds: i * 60 + 5, outlet: outletNames[1]!, tag: "K7-FAN", watts: 55, volts: 120 }),
    );
    const trip = line({ seconds: 2100, tag: "K7-HEAT", event: "trip", cause: "overload" });
    return [...heater, ...fan].sort().concat(trip);
  }

  async function load(lines: readonly string[], fileName = "evening.csv") {
    const bytes = new TextEncoder().encode([header, ...lines].join("\n"));
    async function* source() {
      for (let at = 0; at < bytes.length; at += 5000) yield bytes.subarray(at, at + 5000);
    }
    return loadLog(fresh.db, manager, { source: source(), fileName, now, clock: () => now });
  }

  /** What a screening of the same rows without a database gives. */
  async function standAlone(lines: readonly string[]) {
    const outlets = await fresh.db.outlet.findMany({ include: { site: true, circuit: true, unit: true }, orderBy: { id: "asc" } });
    const appliances = await fresh.db.appliance.findMany({ orderBy: { id: "asc" } });
    const nameOf = new Map(outlets.map(({ id, name }) => [id, name]));
    const screening = makeScreening({
      outlets: outlets.map((outlet) => ({
        site: outlet.site.name,
        timeZone: outlet.site.timeZone,
        unit: outlet.unit?.name ?? null,
        circuit: outlet.circuit?.name ?? null,
        deviceAmps: outlet.circuit?.deviceAmps ?? null,
        volts: outlet.circuit?.volts ?? null,
        leg: outlet.circuit?.leg ?? null,
        outlet: outlet.name,
        outletAmps: outlet.outletAmps,
        receptacles: outlet.receptacles,
      })),
      appliances: appliances.map((row) => ({
        tag: row.tag,
        site: "Alder House",
        outlet: nameOf.get(row.outletId ?? "") ?? null,
        receptacle: row.receptacle,
        category: row.category,
        rating: ratingOf(row),
      })),
    });
    const read = makeLogRowReader(header.split(","), () => "America/Chicago");
    for (const text of lines) {
      const row = read(text.split(","));
      if ("reading" in row) screening.take(row.reading);
    }
    return screening.finish();
  }

  const findings = () => fresh.db.finding.findMany({ orderBy: { key: "asc" } });

  test("finds what the stand-alone screening of the same rows finds, and opens its findings", async () => {
    const expected = await standAlone(evening());
    expect(expected.results.map(({ kind }) => kind)).toContain("over_rating");
    const { run, screening } = await load(evening());
    expect(run).toMatchObject({ state: "done", rowsRead: 246, created: 246, updated: 0, unchanged: 0, setAside: 0 });
    expect(screening).toMatchObject({ results: expected.results.length, created: expected.results.length, gone: 0 });
    const again = await screenRegistry(fresh.db, manager, { now });
    expect(again.results).toEqual(expected.results);
    const stored = await findings();
    expect(stored.map(({ cause, state }) => [cause, state])).toContainEqual(["over_rating", "open"]);
    const overRating = stored.find(({ cause }) => cause === "over_rating");
    expect(overRating?.sentence).toMatch(/^Above its rating: 1742 W seen, 1575 W allowed, for 25 min\.$/);
    expect(overRating).toMatchObject({ siteId, timesSeen: 1 });
  });

  test("the same log again changes nothing: no reading, no result, no finding, no due date", async () => {
    await load(evening());
    const tables = async () => ({
      findings: await findings(),
      results: await fresh.db.screeningResultRow.findMany({ orderBy: { key: "asc" } }),
      minutes: await fresh.db.drawMinute.findMany({ orderBy: [{ outletId: "asc" }, { at: "asc" }] }),
      events: await fresh.db.outletEventRow.findMany(),
      notes: await fresh.db.findingNote.count(),
      appliances: await fresh.db.appliance.findMany({ orderBy: { id: "asc" } }),
      observations: await fresh.db.observation.count(),
      placements: await fresh.db.placement.findMany({ orderBy: { id: "asc" } }),
    });
    const before = await tables();
    const { run, screening } = await load(evening());
    expect(run).toMatchObject({ rowsRead: 246, created: 0, unchanged: 246, setAside: 0 });
    expect(screening).toMatchObject({ created: 0, updated: 0, gone: 0, opened: 0, refreshed: 0 });
    expect(await tables()).toEqual(before);
  });

  test("the largest steady draw stands beside the appliance; the start-up spike does not count", async () => {
    await load(evening());
    const heater = await fresh.db.appliance.findFirstOrThrow({ where: { tag: "K7-HEAT" } });
    expect(heater.seenWatts).toBe(1742);
    expect((await fresh.db.drawMinute.findFirstOrThrow({ where: { applianceId: heater.id }, orderBy: { at: "asc" } })).maxWatts).toBe(2600);
    const fan = await fresh.db.appliance.findFirstOrThrow({ where: { tag: "K7-FAN" } });
    expect(fan.seenWatts).toBe(55);
  });

  test("any split of one log into two loads gives the same readings, results and findings", async () => {
    const lines = evening();
    const whole = async () => {
      const comparable = (await findings()).map(({ key, cause, signalWord, sentence, evidence, timesSeen, state, dueAt }) => ({
        key,
        cause,
        signalWord,
        sentence,
        evidence,
        timesSeen,
        state,
        dueAt,
      }));
      const results = (await fresh.db.screeningResultRow.findMany({ orderBy: { key: "asc" } })).map(({ id: _, ...row }) => row);
      const minutes = await fresh.db.drawMinute.findMany({ orderBy: [{ outletId: "asc" }, { at: "asc" }] });
      const seen = await fresh.db.appliance.findMany({ select: { tag: true, seenWatts: true, seenAt: true }, orderBy: { tag: "asc" } });
      return { comparable, results, minutes, seen };
    };
    await load(lines);
    const expected = await whole();
    for (const at of [1, 61, 62, 97, 150, 245]) {
      for (const table of ["findingNote", "finding", "screeningResultRow", "drawMinute", "outletEventRow", "keptLogPart"] as const)
        await (fresh.db[table] as { deleteMany: () => Promise<unknown> }).deleteMany();
      await load(lines.slice(0, at), "first.csv");
      await load(lines.slice(at), "second.csv");
      expect(await whole(), `split after row ${at}`).toEqual(expected);
    }
  });

  test("the later half loaded first gives the same in the end", async () => {
    const lines = evening();
    await load(lines.slice(120), "later.csv");
    await load(lines.slice(0, 120), "earlier.csv");
    const { results } = await screenRegistry(fresh.db, manager, { now });
    expect(results).toEqual((await standAlone(lines)).results);
  });

  test("every row that is no reading is set aside with its line and reason, and the account balances", async () => {
    const good = evening().slice(0, 3);
    const bad = [
      line({ seconds: 30, outlet: "Nowhere 1", watts: 5 }),
      "yesterday,Alder House A-1-1,1,,100,,120,,,",
      `${instant(40)},${outletNames[0]},1,,-5,,,,,`,
      `${instant(50)},${outletNames[0]},1,,,,,,exploded,`,
    ];
    const { run } = await load([...good, ...bad, good[0]!]);
    expect(run).toMatchObject({ rowsRead: 8, created: 3, unchanged: 1, setAside: 4 });
    const aside = await fresh.db.setAsideRow.findMany({ orderBy: { line: "asc" } });
    expect(aside.map(({ line: number }) => number)).toEqual([5, 6, 7, 8]);
    expect(aside.map(({ content }) => content)).toEqual(bad);
    expect(aside[0]?.reason).toMatch(/not in the plan/);
  });

  test("a tag seen at another outlet moves the appliance and keeps where it was", async () => {
    await load([line({ seconds: 0, outlet: outletNames[1]!, receptacle: "2", tag: "K7-HEAT", watts: 900, volts: 120 })]);
    const heater = await fresh.db.appliance.findFirstOrThrow({ where: { tag: "K7-HEAT" } });
    expect(heater).toMatchObject({ outletId: outletIds[1], receptacle: "2" });
    const stays = await fresh.db.placement.findMany({ where: { applianceId: heater.id }, orderBy: { fromAt: "asc" } });
    expect(stays.map(({ outletId }) => outletId)).toEqual([outletIds[0], outletIds[1]]);
  });

  test("JSON Lines are read like CSV", async () => {
    const rows = evening().map((text) => {
      const cells = text.split(",");
      return JSON.stringify(Object.fromEntries(header.split(",").map((name, i) => [name, cells[i] === "" ? null : cells[i]])));
    });
    async function* source() {
      yield rows.join("\n");
    }
    const { run } = await loadLog(fresh.db, manager, { source: source(), fileName: "log.jsonl", now });
    expect(run).toMatchObject({ rowsRead: 246, created: 246, setAside: 0 });
    expect((await screenRegistry(fresh.db, manager, { now })).results).toEqual((await standAlone(evening())).results);
  });

  test("a file that is no log is refused by name and leaves a run that says so", async () => {
    async function* source() {
      yield "name,colour\nheater,white\n";
    }
    await expect(loadLog(fresh.db, manager, { source: source(), fileName: "colours.csv", now })).rejects.toThrow(/no outlet log/);
    expect(await fresh.db.importRun.findMany()).toMatchObject([{ state: "broken_off", kind: "log", rowsRead: 0 }]);
  });

  test("a load that breaks off keeps what it stored, says so, and done again makes no doubles", async () => {
    const lines = evening();
    async function* breaking() {
      yield [header, ...lines.slice(0, 100)].join("\n");
      throw new Error("the line went dead");
    }
    await expect(loadLog(fresh.db, manager, { source: breaking(), fileName: "a.csv", now })).rejects.toThrow("the line went dead");
    const [broken] = await fresh.db.importRun.findMany();
    expect(broken).toMatchObject({ state: "broken_off" });
    async function* whole() {
      yield [header, ...lines].join("\n");
    }
    const { run } = await loadLog(fresh.db, manager, { source: whole(), fileName: "a.csv", now, runId: broken!.id });
    expect(run.rowsRead).toBe(246);
    expect(run.created + run.unchanged).toBe(246);
    expect((await fresh.db.importRun.findMany())[0]).toMatchObject({ state: "done" });
    expect((await screenRegistry(fresh.db, manager, { now })).results).toEqual((await standAlone(lines)).results);
  });

  test("a surveyor may not load a log, and nobody loads rows of outlets at other sites", async () => {
    const surveyor = await makeActor(fresh.db, manager.organisationId, "surveyor");
    async function* source() {
      yield [header, ...evening().slice(0, 2)].join("\n");
    }
    await expect(loadLog(fresh.db, surveyor, { source: source(), fileName: "a.csv", now })).rejects.toMatchObject({ name: "Refused" });
    const { site } = await makeSite(fresh.db, manager.organisationId, "Birch Yard");
    const neighbour = await makeActor(fresh.db, manager.organisationId, "manager", [site.id]);
    const { run } = await loadLog(fresh.db, neighbour, { source: source(), fileName: "a.csv", now });
    expect(run).toMatchObject({ created: 0, setAside: 2 });
  });
});
