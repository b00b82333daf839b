import { afterEach, beforeEach, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { applianceColumns } from "@/lib/registry/appliance-columns";
import { policyOfSite, standardsOfSite, viewSitePolicy } from "@/lib/registry/site-policy";
import { saveSitePolicy, sitePolicyForm } from "@/lib/registry/site-policy-change";
import { newId } from "@/lib/store/ids";
import { screeningPolicy } from "@/lib/watch/policy";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { unreadFacts } from "@/seed/recall-builders";
import { eachDatabase, type FreshDatabase } from "../support/database";

const now = new Date("2026-03-10T10:00:00Z");

eachDatabase("The policy of a site", (open) => {
  let fresh: FreshDatabase;
  let manager: Actor;
  let siteId: string;

  beforeEach(async () => {
    fresh = await open();
    const { id: organisationId } = await makeOrganisation(fresh.db);
    manager = await makeActor(fresh.db, organisationId);
    siteId = (await makeSite(fresh.db, organisationId)).site.id;
  });
  afterEach(() => fresh.close());

  const form = (part: Record<string, string>) => sitePolicyForm.parse({ siteId, version: "0", ...part });
  const save = (part: Record<string, string>) => saveSitePolicy(fresh.db, manager, { ...form(part), now });

  test("is the default until the site states its own, which is recorded", async () => {
    expect(await policyOfSite(fresh.db, siteId)).toEqual(screeningPolicy);
    await save({ persistenceSeconds: "6", continuousShare: "70" });
    expect(await policyOfSite(fresh.db, siteId)).toEqual({ ...screeningPolicy, persistenceSeconds: 6, continuousShare: 0.7 });
    const entry = await fresh.db.recordEntry.findFirstOrThrow({ where: { what: "site policy changed" } });
    expect(entry.after).toEqual({ figures: { persistenceSeconds: 6, continuousShare: 0.7 }, standards: {} });
  });

  test("goes back to the default when a figure is emptied", async () => {
    await save({ tripCount: "5" });
    await save({ version: "1" });
    expect(await policyOfSite(fresh.db, siteId)).toEqual(screeningPolicy);
  });

  test("refuses figures out of bounds by name, and a change over another's", async () => {
    expect(() => form({ driftShare: "400" })).toThrow(/Write from 5 to 100 %/);
    await save({ tripCount: "5" });
    await expect(save({ tripCount: "6" })).rejects.toThrow(/Somebody else changed the policy/);
    await expect(save({ version: "7", tripCount: "6" })).rejects.toThrow(/Somebody else changed the policy/);
  });

  test("is changed by managers and administrators only, at their own sites", async () => {
    const inspector = await makeActor(fresh.db, manager.organisationId, "inspector");
    await expect(saveSitePolicy(fresh.db, inspector, { ...form({}), now })).rejects.toThrow(/may not set site policy/);
    const elsewhere = { ...manager, siteIds: ["other"] };
    await expect(saveSitePolicy(fresh.db, elsewhere, { ...form({}), now })).rejects.toThrow(/not at this site/);
    await expect(viewSitePolicy(fresh.db, elsewhere, siteId)).rejects.toThrow(/not at this site/);
    const other = await makeActor(fresh.db, (await makeOrganisation(fresh.db, "Other Estates")).id);
    await expect(saveSitePolicy(fresh.db, other, { ...form({}), now })).rejects.toThrow(/not there any more/);
  });

  test("with another standard changes what its appliances may draw", async () => {
    const facts = { ...unreadFacts, category: "toaster", labelText: "120V 300W" };
    const data = { id: newId(), organisationId: manager.organisationId, tag: "K7-TOAS", siteId, ...facts, createdAt: now, updatedAt: now };
    const { id } = await fresh.db.appliance.create({ data: { ...data, ...applianceColumns("K7-TOAS", facts, 120) } });
    const allowed = async () => (await fresh.db.appliance.findUniqueOrThrow({ where: { id } })).allowedWatts;
    expect(await allowed()).toBe(320);
    await save({ deviation: "UL 1026" });
    expect(await allowed()).toBe(315);
    expect(await standardsOfSite(fresh.db, { id: siteId, nominalVolts: 120 })).toMatchObject({ deviation: "UL 1026", device: "UL 489" });
    await save({ version: "1" });
    expect(await allowed()).toBe(320);
  });
});
