import { expect, it } from "vitest";
import { addAppliance } from "@/lib/registry/appliance";
import { applianceForm } from "@/lib/registry/appliance-form";
import { saveCircuitPlace, saveOutletPlace, saveSitePlace, saveUnitPlace } from "@/lib/registry/place";
import { listSites, viewSite } from "@/lib/registry/place-building";
import { circuitForm, outletForm, siteForm, unitForm } from "@/lib/registry/place-form";
import { viewPlaces } from "@/lib/registry/place-plan";
import { makeActor, makeOrganisation, makeSite } from "../../seed/builders";
import { eachDatabase } from "../support/database";

const now = new Date("2026-03-02T12:00:00Z");

eachDatabase("places", (open) => {
  it("are laid out by form from the site down to the outlet, each with its record entry", async () => {
    const { db, close } = await open();
    const { id: organisationId } = await makeOrganisation(db);
    const actor = await makeActor(db, organisationId);
    const site = await saveSitePlace(db, actor, {
      ...siteForm.parse({ name: " Alder  House ", timeZone: "America/Chicago", nominalVolts: "120" }),
      now,
    });
    const siteId = site.id;
    const unit = await saveUnitPlace(db, actor, { ...unitForm.parse({ siteId, name: "0704" }), now });
    const circuit = await saveCircuitPlace(db, actor, {
      ...circuitForm.parse({ siteId, unitId: unit.id, name: "7D-2", deviceAmps: "15", volts: "120", leg: "1" }),
      now,
    });
    const plugs = { siteId, unitId: unit.id, circuitId: circuit.id, name: "7D-04", outletAmps: "15", receptacles: "2" };
    await saveOutletPlace(db, actor, { ...outletForm.parse(plugs), now });
    const plan = await viewPlaces(db, actor, { siteId, unitId: unit.id });
    expect(plan.site).toMatchObject({ name: "Alder House", nameKey: "alder house", timeZone: "America/Chicago", nominalVolts: 120 });
    expect(plan.circuits).toMatchObject([{ name: "7D-2", deviceAmps: 15, volts: 120, leg: "1" }]);
    expect(plan.outlets).toMatchObject([{ name: "7D-04", outletAmps: 15, receptacles: 2, circuitId: circuit.id }]);
    const entries = await db.recordEntry.findMany({ where: { organisationId }, orderBy: { number: "asc" } });
    expect(entries.map((entry) => entry.what)).toEqual(["site added", "unit added", "circuit added", "outlet added"]);
    expect(await listSites(db, actor)).toMatchObject([{ counts: { units: 1, circuits: 1, outlets: 1, appliances: 0 } }]);
    await close();
  });

  it("refuse a name that is taken, also in other letters, and a place of another site", async () => {
    const { db, close } = await open();
    const { id: organisationId } = await makeOrganisation(db);
    const actor = await makeActor(db, organisationId);
    const here = await makeSite(db, organisationId);
    const there = await makeSite(db, organisationId, "Birch House");
    const siteId = here.site.id;
    await expect(saveSitePlace(db, actor, { ...siteForm.parse({ name: "BIRCH house" }), now })).rejects.toMatchObject({
      fields: { name: expect.any(String) },
    });
    await expect(saveUnitPlace(db, actor, { ...unitForm.parse({ siteId, name: "0101" }), now })).rejects.toThrow("already is a unit");
    const outlet = (given: object) =>
      saveOutletPlace(db, actor, { ...outletForm.parse({ siteId, name: "new", receptacles: 2, ...given }), now });
    await expect(outlet({ name: there.outlets[0]?.name })).rejects.toThrow("in this organisation");
    await expect(outlet({ circuitId: there.circuit.id })).rejects.toThrow("not there any more");
    await expect(outlet({ unitId: there.unit.id })).rejects.toThrow("not there any more");
    expect(await db.outlet.count({ where: { siteId } })).toBe(2);
    await close();
  });

  it("take what is plugged in along when an outlet is said to be in another unit", async () => {
    const { db, close } = await open();
    const { id: organisationId } = await makeOrganisation(db);
    const actor = await makeActor(db, organisationId);
    const { site, outlets, circuit } = await makeSite(db, organisationId);
    const outlet = outlets[0];
    if (!outlet) throw new Error("The builder makes outlets.");
    const siteId = site.id;
    const { id } = await addAppliance(db, actor, { fields: applianceForm.parse({ siteId, outlet: outlet.name, receptacle: "1" }), now });
    const unit = await saveUnitPlace(db, actor, { ...unitForm.parse({ siteId, name: "0102" }), now });
    const moved = { id: outlet.id, siteId, unitId: unit.id, circuitId: circuit.id, name: outlet.name, outletAmps: 15, receptacles: 2 };
    await saveOutletPlace(db, actor, { ...outletForm.parse(moved), now });
    expect(await db.appliance.findUnique({ where: { id } })).toMatchObject({ unitId: unit.id, outletId: outlet.id });
    expect(await db.placement.findMany({ where: { applianceId: id } })).toMatchObject([{ unitId: unit.id, toAt: null }]);
    await close();
  });

  it("work the limits of pair plates out again when the site's voltage is another", async () => {
    const { db, close } = await open();
    const { id: organisationId } = await makeOrganisation(db);
    const actor = await makeActor(db, organisationId);
    const { site } = await makeSite(db, organisationId);
    const change = (nominalVolts: string) =>
      saveSitePlace(db, actor, { ...siteForm.parse({ id: site.id, name: site.name, timeZone: "America/Chicago", nominalVolts }), now });
    await change("240");
    const fields = applianceForm.parse({ siteId: site.id, category: "heater", labelText: "240/208V 4500/3380W" });
    const { id } = await addAppliance(db, actor, { fields, now });
    const input = async () => (await db.appliance.findUniqueOrThrow({ where: { id } })).inputWatts;
    expect(await input()).toBe(4500);
    await change("208");
    expect(await input()).toBe(3380);
    await close();
  });

  it("show each circuit's largest load of the last hour against its device, and what is open by unit", async () => {
    const { db, close } = await open();
    const { id: organisationId } = await makeOrganisation(db);
    const actor = await makeActor(db, organisationId);
    const { site, unit, circuit, outlets } = await makeSite(db, organisationId);
    const minute = (n: number) => new Date(now.getTime() + n * 60_000);
    const draw = (outlet: number, receptacle: string, n: number, row: object) => ({
      organisationId,
      outletId: outlets[outlet]?.id ?? "",
      receptacle,
      at: minute(n),
      readings: 6,
      ...row,
    });
    await db.drawMinute.createMany({
      data: [
        draw(0, "1", -120, { meanAmps: 30 }),
        draw(0, "1", 0, { meanAmps: 9 }),
        draw(1, "2", 0, { meanWatts: 840, meanVolts: 120 }),
        draw(0, "1", 1, { meanAmps: 4 }),
      ],
    });
    const danger = { key: "k", cause: "circuit_overload", circuitId: circuit.id, siteId: site.id, signalWord: "DANGER", sentence: "Over." };
    await db.finding.create({
      data: { id: "f", organisationId, ...danger, state: "open", evidence: {}, openedAt: now, refreshedAt: now, dueAt: now },
    });
    const view = await viewSite(db, actor, site.id);
    expect(view.upTo).toEqual(minute(1));
    expect(view.circuits[0]?.amps).toBeCloseTo(16, 6);
    expect(view.circuits[0]?.share).toBeCloseTo(16 / 15, 6);
    expect(view.open.DANGER).toBe(1);
    expect(view.floors).toMatchObject([{ name: "1", units: [{ id: unit.id, word: "DANGER", sentence: "Over." }] }]);
    await close();
  });

  it("are changed by managers only, and sites are added only by who sees all of them", async () => {
    const { db, close } = await open();
    const { id: organisationId } = await makeOrganisation(db);
    const { site } = await makeSite(db, organisationId);
    const surveyor = await makeActor(db, organisationId, "surveyor");
    await expect(saveUnitPlace(db, surveyor, { ...unitForm.parse({ siteId: site.id, name: "x" }), now })).rejects.toThrow(
      "may not edit places",
    );
    const limited = await makeActor(db, organisationId, "manager", [site.id]);
    await expect(saveSitePlace(db, limited, { ...siteForm.parse({ name: "New" }), now })).rejects.toThrow("sees all sites");
    const other = await makeSite(db, organisationId, "Birch House");
    await expect(viewSite(db, limited, other.site.id)).rejects.toThrow("not at this site");
    expect((await listSites(db, limited)).map((line) => line.site.name)).toEqual([site.name]);
    await close();
  });
});
