import { expect, it } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { checkTagCode, tagKey } from "@/lib/identity/tag-code";
import { addAppliance, editAppliance } from "@/lib/registry/appliance";
import { applianceForm } from "@/lib/registry/appliance-form";
import { applianceQuery, exportAppliances, listAppliances } from "@/lib/registry/appliance-list";
import { nearestWords } from "@/lib/registry/appliance-near";
import { changeState } from "@/lib/registry/appliance-state";
import { viewAppliance } from "@/lib/registry/appliance-view";
import { issueTags } from "@/lib/registry/tag";
import type { Store } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";
import { verifyRecord } from "@/lib/store/verify-record";
import { makeActor, makeOrganisation, makeSite } from "../../seed/builders";
import { eachDatabase } from "../support/database";

const now = new Date("2026-03-02T12:00:00Z");

async function house(db: Store) {
  const { id: organisationId } = await makeOrganisation(db);
  const actor = await makeActor(db, organisationId);
  return { organisationId, actor, ...(await makeSite(db, organisationId)) };
}

type Given = Partial<Record<keyof typeof applianceForm.shape, string>>;

function add(db: Store, actor: Actor, given: Given & { siteId: string }) {
  return addAppliance(db, actor, { fields: applianceForm.parse(given), now });
}

async function find(db: Store, actor: Actor, query: Record<string, string>) {
  const { rows, found } = await listAppliances(db, actor, { query: applianceQuery.parse(query), now });
  return { tags: rows.map(({ appliance }) => appliance.tag), found };
}

eachDatabase("appliances", (open) => {
  it("are added with a fresh tag of our own, a place, derived columns and a record entry", async () => {
    const { db, close } = await open();
    const { actor, site, unit, outlets, organisationId } = await house(db);
    const outlet = outlets[0]?.name ?? "";
    const text = "120V~ 60Hz 1500W 12.5A";
    const { id, tag } = await add(db, actor, {
      siteId: site.id,
      outlet,
      receptacle: "lower",
      category: "heater",
      brand: "Keldamar",
      labelText: text,
    });
    expect(checkTagCode(tag).ok).toBe(true);
    const view = await viewAppliance(db, actor, { id, now });
    expect(view.appliance).toMatchObject({ unitId: unit.id, receptacle: "2", inputWatts: 1500, allowedWatts: 1575, tagIssued: true });
    expect(view.placements).toMatchObject([{ outletId: outlets[0]?.id, toAt: null, source: "form" }]);
    expect(view.allowed.rule).toContain("IEC 60335-1");
    expect(view.record.map((entry) => entry.what)).toEqual(["appliance added"]);
    expect(await verifyRecord(db, organisationId)).toMatchObject({ broken: null, entries: 1 });
    await close();
  });

  it("keep foreign tags as they are, refuse mistyped own ones with the likely reading, and give no tag twice", async () => {
    const { db, close } = await open();
    const { actor, site } = await house(db);
    const siteId = site.id;
    expect(await add(db, actor, { siteId, tag: "old/0017 b" })).toMatchObject({ tag: "old/0017 b" });
    await expect(add(db, actor, { siteId, tag: "OLD 0017-B" })).rejects.toThrow("another appliance");
    const [issued = ""] = await issueTags(db, actor, { count: 1, now });
    const digit = [...issued].findLastIndex((character) => "0158".includes(character));
    const asRead: Readonly<Record<string, string>> = { "0": "O", "1": "I", "5": "S", "8": "B" };
    const mistyped = digit < 0 ? null : issued.slice(0, digit) + asRead[issued[digit] ?? ""] + issued.slice(digit + 1);
    if (mistyped) await expect(add(db, actor, { siteId, tag: mistyped })).rejects.toThrow(issued);
    expect(await add(db, actor, { siteId, tag: issued.toLowerCase() })).toMatchObject({ tag: issued });
    await expect(add(db, actor, { siteId, tag: issued })).rejects.toThrow("another appliance");
    await close();
  });

  it("never get a code that was issued before, not even one whose appliance has another tag now", async () => {
    const { db, close } = await open();
    const { actor, site } = await house(db);
    const siteId = site.id;
    const { id, tag } = await add(db, actor, { siteId });
    const fields = applianceForm.parse({ siteId, tag: "K-9" });
    await editAppliance(db, actor, { id, version: 1, fields, now });
    expect((await viewAppliance(db, actor, { id, now })).appliance.tag).toBe("K-9");
    await expect(add(db, actor, { siteId, tag })).rejects.toThrow("used once");
    const tags = await issueTags(db, actor, { count: 200, now });
    expect(new Set([...tags, tag].map(tagKey)).size).toBe(201);
    await close();
  });

  it("show both values when two people change one at once, and lose neither", async () => {
    const { db, close } = await open();
    const { actor, site } = await house(db);
    const { id, tag } = await add(db, actor, { siteId: site.id });
    const form = (given: Given) => applianceForm.parse({ siteId: site.id, tag, ...given });
    expect(await editAppliance(db, actor, { id, version: 1, fields: form({ owner: "Flat 3" }), now })).toEqual({ saved: true, id });
    const second = await editAppliance(db, actor, { id, version: 1, fields: form({ notes: "cord worn" }), now });
    expect(second).toMatchObject({ saved: false, version: 2, theirs: { owner: "Flat 3", notes: null } });
    await editAppliance(db, actor, { id, version: 2, fields: form({ owner: "Flat 3", notes: "cord worn" }), now });
    const view = await viewAppliance(db, actor, { id, now });
    expect(view.appliance).toMatchObject({ owner: "Flat 3", notes: "cord worn", version: 3 });
    expect(view.record.map(({ what, after }) => [what, after])).toEqual([
      ["appliance changed", { notes: "cord worn" }],
      ["appliance changed", { owner: "Flat 3" }],
      ["appliance added", expect.anything()],
    ]);
    await close();
  });

  it("are not written again when nothing changed, and say what is wrong with a place that is not there", async () => {
    const { db, close } = await open();
    const { actor, site, outlets } = await house(db);
    const { id, tag } = await add(db, actor, { siteId: site.id, unit: "0101" });
    const form = (given: Given) => applianceForm.parse({ siteId: site.id, tag, unit: "0101", ...given });
    await editAppliance(db, actor, { id, version: 1, fields: form({}), now });
    expect((await viewAppliance(db, actor, { id, now })).appliance.version).toBe(1);
    const later = new Date(now.getTime() + 60_000);
    const edit = (given: Given) => editAppliance(db, actor, { id, version: 1, fields: form(given), now: later });
    await expect(edit({ unit: "0999" })).rejects.toMatchObject({ fields: { unit: expect.stringContaining("no unit") } });
    await expect(edit({ outlet: "nowhere" })).rejects.toMatchObject({ fields: { outlet: expect.stringContaining("no outlet") } });
    await expect(edit({ outlet: outlets[0]?.name ?? "", receptacle: "5" })).rejects.toMatchObject({
      fields: { receptacle: expect.any(String) },
    });
    await edit({ outlet: outlets[0]?.name ?? "", receptacle: "upper" });
    expect((await viewAppliance(db, actor, { id, now })).placements.map((row) => row.outletId)).toEqual([null, outlets[0]?.id]);
    await close();
  });

  it("are retired, never deleted: the history stays, the lists of what is due do not show them", async () => {
    const { db, close } = await open();
    const { actor, site, outlets } = await house(db);
    const { id, tag } = await add(db, actor, { siteId: site.id, outlet: outlets[0]?.name ?? "" });
    await changeState(db, actor, { id, state: "out_of_use", reason: "cord worn", now });
    await changeState(db, actor, { id, state: "retired", reason: null, now: new Date(now.getTime() + 60_000) });
    expect(await find(db, actor, {})).toEqual({ tags: [], found: 0 });
    expect(await find(db, actor, { state: "retired" })).toEqual({ tags: [tag], found: 1 });
    const view = await viewAppliance(db, actor, { id, now });
    expect(view.placements).toMatchObject([{ toAt: new Date(now.getTime() + 60_000) }]);
    expect(view.record.map((entry) => entry.what)).toEqual(["appliance retired", "appliance out of use", "appliance added"]);
    await close();
  });

  it("stay out of use while an open danger keeps them out", async () => {
    const { db, close } = await open();
    const { actor, site, organisationId } = await house(db);
    const { id } = await add(db, actor, { siteId: site.id });
    await changeState(db, actor, { id, state: "out_of_use", reason: null, now });
    const danger = {
      organisationId,
      key: "k",
      cause: "recall",
      applianceId: id,
      siteId: site.id,
      signalWord: "DANGER",
      sentence: "Recalled.",
    };
    await db.finding.create({
      data: { id: newId(), ...danger, state: "open", evidence: {}, openedAt: now, refreshedAt: now, dueAt: now },
    });
    await expect(changeState(db, actor, { id, state: "in_use", reason: null, now })).rejects.toThrow("settle the finding first");
    await close();
  });

  it("are found by words of the label, codes without separators, and the names of unit and outlet", async () => {
    const { db, close } = await open();
    const { actor, site, outlets } = await house(db);
    const siteId = site.id;
    await add(db, actor, { siteId, tag: "A1", brand: "Thérmelle", model: "HT-1500C", outlet: outlets[0]?.name ?? "" });
    await add(db, actor, { siteId, tag: "A2", brand: "Brontide", model: "TO-6", labelText: "do not cover 100% cotton_" });
    for (const q of ["thermelle", "ht1500c", "HT 1500C", "A-1", "0101", "alder house a-1-1"]) {
      expect(await find(db, actor, { q }), q).toEqual({ tags: ["A1"], found: 1 });
    }
    for (const q of ["100%", "cotton_", "brontide cover"]) expect(await find(db, actor, { q }), q).toEqual({ tags: ["A2"], found: 1 });
    for (const q of ["brontide thermelle", "0%c", "'; DROP TABLE"]) expect((await find(db, actor, { q })).found, q).toBe(0);
    expect(await nearestWords(db, actor, "brontyde")).toEqual(["Brontide"]);
    await close();
  });

  it("are sorted and filtered by what the address says, pages are bounded, and the export has them all", async () => {
    const { db, close } = await open();
    const { actor, site, organisationId } = await house(db);
    const ids: string[] = [];
    for (let i = 0; i < 4; i++) {
      ids.push(
        (await add(db, actor, { siteId: site.id, tag: `T${i}`, category: "heater", ...(i === 3 ? {} : { ratedWatts: "1000" }) })).id,
      );
    }
    const seen = [500, 1200, 900];
    for (const [i, seenWatts] of seen.entries()) await db.appliance.update({ where: { id: ids[i] ?? "" }, data: { seenWatts } });
    const finding = { organisationId, cause: "over_rating", siteId: site.id, sentence: "Above its rating.", evidence: {} };
    const due = { openedAt: now, refreshedAt: now, dueAt: now, state: "open" as const };
    await db.finding.create({ data: { id: newId(), ...finding, ...due, key: "a", applianceId: ids[0] ?? "", signalWord: "WARNING" } });
    await db.finding.create({ data: { id: newId(), ...finding, ...due, key: "b", applianceId: ids[2] ?? "", signalWord: "DANGER" } });
    expect((await find(db, actor, {})).tags).toEqual(["T2", "T0", "T1", "T3"]);
    expect((await find(db, actor, { sort: "seen" })).tags).toEqual(["T1", "T2", "T0", "T3"]);
    expect((await find(db, actor, { sort: "tag", order: "desc" })).tags).toEqual(["T3", "T2", "T1", "T0"]);
    expect((await find(db, actor, { sort: "where" })).tags).toHaveLength(4);
    expect((await find(db, actor, { stands: "over" })).tags).toEqual(["T1"]);
    expect((await find(db, actor, { stands: "near" })).tags).toEqual(["T2"]);
    expect((await find(db, actor, { plate: "unread" })).tags).toEqual(["T3"]);
    expect((await find(db, actor, { signal: "DANGER" })).tags).toEqual(["T2"]);
    expect((await find(db, actor, { signal: "any", page: "99", sort: "nonsense" })).tags).toEqual(["T2", "T0"]);
    const exported: string[] = [];
    const ask = { query: applianceQuery.parse({ sort: "tag" }), chosen: null, now };
    for await (const rows of exportAppliances(db, actor, ask)) exported.push(...rows.map(({ appliance }) => appliance.tag));
    expect(exported).toEqual(["T0", "T1", "T2", "T3"]);
    await close();
  });

  it("are exported whole, however many there are", async () => {
    const { db, close } = await open();
    const { actor, site } = await house(db);
    const { id } = await add(db, actor, { siteId: site.id, tag: "A0" });
    const one = await db.appliance.findUniqueOrThrow({ where: { id } });
    const many = Array.from({ length: 1200 }, (_, number) => ({ ...one, id: newId(), tag: `B${number}`, tagKey: `B${number}` }));
    await db.appliance.createMany({ data: many });
    const exported = new Set<string>();
    const ask = { query: applianceQuery.parse({}), chosen: null, now };
    for await (const rows of exportAppliances(db, actor, ask)) for (const { appliance } of rows) exported.add(appliance.tag);
    expect(exported.size).toBe(1201);
    await close();
  });

  it("are seen and changed only at one's own sites and by those whose role may", async () => {
    const { db, close } = await open();
    const { actor, site, organisationId } = await house(db);
    const { id } = await add(db, actor, { siteId: site.id, tag: "A1" });
    const other = await makeSite(db, organisationId, "Birch House");
    const elsewhere = await makeActor(db, organisationId, "manager", [other.site.id]);
    expect(await find(db, elsewhere, {})).toEqual({ tags: [], found: 0 });
    await expect(viewAppliance(db, elsewhere, { id, now })).rejects.toThrow("not at this site");
    await expect(add(db, elsewhere, { siteId: site.id })).rejects.toThrow("not at this site");
    const inspector = await makeActor(db, organisationId, "inspector");
    await expect(add(db, inspector, { siteId: site.id })).rejects.toThrow("may not edit appliances");
    const { id: stranger } = await makeOrganisation(db, "Aspen Estates");
    await expect(viewAppliance(db, await makeActor(db, stranger), { id, now })).rejects.toThrow("not in the registry");
    await close();
  });
});
