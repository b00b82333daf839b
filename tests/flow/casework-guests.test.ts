import sharp from "sharp";
import { afterAll, afterEach, beforeAll, expect, it, vi } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { Refused } from "@/lib/access/refusal";
import { addAttachment, takeBackAttachment } from "@/lib/documents/attachments";
import { addFileByGuest, filesForGuest, openForGuest } from "@/lib/documents/guest-files";
import { escalateOverdue } from "@/lib/jobs/escalation";
import { addAppliance, editAppliance } from "@/lib/registry/appliance";
import { applianceForm } from "@/lib/registry/appliance-form";
import { changeState } from "@/lib/registry/appliance-state";
import { checkFromOutside, inviteGuest, readCase, reportWork } from "@/lib/registry/case-link";
import { stateDueDays, viewDueDays } from "@/lib/registry/due-days";
import { watchFinding } from "@/lib/registry/finding-watch";
import { placeHold, releaseHold } from "@/lib/registry/hold";
import { reportIncident } from "@/lib/registry/incident";
import { openFindingByHand } from "@/lib/registry/open-finding";
import { viewSiteHolds } from "@/lib/registry/site-holds";
import { takeStep } from "@/lib/registry/take-step";
import type { Store } from "@/lib/store/client";
import { setSiteDueDays } from "@/lib/store/due-days-queries";
import { findingHistory } from "@/lib/store/finding-queries";
import { newId } from "@/lib/store/ids";
import { verifyRecord } from "@/lib/store/verify-record";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { eachDatabase } from "../support/database";
import { startMailServer, type TestMailServer } from "../support/mail-server";

const now = new Date("2026-03-02T12:00:00Z");
const later = (days: number) => new Date(now.getTime() + days * 86_400_000);
let post: TestMailServer;
beforeAll(async () => {
  post = await startMailServer();
});
afterAll(() => post.close());
afterEach(() => vi.unstubAllEnvs());

async function house(db: Store) {
  const { id: organisationId } = await makeOrganisation(db);
  const actor = await makeActor(db, organisationId);
  const { site } = await makeSite(db, organisationId);
  const { id, tag } = await addAppliance(db, actor, {
    fields: applianceForm.parse({ siteId: site.id, category: "kettle", brand: "Keldamar" }),
    now,
  });
  return { organisationId, actor, site, applianceId: id, tag };
}

function danger(db: Store, actor: Actor, tag: string, at = now) {
  const draft = { tag, siteId: "", outlet: "", signalWord: "DANGER" as const, sentence: "Its cord is bare.", formId: newId(), now: at };
  return openFindingByHand(db, actor, draft);
}

async function step(
  db: Store,
  actor: Actor,
  findingId: string,
  what: Partial<Parameters<typeof takeStep>[2]> & Pick<Parameters<typeof takeStep>[2], "step">,
) {
  const { version } = await db.finding.findUniqueOrThrow({ where: { id: findingId } });
  return takeStep(db, actor, { findingId, version, text: "", now, ...what });
}

const photo = () =>
  sharp({ create: { width: 40, height: 30, channels: 3, background: "#7a5" } })
    .png()
    .toBuffer();

eachDatabase("people from outside", (open) => {
  it("a danger of the only person is closed after a checker from outside agreed, and no sooner", async () => {
    const { db, close } = await open();
    const { actor, tag, organisationId } = await house(db);
    const { id } = await danger(db, actor, tag);
    await step(db, actor, id, { step: "record_proof", text: "Receipt 12, in the file." });
    const end = { step: "close", outcome: "repaired", evidence: "Receipt 12" } as const;
    await expect(step(db, actor, id, end)).rejects.toThrow(/checker from outside/);
    const first = await inviteGuest(db, actor, { findingId: id, guest: "outside_checker", name: "T. Rabe", now });
    const seen = await readCase(db, "outside_checker", { token: first.token, now });
    expect(seen).toMatchObject({ name: "T. Rabe", organisation: "Linden Estates", lines: [{ text: "Receipt 12, in the file." }] });
    await expect(checkFromOutside(db, { token: first.token, agrees: true, text: " ", now })).rejects.toThrow(/sentence/);
    await checkFromOutside(db, { token: first.token, agrees: false, text: "The photo shows another cord.", now });
    await expect(checkFromOutside(db, { token: first.token, agrees: true, text: "Again", now })).rejects.toThrow(/used already/);
    await expect(step(db, actor, id, end)).rejects.toThrow(/checker from outside/);
    const second = await inviteGuest(db, actor, { findingId: id, guest: "outside_checker", name: "T. Rabe", now });
    await checkFromOutside(db, { token: second.token, agrees: true, text: "New photo seen.", now });
    await step(db, actor, id, { step: "record_proof", text: "Another receipt, that nobody checked." });
    await expect(step(db, actor, id, end)).rejects.toThrow(/checker from outside/);
    const third = await inviteGuest(db, actor, { findingId: id, guest: "outside_checker", name: "T. Rabe", now });
    await checkFromOutside(db, { token: third.token, agrees: true, text: "Both seen.", now });
    await step(db, actor, id, end);
    await expect(inviteGuest(db, actor, { findingId: id, guest: "contractor", name: "X", now })).rejects.toThrow(/closed/);
    expect(await verifyRecord(db, organisationId)).toMatchObject({ broken: null });
    await close();
  });

  it("a contractor sees one finding only, brings photos without metadata, and the report of done work is proof", async () => {
    const { db, close } = await open();
    const { actor, tag, organisationId } = await house(db);
    const inspector = await makeActor(db, organisationId, "inspector");
    const { id } = await danger(db, actor, tag);
    const other = await danger(db, actor, tag);
    const { token } = await inviteGuest(db, actor, { findingId: id, guest: "contractor", name: "Falk Electric", now });
    const ask = { kind: "contractor" as const, token, now };
    const hidden = await addAttachment(db, actor, {
      subject: { kind: "finding", id: other.id },
      bytes: await photo(),
      fileName: "a.png",
      note: "",
      now,
    });
    const brought = await addFileByGuest(db, ask, { bytes: await photo(), fileName: "cord.png", note: "The new cord" });
    expect(await filesForGuest(db, ask)).toMatchObject([{ id: brought.id, source: expect.stringMatching(/^link /) as string }]);
    expect((await openForGuest(db, ask, { id: brought.id, size: "small" })).attachment.note).toBe("The new cord");
    await expect(openForGuest(db, ask, { id: hidden.id, size: "whole" })).rejects.toThrow(/no such file/);
    await expect(addFileByGuest(db, { ...ask, token: "x".repeat(43) }, { bytes: await photo(), fileName: "a", note: "" })).rejects.toThrow(
      /not one of ours/,
    );
    await expect(readCase(db, "outside_checker", { token, now })).rejects.toThrow(/not one of ours/);
    await reportWork(db, { token, text: "Came, part ordered.", done: false, now });
    await reportWork(db, { token, text: "New cord fitted and tested.", done: true, now });
    await expect(readCase(db, "contractor", { token, now })).rejects.toThrow(/used already/);
    expect((await findingHistory(db, id)).map((line) => line.step)).toEqual(["opened", "guest_invited", "note", "record_proof"]);
    await step(db, inspector, id, { step: "close", outcome: "repaired", evidence: "Report and photo" });
    const surveyor = await makeActor(db, organisationId, "surveyor");
    await expect(inviteGuest(db, surveyor, { findingId: other.id, guest: "outside_checker", name: "X", now })).rejects.toThrow(Refused);
    await expect(inviteGuest(db, actor, { findingId: other.id, guest: "contractor", name: " ", now })).rejects.toThrow(/who gets/);
    await close();
  });
});

eachDatabase("overdue findings", (open) => {
  it("are told of once for each due date, to owner, watchers and who runs the site", async () => {
    vi.stubEnv("PLATEWARDEN_SMTP_URL", post.url);
    vi.stubEnv("PLATEWARDEN_MAIL_FROM", "plates@linden.example");
    vi.stubEnv("PLATEWARDEN_URL", "https://plates.linden.example");
    const { db, close } = await open();
    const { actor, tag, organisationId, site } = await house(db);
    const watcher = await makeActor(db, organisationId, "surveyor");
    const elsewhere = await makeSite(db, organisationId, "Birch House");
    await makeActor(db, organisationId, "manager", [elsewhere.site.id]);
    const { id } = await danger(db, actor, tag);
    await watchFinding(db, watcher, { findingId: id, on: true, now });
    await escalateOverdue(db, later(0.5));
    expect(await db.outgoingMessage.count()).toBe(0);
    await escalateOverdue(db, later(1.5));
    await escalateOverdue(db, later(1.6));
    const mails = await db.outgoingMessage.findMany();
    const emailOf = async (userId: string | null) => (await db.user.findUniqueOrThrow({ where: { id: userId ?? "" } })).email;
    expect(mails.map(({ toAddress }) => toAddress).sort()).toEqual([await emailOf(actor.userId), await emailOf(watcher.userId)].sort());
    expect(mails[0]).toMatchObject({
      subject: "DANGER, overdue: Its cord is bare.",
      text: expect.stringContaining(`https://plates.linden.example/findings/${id}`) as string,
    });
    expect((await findingHistory(db, id)).filter((line) => line.step === "overdue")).toHaveLength(1);
    await step(db, actor, id, { step: "set_due", text: "The electrician comes.", dueAt: later(3), now: later(2) });
    await escalateOverdue(db, later(2.5));
    expect((await findingHistory(db, id)).filter((line) => line.step === "overdue")).toHaveLength(1);
    await watchFinding(db, watcher, { findingId: id, on: false, now });
    await escalateOverdue(db, later(4));
    expect((await findingHistory(db, id)).filter((line) => line.step === "overdue")).toHaveLength(2);
    expect(await db.outgoingMessage.count()).toBe(3);
    await setSiteDueDays(db, site, { DANGER: 3, WARNING: 7, CAUTION: 30, NOTICE: 90 }, now);
    const slow = await danger(db, actor, tag);
    expect((await db.finding.findUniqueOrThrow({ where: { id: slow.id } })).dueAt).toEqual(later(3));
    await close();
  });
});

eachDatabase("an incident", (open) => {
  it("puts the appliance out of use, opens a danger, and freezes everything about it until the hold is released", async () => {
    const { db, close } = await open();
    const { actor, applianceId, organisationId, tag } = await house(db);
    const inspector = await makeActor(db, organisationId, "inspector");
    const kept = await addAttachment(db, actor, {
      subject: { kind: "appliance", id: applianceId },
      bytes: await photo(),
      fileName: "a.png",
      note: "",
      now,
    });
    const report = {
      applianceId,
      kind: "smoke" as const,
      at: now,
      text: "Smoke from the base.",
      injured: false,
      reportedTo: "Fire service",
      now,
    };
    await expect(reportIncident(db, actor, { ...report, text: " " })).rejects.toThrow(/what happened/);
    await expect(reportIncident(db, actor, { ...report, at: later(1) })).rejects.toThrow(/after now/);
    const { findingId } = await reportIncident(db, actor, report);
    const appliance = await db.appliance.findUniqueOrThrow({ where: { id: applianceId } });
    expect(appliance.state).toBe("out_of_use");
    expect(await db.finding.findUniqueOrThrow({ where: { id: findingId } })).toMatchObject({
      signalWord: "DANGER",
      sentence: expect.stringContaining("smoke") as string,
    });
    const incident = await db.incident.findFirstOrThrow();
    expect(incident.frozen).toMatchObject({ appliance: { tag, state: "in_use", brand: "Keldamar" }, files: [{ id: kept.id }] });
    const fields = applianceForm.parse({ siteId: appliance.siteId, tag, brand: "Other", category: "kettle" });
    await expect(editAppliance(db, actor, { id: applianceId, version: appliance.version, fields, now })).rejects.toThrow(/under a hold/);
    await expect(changeState(db, actor, { id: applianceId, state: "retired", reason: "gone", now })).rejects.toThrow(/hold/);
    await expect(takeBackAttachment(db, actor, { id: kept.id, why: "wrong", now })).rejects.toThrow(/hold/);
    await step(db, actor, findingId, { step: "record_proof", text: "Report 7." });
    const end = { step: "close", outcome: "removed", evidence: "Report 7" } as const;
    await expect(step(db, inspector, findingId, end)).rejects.toThrow(/hold/);
    const hold = await db.hold.findFirstOrThrow();
    await expect(releaseHold(db, inspector, { id: hold.id, why: "done", now })).rejects.toThrow(Refused);
    await expect(releaseHold(db, actor, { id: hold.id, why: "", now })).rejects.toThrow(/why/);
    await releaseHold(db, actor, { id: hold.id, why: "The insurer's letter of today", now });
    await expect(releaseHold(db, actor, { id: hold.id, why: "again", now })).rejects.toThrow(/already/);
    await step(db, inspector, findingId, end);
    expect(await verifyRecord(db, organisationId)).toMatchObject({ broken: null });
    await close();
  });

  it("a hold that is sent twice is placed once", async () => {
    const { db, close } = await open();
    const { actor, site } = await house(db);
    const wish = { kind: "site", id: site.id, now } as const;
    const { id } = await placeHold(db, actor, { ...wish, why: "Court order 3" });
    expect(await placeHold(db, actor, { ...wish, why: "Court order 3 " })).toEqual({ id });
    expect((await placeHold(db, actor, { ...wish, why: "The insurer's letter" })).id).not.toBe(id);
    expect(await db.recordEntry.count({ where: { what: "hold placed" } })).toBe(2);
    await close();
  });

  it("a hold on a site holds its appliances, and nobody of another organisation can place one", async () => {
    const { db, close } = await open();
    const { actor, applianceId, site } = await house(db);
    await placeHold(db, actor, { kind: "site", id: site.id, why: "Court order 3", now });
    await expect(changeState(db, actor, { id: applianceId, state: "retired", reason: "gone", now })).rejects.toThrow(/The whole site/);
    await changeState(db, actor, { id: applianceId, state: "out_of_use", reason: "safer", now });
    const inspector = await makeActor(db, actor.organisationId, "inspector");
    const live = await viewSiteHolds(db, inspector, site.id);
    expect(live).toMatchObject({ appliances: 1, live: [{ why: "Court order 3" }], released: [] });
    await expect(releaseHold(db, inspector, { id: live.live[0]!.id, why: "done", now })).rejects.toThrow(Refused);
    await releaseHold(db, actor, { id: live.live[0]!.id, why: "Order lifted", now: later(1) });
    expect(await viewSiteHolds(db, inspector, site.id)).toMatchObject({ live: [], released: [{ releasedWhy: "Order lifted" }] });
    const stranger = await makeActor(db, (await makeOrganisation(db)).id);
    await expect(placeHold(db, stranger, { kind: "site", id: site.id, why: "x", now })).rejects.toThrow(/no such thing/);
    await close();
  });
});

eachDatabase("due days of a site", (open) => {
  it("are stated by who may, in the order of the words, and hold for findings opened afterwards", async () => {
    const { db, close } = await open();
    const { actor, organisationId, site, tag } = await house(db);
    const surveyor = await makeActor(db, organisationId, "surveyor");
    expect(await viewDueDays(db, surveyor, site.id)).toMatchObject({ isOwn: false, days: { DANGER: 1 } });
    const days = { DANGER: 2, WARNING: 5, CAUTION: 20, NOTICE: 60 };
    const state = (by: Actor, given: typeof days) => stateDueDays(db, by, { siteId: site.id, days: given, now });
    await expect(state(surveyor, days)).rejects.toThrow(Refused);
    await expect(state(actor, { ...days, DANGER: 8 })).rejects.toMatchObject({ fields: { DANGER: "Give whole days from 1 to 7." } });
    await expect(state(actor, { ...days, WARNING: 1 })).rejects.toMatchObject({
      fields: { WARNING: "WARNING cannot be due before DANGER." },
    });
    await expect(state(actor, { ...days, NOTICE: 1.5 })).rejects.toThrow(/whole days/);
    await state(actor, days);
    expect(await viewDueDays(db, surveyor, site.id)).toMatchObject({ isOwn: true, days });
    const { id } = await danger(db, actor, tag);
    expect((await db.finding.findUniqueOrThrow({ where: { id } })).dueAt).toEqual(later(2));
    await close();
  });
});
