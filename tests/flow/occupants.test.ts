import sharp from "sharp";
import { afterAll, afterEach, beforeAll, beforeEach, expect, it, vi } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { Refused } from "@/lib/access/refusal";
import { occupantTexts } from "@/lib/casework/occupant-texts";
import { addAttachment } from "@/lib/documents/attachments";
import { doNotUseSheet } from "@/lib/documents/do-not-use-sheet";
import { addFileByGuest, filesForGuest, openForGuest } from "@/lib/documents/guest-files";
import { composeLetter, letterMail } from "@/lib/documents/occupant-letter";
import { tellOccupant } from "@/lib/documents/occupant-telling";
import { jobWorks } from "@/lib/jobs/job-works";
import { runNextJob } from "@/lib/jobs/worker";
import { loadNotices } from "@/lib/notices/notices.run";
import { changeState } from "@/lib/registry/appliance-state";
import { placeHold } from "@/lib/registry/hold";
import { answerAsOccupant, confirmUnplugged, readForOccupant } from "@/lib/registry/occupant-link";
import { noticeGround, sentNotices } from "@/lib/registry/occupant-notice";
import { partTexts, saveParts } from "@/lib/registry/occupant-notice-texts";
import { openFindingByHand } from "@/lib/registry/open-finding";
import { scanTag } from "@/lib/registry/tag-scan";
import { takeStep } from "@/lib/registry/take-step";
import { endTenancy, eraseOccupant, siteOccupants, startTenancy } from "@/lib/registry/tenancy";
import { saveContact } from "@/lib/registry/tenancy-contact";
import type { Store } from "@/lib/store/client";
import { findingHistory } from "@/lib/store/finding-queries";
import { newId } from "@/lib/store/ids";
import { ownTexts } from "@/lib/store/occupant-queries";
import { verifyRecord } from "@/lib/store/verify-record";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { asFile, makeAppliance, plainList } from "@/seed/recall-builders";
import { eachDatabase } from "../support/database";
import { startMailServer, type TestMailServer } from "../support/mail-server";

const now = new Date("2026-03-02T12:00:00Z");
const later = (days: number) => new Date(now.getTime() + days * 86_400_000);
let post: TestMailServer;
beforeAll(async () => {
  post = await startMailServer();
});
afterAll(() => post.close());
beforeEach(() => {
  post.received.length = 0;
  vi.stubEnv("PLATEWARDEN_SMTP_URL", post.url);
  vi.stubEnv("PLATEWARDEN_MAIL_FROM", "plates@linden.example");
});
afterEach(() => vi.unstubAllEnvs());

async function work(db: Store, at: Date): Promise<void> {
  while (await runNextJob(db, jobWorks, () => at));
}

const heaterList = plainList([
  {
    source: "Office of Product Safety",
    number: "26-120",
    date: "2026-02-01",
    title: "Keldamar Recalls Convection Heaters Due to Fire Hazard",
    brand: "Keldamar",
    product: "heater",
    models: "HT-1500C",
    serials: "KM2331-000001 through KM2409-999999",
  },
]);

/** A heater in unit 0101 with an occupant, a contact, and a danger against it. */
async function house(db: Store, language: "en" | "de" = "en") {
  const { id: organisationId } = await makeOrganisation(db);
  const actor = await makeActor(db, organisationId);
  const { site, unit } = await makeSite(db, organisationId);
  const at = { organisationId, siteId: site.id, unitId: unit.id };
  await makeAppliance(db, at, "T-1", { brand: "Keldamar", model: "HT-1500C", category: "heater" });
  const { id: applianceId } = await db.appliance.findFirstOrThrow({ where: { tag: "T-1" } });
  const tenancy = {
    id: newId(),
    unitId: unit.id,
    name: "O. Winter",
    email: "winter@home.example",
    language,
    note: "",
    fromAt: later(-90),
    now,
  };
  await startTenancy(db, actor, tenancy);
  await saveContact(db, actor, { siteId: site.id, name: "House office", phone: "+1 555 0100", email: "", now });
  const draft = { tag: "T-1", siteId: "", outlet: "", signalWord: "DANGER" as const, sentence: "Its cord is bare.", formId: newId(), now };
  const { id: findingId } = await openFindingByHand(db, actor, draft);
  return { organisationId, actor, site, unit, applianceId, tenancyId: tenancy.id, tenancy, findingId };
}

async function tell(db: Store, actor: Actor, at: { findingId: string; tenancyId: string }, by: "mail" | "print" = "print", when = now) {
  const { version } = await db.finding.findUniqueOrThrow({ where: { id: at.findingId } });
  const address = (token: string) => `https://plates.linden.example/o/${token}`;
  return tellOccupant(db, actor, { findingId: at.findingId, tenancyId: at.tenancyId, version, by, address, now: when });
}

const photo = () =>
  sharp({ create: { width: 40, height: 30, channels: 3, background: "#7a5" } })
    .withExif({ IFD0: { Make: "Camera of O. Winter" } })
    .jpeg()
    .toBuffer();

eachDatabase("a notice to an occupant", (open) => {
  it("goes by mail in the occupant's language, once, and its fate stands with the finding", async () => {
    const { db, close } = await open();
    const at = await house(db, "de");
    const { version } = await db.finding.findUniqueOrThrow({ where: { id: at.findingId } });
    const { token } = await tell(db, at.actor, at, "mail");
    const again = { findingId: at.findingId, tenancyId: at.tenancyId, version, by: "mail" as const, address: (t: string) => t, now };
    await expect(tellOccupant(db, at.actor, again)).rejects.toThrow(/changed this finding/);
    expect(await sentNotices(db, at.organisationId, at.findingId)).toMatchObject([{ language: "de", mail: { state: "queued" } }]);
    await work(db, now);
    expect(post.received.map(({ to }) => to)).toEqual([["winter@home.example"]]);
    const raw = decodedMail(post.received[0]?.raw ?? "");
    for (const name of ["stop", "stop_unplug", "stop_hot", "stop_medical", "hazard by hand"] as const)
      expect(raw).toContain(occupantTexts.de[name]);
    expect(raw).toContain(`https://plates.linden.example/o/${token}`);
    expect(raw).toContain("House office, +1 555 0100");
    const [sent] = await sentNotices(db, at.organisationId, at.findingId);
    expect(sent?.mail).toMatchObject({ state: "sent", problem: null });
    expect(JSON.stringify(await db.outgoingMessage.findMany())).not.toContain(token);
    await close();
  });

  it("that the mail server refuses is shown with the server's words", async () => {
    const { db, close } = await open();
    const at = await house(db);
    post.answers.push(550);
    await tell(db, at.actor, at, "mail");
    await work(db, now);
    const [sent] = await sentNotices(db, at.organisationId, at.findingId);
    expect(sent?.mail).toMatchObject({ state: "refused", problem: expect.stringContaining("No such mailbox here") as string });
    await close();
  });

  it("keeps hazard, stop-use, remedy and contact whatever an organisation words, and refuses unknown fields", async () => {
    const { db, close } = await open();
    const at = await house(db);
    const usual = await partTexts(db, at.organisationId, "en");
    const parts = Object.fromEntries(Object.entries(usual).map(([name, { text }]) => [name, text])) as Record<keyof typeof usual, string>;
    await expect(saveParts(db, at.actor, { language: "en", parts: { ...parts, next: "Call {phnoe}." }, now })).rejects.toThrow(/no field/);
    await saveParts(db, at.actor, {
      language: "en",
      parts: { ...parts, about: ".", next: "Ring {contact} <b>now</b>.", closing: "." },
      now,
    });
    const own = await ownTexts(db, at.organisationId, "en");
    expect(Object.keys(own).sort()).toEqual(["about", "closing", "next"]);
    const ground = await noticeGround(db, at.actor, { findingId: at.findingId, now });
    const recall = { number: "26-120", hazard: "Fire\r\nhazard", remedy: "A refund", contact: "Call Keldamar" };
    const { text } = letterMail(composeLetter({ facts: { ...ground, recall }, language: "en", name: "{phone}", own }), "LINK");
    for (const words of [
      "STOP USING IT NOW.",
      occupantTexts.en["hazard by hand"],
      "Fire hazard",
      "A refund",
      "Call House office: +1 555 0100.",
    ])
      expect(text).toContain(words);
    expect(text).toContain("Dear {phone},");
    expect(text).toContain("Ring House office <b>now</b>.");
    await saveParts(db, at.actor, { language: "en", parts, now });
    expect(await ownTexts(db, at.organisationId, "en")).toEqual({});
    const surveyor = await makeActor(db, at.organisationId, "surveyor");
    await expect(saveParts(db, surveyor, { language: "en", parts, now })).rejects.toThrow(Refused);
    await close();
  });

  it("is made for an occupant of the appliance's unit only, by somebody of that site", async () => {
    const { db, close } = await open();
    const at = await house(db);
    await expect(tell(db, at.actor, { ...at, tenancyId: newId() })).rejects.toThrow(/occupant of this unit/);
    const elsewhere = await makeSite(db, at.organisationId, "Birch House");
    const stranger = await makeActor(db, at.organisationId, "manager", [elsewhere.site.id]);
    await expect(tell(db, stranger, at)).rejects.toThrow(Refused);
    const noMail = { ...at.tenancy, id: newId(), name: "P. Sommer", email: "" };
    await startTenancy(db, at.actor, noMail);
    await expect(tell(db, at.actor, { ...at, tenancyId: noMail.id }, "mail")).rejects.toThrow(/no e-mail address/);
    expect(await db.secretLink.count()).toBe(0);
    await close();
  });
});

/** The text of a mail as its reader sees it. */
function decodedMail(raw: string): string {
  const [head = "", ...body] = raw.split("\r\n\r\n");
  const text = body.join("\r\n\r\n");
  if (/base64/i.test(head)) return Buffer.from(text, "base64").toString("utf8");
  const bytes = text.replace(/=\r\n/g, "").replace(/=([0-9A-F]{2})/g, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)));
  return /quoted-printable/i.test(head) ? Buffer.from(bytes, "latin1").toString("utf8") : text;
}

eachDatabase("an occupant's link", (open) => {
  it("shows the own appliance, and takes the word that it is unplugged once, by an explicit step", async () => {
    const { db, close } = await open();
    const at = await house(db);
    const { token } = await tell(db, at.actor, at);
    const seen = await readForOccupant(db, { token, now });
    expect(seen).toMatchObject({ language: "en", unpluggedAt: null, isSettled: false, shown: { appliance: { tag: "T-1" } } });
    expect((await findingHistory(db, at.findingId)).map(({ step }) => step)).toEqual(["opened", "tell_occupant"]);
    await confirmUnplugged(db, { token, now: later(1) });
    await confirmUnplugged(db, { token, now: later(2) });
    expect((await readForOccupant(db, { token, now: later(2) })).unpluggedAt).toEqual(later(1));
    expect((await findingHistory(db, at.findingId)).map(({ step }) => step)).toEqual(["opened", "tell_occupant", "occupant_unplugged"]);
    expect((await db.finding.findUniqueOrThrow({ where: { id: at.findingId } })).state).toBe("open");
    expect(await verifyRecord(db, at.organisationId)).toMatchObject({ broken: null });
    await close();
  });

  it("takes photos without their metadata and shows no others", async () => {
    const { db, close } = await open();
    const at = await house(db);
    const { token } = await tell(db, at.actor, at);
    const staff = { subject: { kind: "finding" as const, id: at.findingId }, bytes: await photo(), fileName: "a.jpg", note: "", now };
    const hidden = await addAttachment(db, at.actor, staff);
    const ask = { kind: "occupant" as const, token, now };
    expect(await filesForGuest(db, ask)).toEqual([]);
    await expect(openForGuest(db, ask, { id: hidden.id, size: "whole" })).rejects.toThrow(/no such file/);
    const other = sharp({ create: { width: 50, height: 30, channels: 3, background: "#57a" } });
    const bytes = await other
      .withExif({ IFD0: { Make: "Camera of O. Winter" } })
      .jpeg()
      .toBuffer();
    expect(bytes.toString("latin1")).toContain("O. Winter");
    const { id } = await addFileByGuest(db, ask, { bytes, fileName: "b.jpg", note: "The plug" });
    expect((await filesForGuest(db, ask)).map((file) => file.id)).toEqual([id]);
    const kept = await openForGuest(db, ask, { id, size: "whole" });
    expect(Buffer.from(kept.bytes).toString("latin1")).not.toContain("O. Winter");
    expect((await findingHistory(db, at.findingId)).at(-1)?.step).toBe("occupant_photo");
    await close();
  });

  it("takes the answer to the one question, which may raise and never clears", async () => {
    const { db, close } = await open();
    const at = await house(db);
    await loadNotices(db, at.actor, { source: asFile(heaterList), fileName: "list.csv", now });
    const first = await tell(db, at.actor, at);
    const { question } = await readForOccupant(db, { token: first.token, now });
    expect(question?.field).toBe("serial");
    const candidateId = question?.candidateId ?? "";
    const answer = (token: string, value: string) => answerAsOccupant(db, { token, candidateId, value, now: later(1) });
    await expect(answer(first.token, " ")).rejects.toThrow(/Write what/);
    await expect(answerAsOccupant(db, { token: first.token, candidateId: newId(), value: "x", now })).rejects.toThrow(/settled meanwhile/);
    await answer(first.token, "KM2501-000001");
    expect((await db.appliance.findUniqueOrThrow({ where: { id: at.applianceId } })).serial).toBeNull();
    expect((await findingHistory(db, at.findingId)).at(-1)?.text).toMatch(/kept, not written/);
    await expect(answer(first.token, "KM2347-019286")).rejects.toThrow(/settled meanwhile/);
    const second = await tell(db, at.actor, at, "print", later(2));
    await answerAsOccupant(db, { token: second.token, candidateId, value: "KM2347-019286", now: later(3) });
    expect((await db.candidate.findUniqueOrThrow({ where: { id: candidateId } })).grade).toBe("covered");
    await close();
  });

  it("ends with the tenancy, at once or on the day stated, and names can be erased then", async () => {
    const { db, close } = await open();
    const at = await house(db);
    const { token } = await tell(db, at.actor, at, "mail");
    const id = at.tenancyId;
    await expect(eraseOccupant(db, at.actor, { id, now })).rejects.toThrow(/has not ended/);
    await endTenancy(db, at.actor, { id, toAt: later(5), now });
    await readForOccupant(db, { token, now: later(4) });
    await expect(readForOccupant(db, { token, now: later(5) })).rejects.toThrow(/run out/);
    await expect(filesForGuest(db, { kind: "occupant", token, now: later(5) })).rejects.toThrow(/run out/);
    await endTenancy(db, at.actor, { id, toAt: later(1), now: later(1) });
    await expect(readForOccupant(db, { token, now: later(1) })).rejects.toThrow(/withdrawn/);
    const { id: holdId } = await placeHold(db, at.actor, { kind: "site", id: at.site.id, why: "Court", now });
    await expect(eraseOccupant(db, at.actor, { id, now: later(2) })).rejects.toThrow(/under a hold/);
    await db.hold.update({ where: { id: holdId }, data: { releasedAt: later(2) } });
    await eraseOccupant(db, at.actor, { id, now: later(2) });
    const left = JSON.stringify([
      await db.tenancy.findMany(),
      await db.outgoingMessage.findMany(),
      await db.recordEntry.findMany(),
      await db.findingNote.findMany(),
      await db.occupantNotice.findMany(),
    ]);
    expect(left).not.toMatch(/Winter|winter@/);
    await work(db, later(2));
    expect(post.received).toEqual([]);
    expect((await siteOccupants(db, at.actor, at.site.id)).tenancies).toMatchObject([{ name: null, erasedAt: later(2) }]);
    expect(await verifyRecord(db, at.organisationId)).toMatchObject({ broken: null });
    await close();
  });

  it("does not lead from one occupant's appliance to anything else", async () => {
    const { db, close } = await open();
    const at = await house(db);
    await expect(readForOccupant(db, { token: "x".repeat(43), now })).rejects.toThrow(/not one of ours/);
    const { token } = await tell(db, at.actor, at);
    await expect(readForOccupant(db, { token, now: later(61) })).rejects.toThrow(/run out/);
    await expect(confirmUnplugged(db, { token, now: later(61) })).rejects.toThrow(/run out/);
    await db.finding.update({ where: { id: at.findingId }, data: { state: "closed" } });
    expect(await readForOccupant(db, { token, now })).toMatchObject({ isSettled: true, question: null });
    await expect(confirmUnplugged(db, { token, now })).rejects.toThrow(/settled/);
    await close();
  });
});

eachDatabase("tenancies and contacts", (open) => {
  it("are entered once for a form, checked, and changed by managers of the site alone", async () => {
    const { db, close } = await open();
    const at = await house(db);
    await startTenancy(db, at.actor, at.tenancy);
    expect(await db.tenancy.count()).toBe(1);
    await expect(startTenancy(db, at.actor, { ...at.tenancy, id: newId(), name: " " })).rejects.toThrow(/name/);
    await expect(startTenancy(db, at.actor, { ...at.tenancy, id: newId(), email: "nowhere" })).rejects.toThrow(/no e-mail address/);
    await expect(startTenancy(db, at.actor, { ...at.tenancy, id: newId(), unitId: newId() })).rejects.toThrow(/unit/);
    await expect(endTenancy(db, at.actor, { id: at.tenancyId, toAt: later(-91), now })).rejects.toThrow(/before it began/);
    const surveyor = await makeActor(db, at.organisationId, "surveyor");
    await expect(siteOccupants(db, surveyor, at.site.id)).rejects.toThrow(Refused);
    await expect(endTenancy(db, surveyor, { id: at.tenancyId, toAt: now, now })).rejects.toThrow(Refused);
    const contact = { siteId: at.site.id, name: "House office", phone: "call me", email: "", now };
    await expect(saveContact(db, at.actor, contact)).rejects.toThrow(/telephone/);
    await close();
  });
});

eachDatabase("a tag that is scanned", (open) => {
  it("tells a stranger whom to call and whether to leave it alone, and leads one's own people to the appliance", async () => {
    const { db, close } = await open();
    const at = await house(db);
    await db.finding.update({ where: { id: at.findingId }, data: { state: "closed" } });
    const origin = "https://plates.linden.example";
    const sheet = await doNotUseSheet(db, at.actor, { id: at.applianceId, origin, now });
    expect(sheet).toMatchObject({ tag: "T-1", isOut: false, since: null });
    const code = sheet.address.slice(`${origin}/tag/`.length);
    expect(code).toMatch(/^[\w-]{16}$/);
    expect((await doNotUseSheet(db, at.actor, { id: at.applianceId, origin, now })).address).toBe(sheet.address);
    expect(await scanTag(db, { code, actor: null })).toEqual({
      kind: "stranger",
      shown: { tag: "T-1", isUnsafe: false, contact: { name: "House office", phone: "+1 555 0100", email: null } },
    });
    await changeState(db, at.actor, { id: at.applianceId, state: "out_of_use", reason: null, now: later(1) });
    expect(await scanTag(db, { code, actor: null })).toMatchObject({ shown: { isUnsafe: true } });
    expect(await doNotUseSheet(db, at.actor, { id: at.applianceId, origin, now })).toMatchObject({ isOut: true, since: later(1) });
    expect(await scanTag(db, { code, actor: at.actor })).toEqual({ kind: "own", applianceId: at.applianceId });
    expect(await scanTag(db, { code: "t 1", actor: at.actor })).toEqual({ kind: "own", applianceId: at.applianceId });
    await expect(scanTag(db, { code: "T-1", actor: null })).rejects.toThrow(/not known/);
    await expect(scanTag(db, { code: at.applianceId, actor: null })).rejects.toThrow(/not known/);
    const { id: elsewhere } = await makeOrganisation(db, "Birch Estates");
    const foreign = await makeActor(db, elsewhere);
    expect(await scanTag(db, { code, actor: foreign })).toMatchObject({ kind: "stranger" });
    await expect(doNotUseSheet(db, foreign, { id: at.applianceId, origin, now })).rejects.toThrow(/no such appliance/);
    await close();
  });

  it("warns under an open danger, also while the appliance is in use", async () => {
    const { db, close } = await open();
    const at = await house(db);
    const { address } = await doNotUseSheet(db, at.actor, { id: at.applianceId, origin: "", now });
    expect(await scanTag(db, { code: address.slice("/tag/".length), actor: null })).toMatchObject({ shown: { isUnsafe: true } });
    const { version } = await db.finding.findUniqueOrThrow({ where: { id: at.findingId } });
    await takeStep(db, at.actor, { findingId: at.findingId, version, step: "take_out_of_use", text: "", now: later(1) });
    expect((await db.appliance.findUniqueOrThrow({ where: { id: at.applianceId } })).outOfUseAt).toEqual(later(1));
    await close();
  });
});
