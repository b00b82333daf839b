import { expect, it } from "vitest";
import { Refused } from "@/lib/access/refusal";
import { checkNames } from "@/lib/casework/inspection-checklist";
import { addAppliance } from "@/lib/registry/appliance";
import { applianceForm } from "@/lib/registry/appliance-form";
import { recordInspection } from "@/lib/registry/inspection";
import { addCompetence, competenceForm, withdrawCompetence } from "@/lib/registry/inspection-competence";
import { exportInspections, inspectionColumns } from "@/lib/registry/inspection-export";
import { inspectionForm } from "@/lib/registry/inspection-form";
import { inspectionPolicyForm, listInspectionPolicies, saveInspectionPolicy } from "@/lib/registry/inspection-policy";
import { findByTag, getInspection, inspectionSheet } from "@/lib/registry/inspection-sheet";
import {
  addCalibration,
  addInstrument,
  calibrationForm,
  instrumentForm,
  listInstruments,
  putInstrumentAway,
} from "@/lib/registry/instrument";
import { planRound, roundQuery } from "@/lib/registry/round";
import type { Store } from "@/lib/store/client";
import { findingHistory } from "@/lib/store/finding-queries";
import { newId } from "@/lib/store/ids";
import { verifyRecord } from "@/lib/store/verify-record";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { eachDatabase } from "../support/database";

const now = new Date("2026-03-02T12:00:00Z");
const later = (days: number) => new Date(now.getTime() + days * 86_400_000);

/** A house with a competent inspector and a calibrated instrument. */
async function house(db: Store) {
  const { id: organisationId } = await makeOrganisation(db);
  const manager = await makeActor(db, organisationId);
  const inspector = await makeActor(db, organisationId, "inspector");
  const { site, unit, outlets } = await makeSite(db, organisationId);
  const fields = { siteId: site.id, category: "kettle", brand: "Keldamar", model: "KD-7", unit: unit.name, ratedWatts: "1500" };
  const { id: applianceId, tag } = await addAppliance(db, manager, { fields: applianceForm.parse(fields), now });
  const paper = { userId: inspector.userId, what: "Inspection course", issuedBy: "Trade school", validUntil: "2027-01-31" };
  const competence = await addCompetence(db, manager, { ...competenceForm.parse(paper), now });
  const meter = { make: "Ohmar", model: "T2", serial: "0042", calibratedOn: "2026-01-10", validUntil: "2027-01-10" };
  const instrument = await addInstrument(db, manager, { ...instrumentForm.parse(meter), now });
  return { organisationId, manager, inspector, site, outlets, applianceId, tag, competence, instrument };
}

const allPass = checkNames.map((name) => ({ name, verdict: "pass", note: "" }));
const good = {
  conductorOhms: 0.12,
  insulationMegohms: 50,
  conductorMilliamps: 0.2,
  touchMilliamps: null,
  polarity: "pass",
  functional: "pass",
};

function formOf(applianceId: string, instrumentId: string | null, given: object = {}) {
  return inspectionForm.parse({
    formId: newId(),
    applianceId,
    at: now.toISOString(),
    environment: "workshop",
    protectionClass: "I",
    cordMetres: 2,
    checklist: allPass,
    measured: good,
    instrumentIds: instrumentId === null ? [] : [instrumentId],
    signedName: "Robin",
    ...given,
  });
}

eachDatabase("inspections", (open) => {
  it("a complete one that finds nothing passes, sets the next date, and is recorded once however often it is sent", async () => {
    const { db, close } = await open();
    const { inspector, applianceId, instrument, organisationId } = await house(db);
    const form = formOf(applianceId, instrument.id);
    const [first, second] = await Promise.all([
      recordInspection(db, inspector, { form, now }),
      recordInspection(db, inspector, { form, now: later(1) }),
    ]);
    expect(first).toMatchObject({ result: "pass", findingId: null });
    expect(second.id).toBe(first.id);
    expect(await recordInspection(db, inspector, { form, now: later(2) })).toMatchObject({ id: first.id, again: true });
    expect(await db.inspection.count()).toBe(1);
    const row = await db.inspection.findFirstOrThrow();
    // AS/NZS 3760:2010 Table 4: factory and workshop, Class I, 6 months.
    expect(row.nextDueAt?.toISOString()).toBe("2026-09-02T00:00:00.000Z");
    expect(row).toMatchObject({ instruments: [{ serial: "0042" }], competence: [{ what: "Inspection course" }] });
    expect(await verifyRecord(db, organisationId)).toMatchObject({ broken: null });
    await close();
  });

  it("a fail opens a danger and takes the appliance out of use at once; the next fail refreshes it, a pass is told to it", async () => {
    const { db, close } = await open();
    const { inspector, applianceId, instrument, organisationId } = await house(db);
    const bad = { measured: { ...good, conductorOhms: 1.4 }, takeOutOfUse: true };
    const { findingId, result } = await recordInspection(db, inspector, { form: formOf(applianceId, instrument.id, bad), now });
    expect(result).toBe("fail");
    const finding = await db.finding.findUniqueOrThrow({ where: { id: findingId ?? "" } });
    expect(finding).toMatchObject({ signalWord: "DANGER", state: "out_of_use", applianceId });
    expect(finding.sentence).toMatch(/Protective conductor 1.4 ohm/);
    expect((await db.appliance.findUniqueOrThrow({ where: { id: applianceId } })).state).toBe("out_of_use");
    const again = formOf(applianceId, instrument.id, {
      at: later(1).toISOString(),
      checklist: allPass.map((one) => (one.name === "cord" ? { ...one, verdict: "fail", note: "taped" } : one)),
    });
    expect((await recordInspection(db, inspector, { form: again, now: later(1) })).findingId).toBe(findingId);
    await recordInspection(db, inspector, { form: formOf(applianceId, instrument.id, { at: later(2).toISOString() }), now: later(2) });
    expect((await findingHistory(db, findingId ?? "")).map(({ step }) => step)).toEqual(["opened", "take_out_of_use", "retest"]);
    expect(await verifyRecord(db, organisationId)).toMatchObject({ broken: null });
    await close();
  });

  it("expired papers are marked: what would pass is limited and moves no date, what fails still fails", async () => {
    const { db, close } = await open();
    const { inspector, manager, applianceId, instrument, competence } = await house(db);
    const at = later(400);
    const send = (given: object) =>
      recordInspection(db, inspector, { form: formOf(applianceId, instrument.id, { at: at.toISOString(), ...given }), now: at });
    const { id, result } = await send({});
    expect(result).toBe("limited");
    const row = await db.inspection.findUniqueOrThrow({ where: { id } });
    expect(row.reasons).toEqual([
      "The inspector's competence had expired: Inspection course.",
      "The calibration of Ohmar 0042 had expired on 2027-01-10.",
    ]);
    expect(row.nextDueAt).toBeNull();
    expect((await send({ measured: { ...good, polarity: "fail" } })).result).toBe("fail");
    const fresh = { instrumentId: instrument.id, calibratedOn: "2027-01-11", validUntil: "2028-01-11", certificate: "C-9" };
    await addCalibration(db, manager, { ...calibrationForm.parse(fresh), now: at });
    await withdrawCompetence(db, manager, { id: competence.id, why: "Course renewed", now: at });
    await addCompetence(db, manager, {
      ...competenceForm.parse({ userId: inspector.userId, what: "Licence", issuedBy: "State", validUntil: "" }),
      now: at,
    });
    expect((await send({})).result).toBe("pass");
    await putInstrumentAway(db, manager, { id: instrument.id, now: at });
    await expect(send({})).rejects.toThrow(/not in use any more/);
    expect(await listInstruments(db, inspector)).toEqual([]);
    await close();
  });

  it("is never edited: a correction names the wrong one, says why, and is made once", async () => {
    const { db, close } = await open();
    const { inspector, applianceId, instrument } = await house(db);
    const wrong = await recordInspection(db, inspector, { form: formOf(applianceId, instrument.id), now });
    const before = await db.inspection.findUniqueOrThrow({ where: { id: wrong.id } });
    const correct = (given: object = {}) =>
      recordInspection(db, inspector, {
        form: formOf(applianceId, instrument.id, {
          correctsId: wrong.id,
          correctionWhy: "Wrong appliance class",
          environment: "hostile",
          ...given,
        }),
        now: later(1),
      });
    await expect(correct({ correctionWhy: "" })).rejects.toThrow(/what was wrong/);
    await expect(correct({ correctsId: newId() })).rejects.toThrow(/not one of this appliance/);
    await correct();
    await expect(correct()).rejects.toThrow(/corrected already/);
    expect(await db.inspection.findUniqueOrThrow({ where: { id: wrong.id } })).toEqual(before);
    const due = await db.inspectionDue.findUniqueOrThrow({ where: { applianceId } });
    expect(due.lastInspectionId).not.toBe(wrong.id);
    // Table 4, hostile surroundings: 12 months.
    expect(due.dueAt?.toISOString().slice(0, 10)).toBe("2027-03-02");
    const sheet = await inspectionSheet(db, inspector, { applianceId, now: later(1) });
    expect(sheet.inspections.map(({ correctedById }) => correctedById !== null).sort()).toEqual([false, true]);
    await close();
  });

  it("an older one that arrives late does not take the place of a newer one", async () => {
    const { db, close } = await open();
    const { inspector, applianceId, instrument } = await house(db);
    const newer = await recordInspection(db, inspector, {
      form: formOf(applianceId, instrument.id, { at: later(5).toISOString() }),
      now: later(5),
    });
    await recordInspection(db, inspector, {
      form: formOf(applianceId, instrument.id, { measured: { ...good, functional: "fail" } }),
      now: later(6),
    });
    expect((await db.inspectionDue.findUniqueOrThrow({ where: { applianceId } })).lastInspectionId).toBe(newer.id);
    await close();
  });

  it("an earth figure of a Class II appliance, an unsigned form and a surveyor are refused with a sentence", async () => {
    const { db, close } = await open();
    const { inspector, applianceId, instrument, organisationId, site, tag } = await house(db);
    const send = (given: object) => recordInspection(db, inspector, { form: formOf(applianceId, instrument.id, given), now });
    await expect(send({ protectionClass: "II" })).rejects.toThrow(/no protective conductor/);
    expect(inspectionForm.safeParse({ ...formOf(applianceId, null), signedName: " " }).success).toBe(false);
    const surveyor = await makeActor(db, organisationId, "surveyor");
    await expect(recordInspection(db, surveyor, { form: formOf(applianceId, null), now })).rejects.toThrow(Refused);
    const birch = await makeSite(db, organisationId, "Birch House");
    const elsewhere = await makeActor(db, organisationId, "inspector", [birch.site.id]);
    await expect(recordInspection(db, elsewhere, { form: formOf(applianceId, null), now })).rejects.toThrow(Refused);
    await expect(findByTag(db, elsewhere, tag)).rejects.toThrow(/No appliance has the tag/);
    await expect(planRound(db, elsewhere, { query: roundQuery.parse({ site: site.id }), now })).rejects.toThrow(Refused);
    const stranger = await makeActor(db, (await makeOrganisation(db, "Other")).id);
    await expect(recordInspection(db, stranger, { form: formOf(applianceId, null), now })).rejects.toThrow(/not in the registry/);
    expect((await findByTag(db, inspector, ` https://pw.example/t/${tag} `)).id).toBe(applianceId);
    expect(await db.inspection.count()).toBe(0);
    await close();
  });

  it("a round lists what was never inspected and what is due in walking order, and counts what is done", async () => {
    const { db, close } = await open();
    const { inspector, manager, site, outlets, applianceId, instrument } = await house(db);
    const tags: string[] = [];
    for (const outlet of [outlets[1], outlets[0]]) {
      const fields = { siteId: site.id, unit: "0101", outlet: outlet?.name, receptacle: "upper", category: "lamp" };
      tags.push((await addAppliance(db, manager, { fields: applianceForm.parse(fields), now })).tag);
    }
    const plan = (given: object, at = later(1)) =>
      planRound(db, inspector, { query: roundQuery.parse({ site: site.id, ...given }), now: at });
    const round = await plan({});
    expect(round.stops.map(({ place }) => place.tag).slice(0, 2)).toEqual([tags[1], tags[0]]);
    expect(round).toMatchObject({ total: 3, done: 0, open: 3 });
    await recordInspection(db, inspector, { form: formOf(applianceId, instrument.id), now });
    expect(await plan({})).toMatchObject({ total: 2, done: 1, open: 2 });
    expect((await plan({ q: "kettle", show: "done" })).stops.map(({ lastResult }) => lastResult)).toEqual(["pass"]);
    expect((await plan({ show: "never" })).total).toBe(2);
    // Six months on, less 30 days, it is due again.
    expect((await plan({ q: "kettle" }, later(160))).stops).toMatchObject([{ state: "due" }]);
    expect((await plan({ q: "kettle", show: "overdue" }, later(190))).total).toBe(1);
    const policy = { siteId: site.id, version: 0, standard: "EN 50699", environment: "lodging", months: "", firstDays: 30 };
    await saveInspectionPolicy(db, manager, { ...inspectionPolicyForm.parse(policy), now });
    await expect(saveInspectionPolicy(db, manager, { ...inspectionPolicyForm.parse(policy), now })).rejects.toThrow(/meanwhile/);
    expect((await plan({}, later(-1))).stops.every(({ state }) => state === "later")).toBe(true);
    await close();
  });

  it("one is shown with its tag and zone, and with what a site inspects by, to whoever may see the site", async () => {
    const { db, close } = await open();
    const { inspector, organisationId, site, applianceId, instrument, tag } = await house(db);
    const { id, reasons, nextDueAt } = await recordInspection(db, inspector, { form: formOf(applianceId, instrument.id), now });
    expect({ reasons, nextDueAt }).toEqual({ reasons: [], nextDueAt: new Date("2026-09-02T00:00:00Z") });
    const shown = await getInspection(db, inspector, id);
    expect(shown).toMatchObject({ tag, timeZone: site.timeZone, one: { id, correctedById: null, who: inspector.name } });
    const birch = await makeSite(db, organisationId, "Birch House");
    const elsewhere = await makeActor(db, organisationId, "inspector", [birch.site.id]);
    await expect(getInspection(db, elsewhere, id)).rejects.toThrow(Refused);
    await expect(getInspection(db, inspector, newId())).rejects.toThrow(/no such inspection/);
    const stranger = await makeActor(db, (await makeOrganisation(db, "Other")).id, "inspector");
    await expect(getInspection(db, stranger, id)).rejects.toThrow(/no such inspection/);
    expect((await listInspectionPolicies(db, elsewhere)).map(({ site: { name } }) => name)).toEqual(["Birch House"]);
    expect(await listInspectionPolicies(db, stranger)).toEqual([]);
    expect(await listInspectionPolicies(db, inspector)).toHaveLength(2);
    await close();
  });

  it("the CSV holds every inspection with its checks and figures", async () => {
    const { db, close } = await open();
    const { inspector, site, applianceId, instrument, tag } = await house(db);
    await recordInspection(db, inspector, { form: formOf(applianceId, instrument.id, { notes: "=1+1" }), now });
    const rows: unknown[][] = [];
    for await (const page of exportInspections(db, inspector, undefined)) rows.push(...page);
    const elsewhere = await makeActor(db, (await db.organisation.findFirstOrThrow()).id, "inspector", []);
    expect(() => exportInspections(db, elsewhere, site.id)).toThrow(Refused);
    expect((await exportInspections(db, elsewhere, undefined).next()).done).toBe(true);
    const [row] = rows;
    const value = (name: string) => row?.[inspectionColumns.indexOf(name)];
    expect(rows).toHaveLength(1);
    expect(row).toHaveLength(inspectionColumns.length);
    expect([value("tag"), value("conductor_ohm"), value("check_cord"), value("notes")]).toEqual([tag, 0.12, "pass", "=1+1"]);
    await close();
  });
});
