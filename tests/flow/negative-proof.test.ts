import { afterEach, beforeEach, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { crossCheckRegistry } from "@/lib/matching/cross-check.run";
import { loadNotices } from "@/lib/notices/notices.run";
import { changeState } from "@/lib/registry/appliance-state";
import { decide } from "@/lib/registry/decision";
import { negativeProof, proofQuery } from "@/lib/registry/negative-proof";
import { proofColumns, proofRows, proofTableNames } from "@/lib/registry/negative-proof-rows";
import { proofEvents } from "@/lib/registry/proof-lists";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { asFile, type ListRow, makeAppliance, plainList } from "@/seed/recall-builders";
import { eachDatabase, type FreshDatabase } from "../support/database";

const day = (number: number, hour = 12) => new Date(Date.UTC(2026, 2, number, hour));
const source = "Office of Product Safety";
const hazard = "The element can ignite the housing, a fire hazard.";
const listed: ListRow[] = [
  {
    source,
    number: "26-114",
    date: "2026-02-20",
    title: "Keldamar Recalls Heaters",
    brand: "Keldamar",
    product: "heater",
    models: "HT-1500C",
    hazard,
  },
  { source, number: "26-115", date: "2026-02-27", title: "Brindle Recalls Kettles", brand: "Brindle", product: "kettle", hazard },
];

eachDatabase("Negative proof", (open) => {
  let fresh: FreshDatabase;
  let manager: Actor;
  let siteId: string;
  const ids = new Map<string, string>();
  const prove = (given: object = {}, actor = manager) =>
    negativeProof(fresh.db, actor, { query: proofQuery.parse({ site: siteId, ...given }), now: day(9) });
  const outcomes = async () => Object.fromEntries((await prove())!.rows.map(({ appliance, outcome }) => [appliance.tag, outcome]));
  const load = (rows: ListRow[], on: number) =>
    loadNotices(fresh.db, manager, { source: asFile(plainList(rows)), fileName: `list-${on}.csv`, now: day(on) });

  beforeEach(async () => {
    fresh = await open();
    const { id: organisationId } = await makeOrganisation(fresh.db);
    manager = await makeActor(fresh.db, organisationId);
    siteId = (await makeSite(fresh.db, organisationId)).site.id;
    const at = { organisationId, siteId };
    const labels = {
      "A-1": { brand: "Keldamar", model: "HT-1500C", category: "heater" },
      "A-2": { brand: "Keldamar", model: "ZQ-77", category: "heater" },
      "A-3": { brand: "Orvane", category: "fan" },
      "A-4": {},
      "A-5": { brand: "Brindle", model: "KT-9", category: "kettle" },
      "A-6": { brand: "Orvane", model: "FN-2", category: "fan" },
    };
    for (const [tag, facts] of Object.entries(labels)) ids.set(tag, (await makeAppliance(fresh.db, at, tag, facts)).id);
  });
  afterEach(() => fresh.close());

  test("without a list nothing is claimed", async () => {
    const proof = (await prove())!;
    expect([proof.lists, proof.notices, proof.unproved]).toEqual([[], 0, []]);
    expect(proof.counts).toMatchObject({ not_found: 0, in_part: 0, not_checked: 6 });
  });

  test("each appliance comes to what was found of it and to what could be read of it, and the sums agree", async () => {
    await load(listed, 3);
    expect(await outcomes()).toEqual({
      ...{ "A-1": "open", "A-2": "not_found", "A-3": "in_part", "A-4": "not_checked", "A-5": "unanswered", "A-6": "not_found" },
    });
    const proof = (await prove())!;
    expect(Object.values(proof.counts).reduce((sum, count) => sum + count, 0)).toBe(proof.rows.length);
    expect(proof.rows.find(({ appliance }) => appliance.tag === "A-3")?.gaps).toEqual(["no_model"]);
    expect(proof.unproved).toMatchObject([{ notice: { number: "26-115" }, gaps: ["no_identifiers"] }]);
    expect(proof.lists).toMatchObject([{ load: { source, records: 2 }, loads: 1, newest: "2026-02-27", setAside: 0, look: null }]);
    expect(proof.lists[0]?.load.fileHash).toMatch(/^[0-9a-f]{64}$/);
    expect(proof.differing).toBe(0);
  });

  test("decisions, retirement and the version of the list show at once", async () => {
    await load(listed, 3);
    const candidate = await fresh.db.candidate.findFirstOrThrow({ where: { applianceId: ids.get("A-1")! } });
    await decide(fresh.db, manager, { candidateId: candidate.id, verdict: "not_affected", reason: "Revision D plate.", now: day(4) });
    expect((await outcomes())["A-1"]).toBe("cleared");
    await decide(fresh.db, manager, { candidateId: candidate.id, verdict: "affected", reason: "Revision C after all.", now: day(5) });
    expect((await outcomes())["A-1"]).toBe("affected");
    await changeState(fresh.db, manager, { id: ids.get("A-6")!, state: "retired", reason: "sold", now: day(6) });
    const before = (await prove())!;
    expect([before.rows.length, before.retired]).toEqual([5, 1]);
    await load(
      [
        ...listed,
        {
          source,
          number: "26-116",
          title: "Keldamar Recalls Other Heaters",
          brand: "Keldamar",
          product: "heater",
          models: "ZQ-77",
          hazard,
        },
      ],
      7,
    );
    const after = (await prove())!;
    expect(after.lists).toMatchObject([{ loads: 2, load: { records: 3, fresh: 1 } }]);
    expect(after.lists[0]?.load.fileHash).not.toBe(before.lists[0]?.load.fileHash);
    expect((await outcomes())["A-2"]).toBe("open");
  });

  test("a comparison that was never stored is found out", async () => {
    await load(listed, 3);
    await fresh.db.appliance.update({ where: { id: ids.get("A-2")! }, data: { model: "HT-1500C", updatedAt: day(5) } });
    const proof = (await prove())!;
    expect(proof.differing).toBe(1);
    expect(proof.rows.find(({ appliance }) => appliance.tag === "A-2")).toMatchObject({ outcome: "open", agrees: false });
    await crossCheckRegistry(fresh.db, manager, { now: day(6) });
    expect(await prove()).toMatchObject({ differing: 0 });
  });

  test("one appliance: its history of comparisons, and a sentence for a tag that is not there", async () => {
    await load(listed, 3);
    const proof = (await prove({ tag: "a 1" }))!;
    expect(proof).toMatchObject({ one: { tag: "A-1" }, rows: [{ outcome: "open" }] });
    const events = await proofEvents(fresh.db, manager, { now: day(9), appliance: proof.one });
    expect(events.map(({ what }) => what)).toEqual([
      "loaded: 2 new and 0 amended notices compared, 0 as before, 0 gone",
      "the appliance was recorded",
    ]);
    await expect(prove({ tag: "Z-9" })).rejects.toThrow('has the tag "Z-9"');
    const stranger = await makeActor(fresh.db, manager.organisationId, "inspector", []);
    await expect(prove({}, stranger)).rejects.toThrow("no such site");
    expect(await negativeProof(fresh.db, stranger, { query: proofQuery.parse({}), now: day(9) })).toBeNull();
  });

  test("its tables hold every row, each as wide as its head", async () => {
    await load(listed, 3);
    const proof = (await prove())!;
    const events = await proofEvents(fresh.db, manager, { now: day(9), appliance: null });
    const lengths = { appliances: 6, notices: 1, versions: 1 };
    for (const table of proofTableNames) {
      const rows = proofRows(table, { proof, events, outcome: undefined });
      expect(rows.length, table).toBe(lengths[table]);
      for (const row of rows) expect(row.length, table).toBe(proofColumns[table].length);
    }
    expect(proofRows("appliances", { proof, events, outcome: "in_part" }).map((row) => row[1])).toEqual(["A-3"]);
  });
});
