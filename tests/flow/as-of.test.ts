import { afterEach, beforeEach, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { Trouble } from "@/lib/access/trouble";
import { loadNotices } from "@/lib/notices/notices.run";
import { addAppliance, editAppliance } from "@/lib/registry/appliance";
import { changeState } from "@/lib/registry/appliance-state";
import { endOfDay, siteAsOf } from "@/lib/registry/as-of";
import { decide } from "@/lib/registry/decision";
import { undecidedCandidates } from "@/lib/registry/decision-list";
import { findingQuery, listFindings } from "@/lib/registry/finding-list";
import { loadLabels } from "@/lib/registry/labels-import";
import { thenQuery, viewSiteThen } from "@/lib/registry/site-then";
import { thenRows, thenStamp, thenTableNames, thenTables } from "@/lib/registry/site-then-rows";
import { takeStep } from "@/lib/registry/take-step";
import { headText } from "@/lib/store/record-head";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { asFile, type ListRow, plainList, unreadFacts } from "@/seed/recall-builders";
import { eachDatabase, type FreshDatabase } from "../support/database";

const day = (number: number, hour = 12) => new Date(Date.UTC(2026, 2, number, hour));
const listed: ListRow = {
  source: "Office of Product Safety",
  number: "26-114",
  title: "Keldamar Recalls Convection Heaters Due to Fire Hazard",
  brand: "Keldamar",
  product: "heater",
  models: "HT-1500C",
  hazard: "The element can ignite the housing, a fire hazard.",
};

eachDatabase("The state of a site as it was known", (open) => {
  let fresh: FreshDatabase;
  let manager: Actor;
  let inspector: Actor;
  let place: { siteId: string; unit: string; outlet: string; receptacle: string };
  let otherSite: string;
  const at = (when: Date, siteId = place.siteId) => siteAsOf(fresh.db, manager, { siteId, at: when });
  const fields = (given: object = {}) => ({
    ...unreadFacts,
    tag: null,
    ...place,
    category: "heater",
    brand: "Keldamar",
    model: null,
    ...given,
  });

  beforeEach(async () => {
    fresh = await open();
    const organisation = await makeOrganisation(fresh.db);
    const { site, unit, outlets } = await makeSite(fresh.db, organisation.id);
    otherSite = (await makeSite(fresh.db, organisation.id, "Birch House")).site.id;
    [manager, inspector] = [await makeActor(fresh.db, organisation.id), await makeActor(fresh.db, organisation.id, "inspector")];
    place = { siteId: site.id, unit: unit.name, outlet: outlets[0]!.name, receptacle: "1" };
  });
  afterEach(() => fresh.close());

  /** Day 1 recorded, 2 the model read, 3 a notice loaded, 4 decided affected, 5 out of use, 6 moved, 8 found not affected after all. */
  async function story() {
    const { db } = fresh;
    const { id } = await addAppliance(db, manager, { fields: fields(), now: day(1) });
    const version = async () => (await db.appliance.findUniqueOrThrow({ where: { id } })).version;
    const edit = async (given: object, now: Date) =>
      editAppliance(db, manager, {
        id,
        version: await version(),
        fields: fields({ tag: (await db.appliance.findUniqueOrThrow({ where: { id } })).tag, ...given }),
        now,
      });
    expect(await edit({ model: "HT-1500C" }, day(2))).toMatchObject({ saved: true });
    await loadNotices(db, manager, { source: asFile(plainList([listed])), fileName: "list.csv", now: day(3) });
    const candidate = await db.candidate.findFirstOrThrow();
    await db.candidate.update({ where: { id: candidate.id }, data: { raisedAt: day(3) } });
    await decide(db, inspector, { candidateId: candidate.id, verdict: "affected", reason: "Listed model.", now: day(4) });
    const finding = await db.finding.findFirstOrThrow();
    const step = { findingId: finding.id, text: "Unplugged, cord cut." };
    await takeStep(db, manager, { ...step, version: finding.version, step: "take_out_of_use", now: day(5) });
    expect(await edit({ model: "HT-1500C", siteId: otherSite, outlet: null, receptacle: null, unit: null }, day(6))).toMatchObject({
      saved: true,
    });
    await decide(db, inspector, { candidateId: candidate.id, verdict: "not_affected", reason: "Rev. D plate.", now: day(8) });
    return { id };
  }

  test("each day shows what was known on it and nothing that came later", async () => {
    const { id } = await story();
    expect((await at(day(0))).appliances).toEqual([]);
    expect((await at(day(0))).head).toBeNull();

    const first = await at(day(1, 18));
    expect(first.appliances).toMatchObject([{ id, model: null, state: "in_use", isSeen: true, isCertain: true, receptacle: "1" }]);
    expect([first.findings, first.open, first.decisions, first.notices.size]).toEqual([[], [], [], 0]);

    expect((await at(day(2, 18))).appliances).toMatchObject([{ model: "HT-1500C" }]);
    const third = await at(day(3, 18));
    expect(third.open).toMatchObject([{ applianceId: id, grade: "covered" }]);
    expect([...third.notices.values()]).toMatchObject([{ number: "26-114", isListed: true }]);
    expect(third.findings).toEqual([]);

    const fourth = await at(day(4, 18));
    expect([fourth.open, fourth.decisions]).toMatchObject([[], [{ verdict: "affected", reason: "Listed model.", stood: true }]]);
    expect(fourth.findings).toMatchObject([{ signalWord: "DANGER", state: "open" }]);
    expect(fourth.appliances).toMatchObject([{ state: "in_use" }]);

    const fifth = await at(day(5, 18));
    expect(fifth.findings).toMatchObject([{ signalWord: "DANGER", state: "out_of_use" }]);
    expect(fifth.appliances).toMatchObject([{ state: "out_of_use" }]);

    expect((await at(day(6, 18))).appliances).toEqual([]);
    const moved = await at(day(6, 18), otherSite);
    expect(moved.appliances).toMatchObject([{ id, siteId: otherSite, state: "out_of_use" }]);
    expect((await at(day(7), otherSite)).decisions).toMatchObject([{ verdict: "affected" }]);
    expect((await at(day(9), otherSite)).decisions).toMatchObject([{ verdict: "not_affected" }]);
    const heads = [await at(day(1, 18)), await at(day(5, 18)), await at(day(9))].map(({ head }) => head?.number ?? 0);
    expect(heads).toEqual([...heads].sort((a, b) => a - b));
    expect(new Set(heads).size).toBe(3);
  });

  test("what a file changed of an appliance that was there is taken back too", async () => {
    const { db } = fresh;
    const { id, tag } = await addAppliance(db, manager, { fields: fields({ model: "AB-1", ratedWatts: 900 }), now: day(1) });
    const csv = `tag,site,unit,brand,model,rated_watts\r\n${tag},Alder House,0101,Keldamar,AB-2,1200\r\n`;
    const account = await loadLabels(db, manager, { source: [Buffer.from(csv)] as never, fileName: "labels.csv", now: day(4) });
    expect(account.updated).toBe(1);
    expect((await at(day(3))).appliances).toMatchObject([{ id, model: "AB-1", ratedWatts: 900, isCertain: true }]);
    expect((await at(day(5))).appliances).toMatchObject([{ id, model: "AB-2", ratedWatts: 1200, isCertain: true }]);
  });

  test("a notice that was amended later stands in the words it had", async () => {
    const { db } = fresh;
    const load = (row: ListRow, on: number) =>
      loadNotices(db, manager, { source: asFile(plainList([row])), fileName: "list.csv", now: day(on) });
    await load(listed, 2);
    await load({ ...listed, title: "Keldamar Recalls Heaters, Amended" }, 6);
    const titles = async (on: number) => [...(await at(day(on))).notices.values()].map(({ title }) => title);
    expect(await titles(1)).toEqual([]);
    expect(await titles(4)).toEqual([listed.title]);
    expect(await titles(7)).toEqual(["Keldamar Recalls Heaters, Amended"]);
  });

  test("the state of now is what the lists of now show", async () => {
    const { db } = fresh;
    const { id } = await story();
    await addAppliance(db, manager, { fields: fields({ model: "HT-1500C", receptacle: "2" }), now: day(9) });
    await addAppliance(db, manager, {
      fields: fields({ model: "QQ-1", siteId: otherSite, unit: null, outlet: null, receptacle: null }),
      now: day(9),
    });
    await changeState(db, manager, {
      id: (await db.appliance.findFirstOrThrow({ where: { model: "QQ-1" } })).id,
      state: "retired",
      reason: "sold",
      now: day(10),
    });
    const now = day(20);
    for (const siteId of [place.siteId, otherSite]) {
      const then = await at(now, siteId);
      const rows = await db.appliance.findMany({ where: { siteId }, orderBy: { tag: "asc" } });
      const facts = (row: object) =>
        Object.fromEntries(
          ["id", "tag", "model", "state", "unitId", "outletId", "receptacle", "retiredAt"].map((name) => [name, Reflect.get(row, name)]),
        );
      expect(then.appliances.map(facts)).toEqual(rows.map(facts));
      const list = await listFindings(db, manager, { query: findingQuery.parse({ site: siteId }), now });
      const alive = then.findings.filter(({ state }) => state !== "closed").map((row) => [row.id, row.signalWord, row.dueAt]);
      expect(alive.sort()).toEqual(list.rows.map(({ finding }) => [finding.id, finding.signalWord, finding.dueAt]).sort());
      const waiting = (await undecidedCandidates(db, manager)).rows.filter(({ appliance }) => appliance.siteId === siteId);
      expect(then.open.map((row) => row.applianceId).sort()).toEqual(waiting.map(({ appliance }) => appliance.id).sort());
    }
    expect((await at(now, otherSite)).appliances.map((row) => row.id)).toContain(id);
  });

  test("the page of a day picks out what is asked for, and its files carry the instant and the record's end", async () => {
    const { id } = await story();
    const { id: second } = await addAppliance(fresh.db, manager, { fields: fields({ model: "QQ-1", receptacle: "2" }), now: day(1) });
    const view = async (given: object, now = day(20)) => {
      const page = await viewSiteThen(fresh.db, manager, { siteId: place.siteId, query: thenQuery.parse(given), now });
      return { ...page, known: page.known! };
    };
    const fourth = await view({ day: "2026-03-04" });
    expect(fourth).toMatchObject({ problem: null, today: "2026-03-20", known: { uncertain: 0, undated: 0, byState: { in_use: 2 } } });
    expect(fourth.known.found.map((row) => row.id).sort()).toEqual([id, second].sort());
    expect(fourth.known.openFindings).toMatchObject([{ signalWord: "DANGER" }]);
    expect((await view({ day: "2026-03-04", q: "ht-1500 0101" })).known.found.map((row) => row.id)).toEqual([id]);
    expect((await view({ day: "2026-03-05", state: "out_of_use" })).known.found.map((row) => row.id)).toEqual([id]);

    await fresh.db.appliance.update({ where: { id: second }, data: { model: "Changed behind the record", updatedAt: day(15) } });
    const marked = await view({ day: "2026-03-04", told: "no" });
    expect(marked.known).toMatchObject({ uncertain: 1, found: [{ id: second, isCertain: false }] });

    const stamp = [fourth.known.then.at.toISOString(), headText(fourth.known.then.head!)];
    for (const name of thenTableNames) {
      const rows = thenRows(name, fourth.known);
      expect(rows.length, name).toBe({ appliances: 2, findings: 1, recalls: 0, decisions: 1 }[name]);
      for (const row of rows) {
        expect(row.length, name).toBe(thenTables[name].columns.length + thenStamp.length);
        expect(row.slice(-2)).toEqual(stamp);
      }
    }
    expect(thenRows("decisions", fourth.known)[0]?.slice(1, 8)).toEqual([
      ...[listed.source, listed.number, listed.title, "affected", "Listed model.", "Robin inspector", day(4).toISOString()],
    ]);
    expect(await view({ day: "2026-02-31" })).toMatchObject({ problem: expect.stringContaining("no day") as string, known: null });
    expect(await view({ day: "2026-03-21" })).toMatchObject({ problem: expect.stringContaining("still to come") as string });
    expect((await view({})).known.then.at).toEqual(day(20));
  });

  test("a day that is none, or still to come, is refused with a sentence; a site of others is not shown", async () => {
    expect(() => endOfDay("America/Chicago", "2026-02-31x", day(9))).toThrow(Trouble);
    expect(() => endOfDay("America/Chicago", "2026-04-01", day(9))).toThrow("still to come");
    expect(() => endOfDay("America/Chicago", "2026-02-30", day(9))).toThrow("no day");
    // Santiago puts its clock forward at midnight: 6 September 2026 begins at one and has 23 hours.
    expect(endOfDay("America/Santiago", "2026-09-06", new Date("2026-10-01")).toISOString()).toBe("2026-09-07T02:59:59.999Z");
    expect(endOfDay("America/Chicago", "2026-03-02", day(9)).toISOString()).toBe("2026-03-03T05:59:59.999Z");
    const stranger = await makeActor(fresh.db, manager.organisationId, "manager", [otherSite]);
    await expect(siteAsOf(fresh.db, stranger, { siteId: place.siteId, at: day(9) })).rejects.toThrow("site");
  });
});
