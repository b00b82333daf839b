import { afterEach, beforeEach, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { openOrRefreshFinding } from "@/lib/casework/findings.run";
import { checkFromOutside, inviteGuest } from "@/lib/registry/case-link";
import { type StepInput, takeStep } from "@/lib/registry/take-step";
import { findingHistory } from "@/lib/store/finding-queries";
import { newId } from "@/lib/store/ids";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { eachDatabase, type FreshDatabase } from "../support/database";

const opened = new Date("2026-03-02T10:00:00Z");
const now = new Date("2026-03-03T10:00:00Z");

eachDatabase("Steps of a finding", (open) => {
  let fresh: FreshDatabase;
  let manager: Actor;
  let findingId: string;
  let applianceId: string;
  let siteId: string;
  const finding = () => fresh.db.finding.findUniqueOrThrow({ where: { id: findingId } });
  const appliance = () => fresh.db.appliance.findUniqueOrThrow({ where: { id: applianceId } });
  const take = async (input: Partial<StepInput> & Pick<StepInput, "step">, actor: Actor = manager) =>
    takeStep(fresh.db, actor, { findingId, version: (await finding()).version, text: "", now, ...input });

  beforeEach(async () => {
    fresh = await open();
    const { id: organisationId } = await makeOrganisation(fresh.db);
    manager = await makeActor(fresh.db, organisationId);
    const { site, outlets } = await makeSite(fresh.db, organisationId);
    siteId = site.id;
    applianceId = newId();
    await fresh.db.appliance.create({
      data: {
        id: applianceId,
        organisationId,
        tag: "H7-1",
        tagKey: "H71",
        siteId,
        outletId: outlets[0]!.id,
        receptacle: "1",
        searchText: "",
        brandKey: "",
        modelKey: "",
        contentHash: "",
        updatedAt: opened,
      },
    });
    await fresh.db.placement.create({ data: { id: newId(), organisationId, applianceId, siteId, fromAt: opened, source: "test" } });
    findingId = await openFinding("over_rating", "DANGER");
  });
  afterEach(() => fresh.close());

  async function openFinding(cause: "over_rating" | "drift" | "recall", signalWord: "DANGER" | "WARNING"): Promise<string> {
    const { id } = await fresh.db.$transaction((tx) =>
      openOrRefreshFinding(tx, {
        organisationId: manager.organisationId,
        key: `${cause}:appliance:${applianceId}`,
        cause,
        applianceId,
        siteId,
        signalWord,
        sentence: "1742 W seen, 1575 W allowed.",
        evidence: { figures: [], reasons: [] },
        now: opened,
        actor: manager,
      }),
    );
    return id;
  }

  test("taking it out of use takes the appliance out of use, and both stand in the record", async () => {
    await take({ step: "take_out_of_use", text: "Unplugged, cord cut." });
    expect(await finding()).toMatchObject({ state: "out_of_use", version: 2 });
    expect((await appliance()).state).toBe("out_of_use");
    expect((await findingHistory(fresh.db, findingId)).at(-1)).toMatchObject({
      step: "take_out_of_use",
      text: "Unplugged, cord cut.",
      byUserId: manager.userId,
    });
    const record = await fresh.db.recordEntry.findMany({ orderBy: { number: "asc" } });
    expect(record.map(({ what }) => what)).toEqual(["finding opened", "appliance out of use", "finding take out of use"]);
  });

  test("it goes back in use only when no other finding keeps it out", async () => {
    await take({ step: "take_out_of_use" });
    const other = await openFinding("recall", "DANGER");
    await expect(take({ step: "put_back_in_use", text: "Mended." })).rejects.toMatchObject({ code: "not_allowed_now" });
    expect((await appliance()).state).toBe("out_of_use");
    await fresh.db.finding.update({ where: { id: other }, data: { state: "closed" } });
    await take({ step: "put_back_in_use", text: "Mended." });
    expect((await appliance()).state).toBe("in_use");
    expect((await finding()).state).toBe("open");
  });

  test("a danger is closed by a second person with the first one's proof, and the repaired appliance may be used again", async () => {
    const inspector = await makeActor(fresh.db, manager.organisationId, "inspector");
    await take({ step: "take_out_of_use" });
    await expect(take({ step: "close", outcome: "repaired" })).rejects.toMatchObject({
      fields: { evidence: expect.stringMatching(/only with evidence/) },
    });
    await take({ step: "record_proof", text: "Workshop receipt 12, kept in the office." });
    await expect(take({ step: "close", outcome: "repaired" })).rejects.toMatchObject({
      fields: { evidence: expect.stringMatching(/second person/) },
    });
    await take({ step: "close", outcome: "repaired", evidence: "Receipt seen." }, inspector);
    expect(await finding()).toMatchObject({ state: "closed", outcome: "repaired", outcomeEvidence: "Receipt seen.", closedAt: now });
    expect((await appliance()).state).toBe("in_use");
  });

  /** Somebody from outside looks at the evidence and agrees. */
  const agreeFromOutside = async () => {
    const { token } = await inviteGuest(fresh.db, manager, { findingId, guest: "outside_checker", name: "T. Rabe", now });
    await checkFromOutside(fresh.db, { token, agrees: true, text: "Seen.", now });
  };

  test("the only person who may close does so when somebody from outside agreed, and still not without evidence", async () => {
    await makeActor(fresh.db, manager.organisationId, "surveyor");
    const evidence = "Photograph of the cut plug, folder 3.";
    await expect(take({ step: "close", outcome: "removed", evidence })).rejects.toMatchObject({ code: "not_valid" });
    await agreeFromOutside();
    await expect(take({ step: "close", outcome: "removed" })).rejects.toMatchObject({ code: "not_valid" });
    await take({ step: "close", outcome: "removed", evidence });
    expect((await finding()).state).toBe("closed");
  });

  test("a removed appliance is retired and leaves its outlet; its placement keeps where it was", async () => {
    await agreeFromOutside();
    await take({ step: "close", outcome: "removed", evidence: "Photograph of the cut plug." });
    expect(await appliance()).toMatchObject({ state: "retired", retiredAt: now, outletId: null, receptacle: null });
    expect(await fresh.db.placement.findMany()).toMatchObject([{ applianceId, toAt: now }]);
  });

  test("proof from before the finding was opened again proves nothing about it now", async () => {
    const inspector = await makeActor(fresh.db, manager.organisationId, "inspector");
    await take({ step: "record_proof", text: "Receipt 12." });
    await take({ step: "close", outcome: "repaired" }, inspector);
    await take({ step: "reopen", text: "Seen again by the caretaker." });
    expect(await finding()).toMatchObject({ state: "open", outcome: null, closedAt: null });
    await expect(take({ step: "close", outcome: "repaired" }, inspector)).rejects.toMatchObject({ code: "not_valid" });
  });

  test("of two people who act on the same version one wins, and the other is told", async () => {
    const attempts = await Promise.allSettled(
      ["a", "b", "c"].map((text) => takeStep(fresh.db, manager, { findingId, version: 1, step: "note", text, now })),
    );
    expect(attempts.filter(({ status }) => status === "fulfilled")).toHaveLength(1);
    for (const attempt of attempts) if (attempt.status === "rejected") expect(attempt.reason).toMatchObject({ code: "changed_meanwhile" });
    expect(await findingHistory(fresh.db, findingId)).toHaveLength(2);
  });

  test("an owner must work at the site, and a due date must not be past", async () => {
    const elsewhere = await makeSite(fresh.db, manager.organisationId, "Birch Yard");
    const stranger = await makeActor(fresh.db, manager.organisationId, "surveyor", [elsewhere.site.id]);
    await expect(take({ step: "give_owner", ownerId: stranger.userId })).rejects.toMatchObject({ fields: { ownerId: expect.any(String) } });
    await take({ step: "give_owner", ownerId: manager.userId });
    expect((await finding()).ownerId).toBe(manager.userId);
    await expect(take({ step: "set_due", text: "Parts", dueAt: opened })).rejects.toMatchObject({ fields: { dueAt: expect.any(String) } });
    await take({ step: "set_due", text: "Parts are on their way.", dueAt: new Date("2026-03-20T00:00:00Z") });
    expect((await finding()).dueAt).toEqual(new Date("2026-03-20T00:00:00Z"));
  });

  test("nobody of another organisation or another site reaches it, and a surveyor does not close it", async () => {
    const { id: otherOrganisation } = await makeOrganisation(fresh.db, "Marsh Lettings");
    const outsider = await makeActor(fresh.db, otherOrganisation, "administrator");
    await expect(take({ step: "note", text: "Hello" }, outsider)).rejects.toMatchObject({ code: "not_found" });
    const elsewhere = await makeSite(fresh.db, manager.organisationId, "Birch Yard");
    const neighbour = await makeActor(fresh.db, manager.organisationId, "manager", [elsewhere.site.id]);
    await expect(take({ step: "note", text: "Hello" }, neighbour)).rejects.toMatchObject({ name: "Refused" });
    const surveyor = await makeActor(fresh.db, manager.organisationId, "surveyor");
    await expect(take({ step: "close", outcome: "repaired", evidence: "Receipt" }, surveyor)).rejects.toMatchObject({ name: "Refused" });
    expect((await finding()).version).toBe(1);
  });

  test("a step that the table forbids now is refused with the state in words", async () => {
    await expect(take({ step: "reopen", text: "Why not" })).rejects.toThrow(/while the finding is open/);
    await expect(take({ step: "register_remedy" })).rejects.toMatchObject({ code: "not_allowed_now" });
    await expect(take({ step: "note", text: " " })).rejects.toMatchObject({ fields: { text: expect.any(String) } });
  });
});
