import { afterEach, beforeEach, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { loadNotices } from "@/lib/notices/notices.run";
import { changeState } from "@/lib/registry/appliance-state";
import { decide } from "@/lib/registry/decision";
import { remedyQuery, viewRemedies } from "@/lib/registry/remedies";
import { remedyColumns, remedyRows, remedyTableNames } from "@/lib/registry/remedy-rows";
import { type StepInput, takeStep } from "@/lib/registry/take-step";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { asFile, type ListRow, makeAppliance, plainList } from "@/seed/recall-builders";
import { eachDatabase, type FreshDatabase } from "../support/database";

const day = (number: number) => new Date(Date.UTC(2026, 2, number, 12));
const source = "Office of Product Safety";
const row = (number: string, given: Partial<ListRow>): ListRow => ({
  ...{ source, number, title: `Keldamar Recalls ${number}`, brand: "Keldamar", product: "heater", hazard: "A fire hazard." },
  ...given,
});
const listed = [
  row("26-114", { models: "HT-1500C", remedy: "Refund. Call the maker.", url: "https://recalls.example/26-114" }),
  row("26-115", { models: "ZQ-77" }),
];

eachDatabase("Remedies", (open) => {
  let fresh: FreshDatabase;
  let manager: Actor;
  let inspector: Actor;
  let home: string;
  let other: string;
  const view = (given: object = {}, now = day(20), actor = manager) =>
    viewRemedies(fresh.db, actor, { query: remedyQuery.parse(given), now });
  const say = async (tag: string, verdict: "affected" | "not_affected" | "unsure", on: number) => {
    const { id } = await fresh.db.candidate.findFirstOrThrow({ where: { appliance: { tag } } });
    await decide(fresh.db, inspector, { candidateId: id, verdict, reason: "Read off the plate.", now: day(on) });
  };
  const step = async (tag: string, input: Partial<StepInput> & Pick<StepInput, "step">, on: number, actor = manager) => {
    const appliance = await fresh.db.appliance.findFirstOrThrow({ where: { tag } });
    const finding = await fresh.db.finding.findFirstOrThrow({ where: { applianceId: appliance.id } });
    await takeStep(fresh.db, actor, { findingId: finding.id, version: finding.version, text: "Done.", now: day(on), ...input });
  };

  beforeEach(async () => {
    fresh = await open();
    const { id: organisationId } = await makeOrganisation(fresh.db);
    [manager, inspector] = [await makeActor(fresh.db, organisationId), await makeActor(fresh.db, organisationId, "inspector")];
    home = (await makeSite(fresh.db, organisationId)).site.id;
    other = (await makeSite(fresh.db, organisationId, "Birch House")).site.id;
    const heater = { brand: "Keldamar", model: "HT-1500C", category: "heater" };
    for (const tag of ["A-1", "A-2", "A-3", "A-4"]) await makeAppliance(fresh.db, { organisationId, siteId: home }, tag, heater);
    await makeAppliance(fresh.db, { organisationId, siteId: other }, "B-1", { ...heater, model: "ZQ-77" });
    await loadNotices(fresh.db, manager, { source: asFile(plainList(listed)), fileName: "list.csv", now: day(2) });
    await fresh.db.candidate.updateMany({ data: { raisedAt: day(2) } });
  });
  afterEach(() => fresh.close());

  test("each notice counts what we have, found and settled, with the claims on the way and the notice's own words", async () => {
    expect((await view()).lines.map(({ notice, counts }) => [notice.number, counts.have, counts.undecided])).toEqual([
      ["26-114", 4, 4],
      ["26-115", 1, 1],
    ]);
    await say("A-1", "affected", 3);
    await say("A-2", "affected", 3);
    await say("A-3", "not_affected", 3);
    await say("A-4", "affected", 3);
    await step("A-1", { step: "register_remedy" }, 4);
    await step("A-2", { step: "register_remedy" }, 4);
    await step("A-2", { step: "send_for_remedy" }, 5);
    await step("A-4", { step: "record_proof" }, 5);
    await step("A-4", { step: "close", outcome: "removed", evidence: "Receipt 9." }, 6, inspector);
    const [first] = (await view()).lines;
    expect(first).toMatchObject({
      notice: { number: "26-114", remedy: "Refund. Call the maker.", url: "https://recalls.example/26-114" },
      counts: { have: 3, undecided: 0, found: 3, waiting: 0, registered: 1, sent: 1, received: 0, settled: 1, notAffected: 1 },
    });
    const total = (await view()).total;
    expect([total.have, total.found, total.settled]).toEqual([4, 3, 1]);
  });

  test("each site's share is told at each instant as it was then", async () => {
    await say("A-1", "affected", 4);
    await step("A-1", { step: "record_proof" }, 5);
    await step("A-1", { step: "close", outcome: "removed", evidence: "Receipt 9." }, 6, inspector);
    const { effects } = await view({}, day(8));
    expect(effects.map(({ site }) => site.name)).toEqual(["Alder House", "Birch House"]);
    const counts = (on: number) => effects[0]?.points.find(({ at }) => at.getTime() === day(on).getTime())?.counts;
    expect([counts(3), counts(5), counts(7)].map((of) => [of?.have, of?.found, of?.settled])).toEqual([
      [4, 0, 0],
      [4, 1, 0],
      [4, 1, 1],
    ]);
  });

  test("what is settled leaves the list but not the sums; search, site and the actor's sites narrow it", async () => {
    await say("B-1", "affected", 3);
    await step("B-1", { step: "record_proof" }, 4);
    await step("B-1", { step: "close", outcome: "replaced", evidence: "Receipt 9." }, 5, inspector);
    expect((await view()).lines.map(({ notice }) => notice.number)).toEqual(["26-114"]);
    expect((await view({ show: "all" })).lines.map(({ notice }) => notice.number)).toEqual(["26-114", "26-115"]);
    expect((await view({ show: "all", q: "refund call" })).lines.map(({ notice }) => notice.number)).toEqual(["26-114"]);
    expect((await view({ site: other })).total).toMatchObject({ have: 1, settled: 1 });
    const limited = await makeActor(fresh.db, manager.organisationId, "inspector", [other]);
    const theirs = await view({ show: "all" }, day(20), limited);
    expect([theirs.sites.length, theirs.lines.length, theirs.total.have]).toEqual([1, 1, 1]);
    const nobody = await makeActor(fresh.db, manager.organisationId, "inspector", []);
    expect(await view({}, day(20), nobody)).toMatchObject({ lines: [], effects: [], total: { have: 0 } });
  });

  test("an appliance retired before anybody decided is none that we have", async () => {
    const { id } = await fresh.db.appliance.findFirstOrThrow({ where: { tag: "A-1" } });
    await changeState(fresh.db, manager, { id, state: "retired", reason: "Sold.", now: day(3) });
    expect((await view()).lines[0]?.counts).toMatchObject({ have: 3, notAffected: 0 });
  });

  test("its tables hold every row, each as wide as its head", async () => {
    const shown = await view({}, day(5));
    for (const table of remedyTableNames) {
      const rows = remedyRows(table, shown);
      expect(rows.length, table).toBe(table === "notices" ? 2 : 2 * (shown.effects[0]?.points.length ?? 0));
      for (const one of rows) expect(one.length, table).toBe(remedyColumns[table].length);
    }
  });
});
