import { expect, it } from "vitest";
import { Refused } from "@/lib/access/refusal";
import { crossCheckRegistry } from "@/lib/matching/cross-check.run";
import { loadNotices } from "@/lib/notices/notices.run";
import { addAlias, listAliases, withdrawAlias } from "@/lib/registry/maker-alias";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { asFile, type ListRow, makeAppliance, plainList } from "@/seed/recall-builders";
import { eachDatabase, type FreshDatabase } from "../support/database";

const day = (number: number) => new Date(Date.UTC(2026, 2, number));
const source = "Office of Product Safety";
const rows: ListRow[] = [
  { source, number: "26-114", title: "Keldamar Recalls Heaters", brand: "Keldamar", product: "heater", models: "HT-1500C" },
  { source, number: "26-115", title: "Sundrake Recalls Kettles", brand: "Sundrake", product: "kettle", models: "PX-2000" },
];
const alias = {
  name: "Hearthside",
  otherName: "Keldamar",
  relation: "belongs",
  origin: "A plate that bears both names.",
  reason: "House brand.",
} as const;

async function start(open: () => Promise<FreshDatabase>) {
  const database = await open();
  const { db } = database;
  const organisation = await makeOrganisation(db);
  const administrator = await makeActor(db, organisation.id, "administrator");
  const { site, unit } = await makeSite(db, organisation.id);
  const at = { organisationId: organisation.id, siteId: site.id, unitId: unit.id };
  await makeAppliance(db, at, "T-1", { brand: "Hearthside", model: "HT-1500C", category: "heater" });
  await makeAppliance(db, at, "T-2", { brand: "Sundrake", model: "PX-2000", category: "kettle" });
  await makeAppliance(db, at, "T-3", { labelText: "HEARTHSIDE | MODEL HT-1500C | 120V~ 60Hz 1500W", category: "heater" });
  await loadNotices(db, administrator, { source: asFile(plainList(rows)), fileName: "list.csv", now: day(1) });
  const grades = async () => {
    const found = await db.candidate.findMany({ include: { appliance: true } });
    return Object.fromEntries(found.map(({ appliance, grade }) => [appliance.tag, grade]));
  };
  return { ...database, organisation, administrator, grades };
}

eachDatabase("makers' aliases", (open) => {
  it("let a house brand's appliance be covered by its maker's notice at once, and a full run says the same", async () => {
    const { db, administrator, grades, close } = await start(open);
    const before = await grades();
    expect(before["T-1"]).not.toBe("covered");
    const { compared } = await addAlias(db, administrator, { ...alias, now: day(2) });
    expect(compared).toMatchObject({ notices: 1, appliances: 2 });
    expect(await grades()).toMatchObject({ "T-1": "covered", "T-3": "covered", "T-2": before["T-2"] });
    expect(await crossCheckRegistry(db, administrator, { now: day(3) })).toMatchObject({ added: 0, changed: 0, removed: 0 });
    await close();
  });

  it("are listed with origin, reason and who, recorded, and undone when they are withdrawn", async () => {
    const { db, administrator, grades, close } = await start(open);
    const before = await grades();
    const { id } = await addAlias(db, administrator, { ...alias, now: day(2) });
    const { standing } = await listAliases(db, administrator);
    expect(standing).toMatchObject([{ ...alias, by: administrator.name, appliances: 1 }]);
    await withdrawAlias(db, administrator, { aliasId: id, reason: "Sold to another firm.", now: day(3) });
    expect(await grades()).toEqual(before);
    expect(await listAliases(db, administrator)).toMatchObject({ standing: [], withdrawn: [{ withdrawnWhy: "Sold to another firm." }] });
    const entries = await db.recordEntry.findMany({ where: { subjectKind: "maker alias" }, orderBy: { number: "asc" } });
    expect(entries.map(({ what, subjectId }) => [what, subjectId])).toEqual([
      ["joined two makers' names", id],
      ["parted two makers' names", id],
    ]);
    await close();
  });

  it("refuse the same name, a pair that is joined already, an empty origin, and anyone but an administrator", async () => {
    const { db, organisation, administrator, close } = await start(open);
    await addAlias(db, administrator, { ...alias, now: day(2) });
    const add = (change: object, as = administrator) => addAlias(db, as, { ...alias, ...change, now: day(2) });
    await expect(add({ name: "KELDAMAR, Inc." })).rejects.toThrow("read as one name already");
    await expect(add({ name: "Keldamar", otherName: "hearthside" })).rejects.toThrow("joined already");
    await expect(add({ name: "Coppervale", origin: " " })).rejects.toThrow("where it is known from");
    await expect(add({ name: "Coppervale" }, await makeActor(db, organisation.id, "manager"))).rejects.toThrow(Refused);
    await expect(withdrawAlias(db, administrator, { aliasId: "none", reason: "x", now: day(3) })).rejects.toThrow("does not stand");
    expect(await db.makerAlias.count()).toBe(1);
    await close();
  });
});
