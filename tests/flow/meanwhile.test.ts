import { afterEach, beforeEach, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { changePerson, personSeen } from "@/lib/access/change-person";
import { ChangedMeanwhile, type Meanwhile, type SeenValues, seenMark } from "@/lib/access/changed-meanwhile";
import { dueDays } from "@/lib/casework/due-date";
import { openOrRefreshFinding } from "@/lib/casework/findings.run";
import { editableParts, occupantTexts } from "@/lib/casework/occupant-texts";
import { inspectionStandardNames } from "@/lib/electrical/inspection-limit-tables";
import { stateDueDays } from "@/lib/registry/due-days";
import { inspectionPolicyForm, saveInspectionPolicy } from "@/lib/registry/inspection-policy";
import { addSource, changeSource, sourceSeen } from "@/lib/registry/notice-source";
import { partsSeen, partTexts, saveParts } from "@/lib/registry/occupant-notice-texts";
import { saveCircuitPlace, saveOutletPlace, saveSitePlace, saveUnitPlace } from "@/lib/registry/place";
import { placeSeen } from "@/lib/registry/place-form";
import { retentionMark, retentionSeen, setRetention } from "@/lib/registry/readings-retention";
import { saveSitePolicy } from "@/lib/registry/site-policy-change";
import { takeStep } from "@/lib/registry/take-step";
import { contactSeen, saveContact } from "@/lib/registry/tenancy-contact";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { eachDatabase, type FreshDatabase } from "../support/database";

const now = new Date("2026-03-02T10:00:00Z");

eachDatabase("Somebody else changed it meanwhile", (open) => {
  let fresh: FreshDatabase;
  let actor: Actor;
  let other: Actor;
  let place: Awaited<ReturnType<typeof makeSite>>;

  beforeEach(async () => {
    fresh = await open();
    const { id } = await makeOrganisation(fresh.db);
    [actor, other] = [await makeActor(fresh.db, id, "administrator"), await makeActor(fresh.db, id, "administrator")];
    place = await makeSite(fresh.db, id);
  });
  afterEach(() => fresh.close());

  /** What a refused save tells; nothing may have been written by it. */
  async function told(save: () => Promise<unknown>): Promise<Meanwhile> {
    const before = await fresh.db.recordEntry.count();
    const error = await save().then(
      () => null,
      (thrown: unknown) => thrown,
    );
    expect(error).toBeInstanceOf(ChangedMeanwhile);
    expect(await fresh.db.recordEntry.count()).toBe(before);
    return (error as ChangedMeanwhile).meanwhile;
  }
  const seen = (values: SeenValues | null) => seenMark(values ?? {});

  /** One person saves with the mark both opened the form with, the other is told, and saves over it with the new mark. */
  async function bothSave(mark: string, save: (by: Actor, mark: string, value: string) => Promise<unknown>, field: string) {
    await save(other, mark, "theirs");
    const meanwhile = await told(() => save(actor, mark, "mine"));
    await save(actor, meanwhile.mark.value, "mine");
    return meanwhile.theirs[field];
  }

  test("a site, a unit, a circuit and an outlet show both, and are saved over only with the new mark", async () => {
    const { db } = fresh;
    const { site, unit, circuit } = place;
    const outlet = place.outlets[0]!;
    const theirs = [
      await bothSave(seen(placeSeen("site", site)), (by, mark, name) => saveSitePlace(db, by, { ...site, name, seen: mark, now }), "name"),
      await bothSave(seen(placeSeen("unit", unit)), (by, mark, name) => saveUnitPlace(db, by, { ...unit, name, seen: mark, now }), "name"),
      await bothSave(
        seen(placeSeen("circuit", circuit)),
        (by, mark, leg) => saveCircuitPlace(db, by, { ...circuit, leg, seen: mark, now }),
        "leg",
      ),
      await bothSave(
        seen(placeSeen("outlet", outlet)),
        (by, mark, name) => saveOutletPlace(db, by, { ...outlet, name, seen: mark, now }),
        "name",
      ),
    ];
    expect(theirs).toEqual(["theirs", "theirs", "theirs", "theirs"]);
    expect((await db.site.findUniqueOrThrow({ where: { id: site.id } })).name).toBe("mine");
    expect((await db.circuit.findUniqueOrThrow({ where: { id: circuit.id } })).leg).toBe("mine");
  });

  test("a person's role and sites", async () => {
    const { db } = fresh;
    const member = await makeActor(db, actor.organisationId, "surveyor", [place.site.id]);
    const { id: membershipId } = await db.membership.findFirstOrThrow({ where: { userId: member.userId! } });
    const mark = seenMark(personSeen({ role: "surveyor", sites: [place.site.id] }));
    const change = { membershipId, sites: "all" as const, seen: mark, now };
    await changePerson(db, other, { ...change, role: "inspector" });
    const meanwhile = await told(() => changePerson(db, actor, { ...change, role: "manager" }));
    expect(meanwhile.theirs).toEqual({ role: "inspector", sites: "all sites" });
    await changePerson(db, actor, { ...change, role: "manager", seen: meanwhile.mark.value });
  });

  test("the words to occupants, the contact, the due days, a fetched list", async () => {
    const { db } = fresh;
    const { site } = place;
    const usual = Object.fromEntries(editableParts.map((part) => [part, occupantTexts.en[part]])) as Parameters<
      typeof saveParts
    >[2]["parts"];
    const words = seenMark(partsSeen(await partTexts(db, actor.organisationId, "en")));
    const say = (by: Actor, mark: string, closing: string) =>
      saveParts(db, by, { language: "en", parts: { ...usual, closing }, seen: mark, now });
    expect(await bothSave(words, say, "closing")).toBe("theirs");

    const call = (by: Actor, mark: string, name: string) =>
      saveContact(db, by, { siteId: site.id, name, phone: "555 0100", email: "", seen: mark, now });
    expect(await bothSave(seenMark(contactSeen(null)), call, "name")).toBe("theirs");

    const state = (by: Actor, mark: string, value: string) =>
      stateDueDays(db, by, { siteId: site.id, days: { ...dueDays, WARNING: value === "theirs" ? 5 : 6 }, seen: mark, now });
    expect(await bothSave(seenMark({ ...dueDays }), state, "WARNING")).toBe("5");

    const list = { name: "Fell Office", url: "https://lists.example/recalls.csv", everyHours: 24 };
    const { id } = await addSource(db, actor, { ...list, now });
    const fetched = (by: Actor, mark: string, name: string) => changeSource(db, by, { ...list, id, name, seen: mark, now });
    expect(await bothSave(seenMark(sourceSeen(list)), fetched, "name")).toBe("theirs");
  });

  test("how long readings are kept, for all and for one site, each by its own mark", async () => {
    const { db } = fresh;
    const none = seenMark(retentionSeen(null));
    await setRetention(db, other, { siteId: null, keepDays: 90, seen: none, now });
    // The organisation's time changed meanwhile, the site's did not.
    await setRetention(db, other, { siteId: place.site.id, keepDays: 40, seen: none, now });
    for (const [siteId, theirs] of [
      [null, "90"],
      [place.site.id, "40"],
    ] as const) {
      const mine = { siteId, keepDays: 60, now };
      const meanwhile = await told(() => setRetention(db, actor, { ...mine, seen: none }));
      expect(meanwhile).toMatchObject({ mark: { name: retentionMark(siteId) }, theirs: { keepDays: theirs } });
      await setRetention(db, actor, { ...mine, seen: meanwhile.mark.value });
    }
  });

  test("a site's policy is told by its fields", async () => {
    const policy = { siteId: place.site.id, figures: {}, standards: {}, now };
    await saveSitePolicy(fresh.db, other, { ...policy, version: 0, standards: { plugs: "theirs" } });
    const meanwhile = await told(() => saveSitePolicy(fresh.db, actor, { ...policy, version: 0 }));
    expect(meanwhile).toMatchObject({ mark: { name: "version", value: "1" }, theirs: { plugs: "theirs", device: "" } });
    await saveSitePolicy(fresh.db, actor, { ...policy, version: 1 });
  });

  test("the rules by which a site inspects", async () => {
    const rules = { siteId: place.site.id, version: 0, environment: "calm", months: "", firstDays: 3 };
    const save = (by: Actor, given: object) =>
      saveInspectionPolicy(fresh.db, by, { ...inspectionPolicyForm.parse({ ...rules, ...usual, ...given }), now });
    const usual = { standard: inspectionStandardNames[0] };
    await save(other, { months: 6 });
    const meanwhile = await told(() => save(actor, { firstDays: 9 }));
    expect(meanwhile).toMatchObject({
      mark: { name: "version", value: "1" },
      theirs: { months: "6", firstDays: "3", environment: "calm" },
    });
    await save(actor, { version: 1, months: 6, firstDays: 9 });
  });

  test("a finding tells who did what since, and the step can then be taken over it", async () => {
    const { db } = fresh;
    const { organisationId } = actor;
    const { id } = await db.$transaction((tx) =>
      openOrRefreshFinding(tx, {
        ...{ organisationId, key: "k", cause: "by hand", siteId: place.site.id, signalWord: "WARNING", sentence: "Loose socket." },
        ...{ evidence: { figures: [], reasons: [] }, now, actor },
      }),
    );
    const { version } = await db.finding.findUniqueOrThrow({ where: { id } });
    const note = { findingId: id, version, step: "note" as const, now };
    await takeStep(db, other, { ...note, text: "Called the tenant." });
    const meanwhile = await told(() => takeStep(db, actor, { ...note, text: "Mine." }));
    expect(meanwhile).toEqual({
      mark: { name: "version", value: String(version + 1) },
      theirs: {},
      others: ["Robin administrator, note: Called the tenant."],
    });
    await takeStep(db, actor, { ...note, version: Number(meanwhile.mark.value), text: "Mine." });
    expect(await db.findingNote.count({ where: { findingId: id } })).toBeGreaterThanOrEqual(2);
  });
});
