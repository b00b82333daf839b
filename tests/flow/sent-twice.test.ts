import { afterEach, beforeEach, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { addAppliance } from "@/lib/registry/appliance";
import { applianceForm } from "@/lib/registry/appliance-form";
import { addDemandEvent, demandForm } from "@/lib/registry/demand-response";
import { addLimit, limitForm } from "@/lib/registry/energy-limit";
import { reportIncident } from "@/lib/registry/incident";
import { addTariff, tariffForm } from "@/lib/registry/tariff";
import { newId } from "@/lib/store/ids";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { eachDatabase, type FreshDatabase } from "../support/database";

const now = new Date("2026-03-02T10:00:00Z");

eachDatabase("A form that is sent twice", (open) => {
  let fresh: FreshDatabase;
  let actor: Actor;
  let siteId: string;

  beforeEach(async () => {
    fresh = await open();
    const { id } = await makeOrganisation(fresh.db);
    actor = await makeActor(fresh.db, id, "administrator");
    siteId = (await makeSite(fresh.db, id)).site.id;
  });
  afterEach(() => fresh.close());

  /** Sends it twice; the answers are the same, and the second leaves nothing in the record. */
  async function twice<T>(send: () => Promise<T>): Promise<T> {
    const first = await send();
    const entries = await fresh.db.recordEntry.count();
    expect(await send()).toEqual(first);
    expect(await fresh.db.recordEntry.count()).toBe(entries);
    return first;
  }

  test("adds one appliance, with one tag", async () => {
    const fields = applianceForm.parse({ siteId, brand: "Keldamar", category: "kettle" });
    const formId = newId();
    const { id } = await twice(() => addAppliance(fresh.db, actor, { fields, formId, now }));
    expect(id).toBe(formId);
    expect([await fresh.db.appliance.count(), await fresh.db.tagCode.count()]).toEqual([1, 1]);
    await addAppliance(fresh.db, actor, { fields, formId: newId(), now });
    expect(await fresh.db.appliance.count()).toBe(2);
  });

  test("reports one incident, with one hold and one danger", async () => {
    const fields = applianceForm.parse({ siteId, brand: "Keldamar", category: "kettle" });
    const { id: applianceId } = await addAppliance(fresh.db, actor, { fields, now });
    const report = { applianceId, kind: "smoke" as const, at: now, text: "Smoke.", injured: false, reportedTo: "", formId: newId(), now };
    await twice(() => reportIncident(fresh.db, actor, report));
    expect([await fresh.db.incident.count(), await fresh.db.hold.count(), await fresh.db.finding.count()]).toEqual([1, 1, 1]);
  });

  test("adds one tariff, one use limit and one demand event", async () => {
    const { db } = fresh;
    const tariff = tariffForm.parse({ siteId, formId: newId(), name: "Day", currency: "USD", validFrom: "2026-01-01", base: "0.2" });
    await twice(() => addTariff(db, actor, { ...tariff, now }));
    const about = { about: `site:${siteId}`, kilowattHours: "12", fromHour: 0, toHour: 24, days: "every day", signalWord: "NOTICE" };
    const limit = limitForm.parse({ siteId, formId: newId(), validFrom: "2026-01-01", ...about });
    await twice(() => addLimit(db, actor, { ...limit, now }));
    const event = demandForm.parse({ siteId, formId: newId(), name: "Heat", day: "2026-02-02", fromHour: 16, toHour: 18, similarDays: 5 });
    await twice(() => addDemandEvent(db, actor, { ...event, now }));
    expect([await db.energyTariff.count(), await db.energyLimit.count(), await db.demandEvent.count()]).toEqual([1, 1, 1]);
  });
});
