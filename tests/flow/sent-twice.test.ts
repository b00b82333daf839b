import { afterEach, beforeEach, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { createApiKey } from "@/lib/access/api-keys";
import { findInvitations, invitePerson, readInvitation } from "@/lib/access/invitation";
import { loadNotices } from "@/lib/notices/notices.run";
import { addAppliance } from "@/lib/registry/appliance";
import { applianceForm } from "@/lib/registry/appliance-form";
import { inviteGuest, readCase } from "@/lib/registry/case-link";
import { correctCoverage, withdrawCorrection } from "@/lib/registry/coverage-correction";
import { addDemandEvent, demandForm } from "@/lib/registry/demand-response";
import { addLimit, limitForm } from "@/lib/registry/energy-limit";
import { reportIncident } from "@/lib/registry/incident";
import { addCompetence, competenceForm } from "@/lib/registry/inspection-competence";
import { addCalibration, addInstrument, calibrationForm, instrumentForm } from "@/lib/registry/instrument";
import { addAlias, withdrawAlias } from "@/lib/registry/maker-alias";
import { openFindingByHand } from "@/lib/registry/open-finding";
import { addTariff, tariffForm } from "@/lib/registry/tariff";
import { startTenancy } from "@/lib/registry/tenancy";
import { newId } from "@/lib/store/ids";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { asFile, plainList } from "@/seed/recall-builders";
import { eachDatabase, type FreshDatabase } from "../support/database";

const now = new Date("2026-03-02T10:00:00Z");

eachDatabase("A form that is sent twice", (open) => {
  let fresh: FreshDatabase;
  let actor: Actor;
  let siteId: string;
  let unitId: string;

  beforeEach(async () => {
    fresh = await open();
    const { id } = await makeOrganisation(fresh.db);
    actor = await makeActor(fresh.db, id, "administrator");
    const { site, unit } = await makeSite(fresh.db, id);
    [siteId, unitId] = [site.id, unit.id];
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

  /** Sends a form for a secret twice: the second sending is told, gets no secret, and leaves nothing in the record. */
  async function secretOnce<T extends { readonly token: string }>(send: () => Promise<T>): Promise<T> {
    const first = await send();
    const entries = await fresh.db.recordEntry.count();
    await expect(send()).rejects.toMatchObject({ code: "already_there", message: expect.stringContaining("by the first sending") });
    expect(await fresh.db.recordEntry.count()).toBe(entries);
    return first;
  }

  test("makes one API key, and shows no second secret for it", async () => {
    const { db } = fresh;
    const key = { siteId, name: "gateway", formId: newId(), now };
    const { id } = await secretOnce(() => createApiKey(db, actor, key));
    const kept = await db.apiKey.findUniqueOrThrow({ where: { id: key.formId } });
    expect(id).toBe(key.formId);
    await expect(createApiKey(db, actor, key)).rejects.toThrow("revoke the key");
    expect(await db.apiKey.findUniqueOrThrow({ where: { id } })).toEqual(kept);
    await createApiKey(db, actor, { ...key, formId: newId() });
    expect(await db.apiKey.count()).toBe(2);
  });

  test.each(["contractor", "outside_checker"] as const)(
    "makes one link of a guest (%s), and shows no second secret for it",
    async (guest) => {
      const { db } = fresh;
      const seen = { tag: "", siteId, outlet: "", signalWord: "DANGER" as const, sentence: "Scorched.", formId: newId(), now };
      const { id: findingId } = await openFindingByHand(db, actor, seen);
      const form = { findingId, guest, name: "T. Rabe", formId: newId(), now };
      const { token } = await secretOnce(() => inviteGuest(db, actor, form));
      expect((await readCase(db, guest, { token, now })).name).toBe("T. Rabe");
      expect([await db.secretLink.count(), await db.findingNote.count({ where: { step: "guest_invited" } })]).toEqual([1, 1]);
    },
  );

  test("makes one invitation, which stays open", async () => {
    const { db } = fresh;
    const invited = { name: "Ada Fell", email: "ada@example.org", role: "surveyor" as const, sites: "all" as const };
    const form = { ...invited, formId: newId(), now };
    const { token } = await secretOnce(() => invitePerson(db, actor, form));
    expect((await readInvitation(db, { token, now })).email).toBe(invited.email);
    expect((await findInvitations(db, actor, now)).map(({ state }) => state)).toEqual(["open"]);
  });

  test("joins two makers' names once, and not again after they were parted", async () => {
    const { db } = fresh;
    const alias = { name: "Hearthside", otherName: "Keldamar", relation: "belongs" as const, origin: "A plate.", reason: "House brand." };
    const form = { ...alias, formId: newId(), now };
    const { id } = await twice(() => addAlias(db, actor, form));
    await withdrawAlias(db, actor, { aliasId: id, reason: "Wrong plate.", now });
    await addAlias(db, actor, form);
    expect([await db.makerAlias.count(), await db.makerAlias.count({ where: { withdrawnAt: null } })]).toEqual([1, 0]);
  });

  test("corrects a notice's coverage once, and not again after it was withdrawn", async () => {
    const { db } = fresh;
    const row = { source: "Office", number: "26-1", title: "Recall", brand: "Keldamar", product: "heater", models: "HT-15" };
    await loadNotices(db, actor, { source: asFile(plainList([row])), fileName: "list.csv", now });
    const { id: noticeId } = await db.notice.findFirstOrThrow();
    const wanted = { act: "add" as const, statement: { kind: "model" as const, pattern: "HT-17" }, passage: null };
    const form = { noticeId, wanted, reason: "Seen on the plate.", formId: newId(), now };
    const { id: correctionId } = await twice(() => correctCoverage(db, actor, form));
    await withdrawCorrection(db, actor, { noticeId, correctionId, reason: "Misread.", now });
    await correctCoverage(db, actor, form);
    expect([await db.coverageCorrection.count(), await db.coverageCorrection.count({ where: { withdrawnAt: null } })]).toEqual([1, 0]);
  });

  test("enters one occupant", async () => {
    const draft = { id: newId(), unitId, name: "Ada Fell", email: "", language: "en" as const, note: "", fromAt: now, now };
    await twice(() => startTenancy(fresh.db, actor, draft));
    expect(await fresh.db.tenancy.count()).toBe(1);
  });

  test("enters one competence, one instrument and one calibration", async () => {
    const { db } = fresh;
    const paper = { formId: newId(), userId: actor.userId, what: "Trained person", issuedBy: "Fell School", validUntil: "" };
    await twice(() => addCompetence(db, actor, { ...competenceForm.parse(paper), now }));
    const calibrated = { calibratedOn: "2026-01-01", validUntil: "2027-01-01" };
    const meter = instrumentForm.parse({ formId: newId(), make: "Aldric", serial: "A-1", ...calibrated });
    const { id: instrumentId } = await twice(() => addInstrument(db, actor, { ...meter, now }));
    const later = calibrationForm.parse({ formId: newId(), instrumentId, ...calibrated });
    await twice(() => addCalibration(db, actor, { ...later, now }));
    expect([await db.competence.count(), await db.instrument.count(), await db.calibration.count()]).toEqual([1, 1, 2]);
  });
});
