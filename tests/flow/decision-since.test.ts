import { expect, it } from "vitest";
import { loadNotices } from "@/lib/notices/notices.run";
import { correctCoverage } from "@/lib/registry/coverage-correction";
import { decide } from "@/lib/registry/decision";
import { answerQuestion } from "@/lib/registry/decision-answer";
import { undecidedCandidates } from "@/lib/registry/decision-list";
import type { Verdict } from "@/lib/registry/decision-standing";
import { getReview } from "@/lib/registry/review";
import { takeStep } from "@/lib/registry/take-step";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { asFile, type ListRow, makeAppliance, plainList } from "@/seed/recall-builders";
import { eachDatabase, type FreshDatabase } from "../support/database";

const day = (number: number) => new Date(Date.UTC(2026, 2, number));
const heater: ListRow = {
  source: "Office of Product Safety",
  number: "26-120",
  title: "Keldamar Recalls Convection Heaters Due to Fire Hazard",
  brand: "Keldamar",
  product: "heater",
  models: "HT-1500B; HT-1500C",
  serials: "KM2331-000001 through KM2409-999999",
  hazard: "The heating element can ignite the housing, a fire hazard.",
};

async function start(open: () => Promise<FreshDatabase>) {
  const database = await open();
  const { db } = database;
  const organisation = await makeOrganisation(db);
  const actor = await makeActor(db, organisation.id);
  const inspector = await makeActor(db, organisation.id, "inspector");
  const { site, unit } = await makeSite(db, organisation.id);
  const at = { organisationId: organisation.id, siteId: site.id, unitId: unit.id };
  const appliance = await makeAppliance(db, at, "T-1", { brand: "Keldamar", model: "HT-1500C", category: "heater" });
  const load = (row: ListRow, on: number) =>
    loadNotices(db, actor, { source: asFile(plainList([row])), fileName: "list.csv", now: day(on) });
  await load(heater, 1);
  const candidate = await db.candidate.findFirstOrThrow();
  const says = (verdict: Verdict, on: number, as = actor) =>
    decide(db, as, { candidateId: candidate.id, verdict, reason: `Looked at it on day ${on}.`, now: day(on) });
  const review = () => getReview(db, actor, { candidateId: candidate.id });
  const finding = () => db.finding.findFirstOrThrow();
  return { ...database, organisation, actor, inspector, appliance, candidate, load, says, review, finding };
}

eachDatabase("what changed since a decision", (open) => {
  it("is nothing at first, and the decision keeps the label and the coverage it was taken on", async () => {
    const { db, candidate, says, review, close } = await start(open);
    await says("unsure", 2);
    expect((await review()).since).toBeNull();
    const notice = await db.notice.findFirstOrThrow();
    expect(await db.decision.findFirstOrThrow()).toMatchObject({
      facts: { brand: "Keldamar", model: "HT-1500C", serial: null },
      coverageHash: notice.coverageHash,
    });
    expect(await db.coverageVersion.findMany()).toMatchObject([{ noticeId: candidate.noticeId, coverage: notice.coverage }]);
    await close();
  });

  it("shows a corrected label then and now, with the grade, and reopens what it contradicts", async () => {
    const { db, actor, candidate, says, review, close } = await start(open);
    await says("not_affected", 2);
    await answerQuestion(db, actor, { candidateId: candidate.id, field: "serial", value: "KM2347-019286", now: day(3) });
    const { candidate: seen, since, decisions } = await review();
    expect(seen.standing).toBe("reopened");
    expect(since).toMatchObject({
      facts: [{ name: "serial", before: null, after: "KM2347-019286" }],
      grade: { before: "check_label", after: "covered" },
      wording: [],
      coverage: { added: [], removed: [] },
    });
    expect(decisions[0]?.reopenedWhy).toContain("What is known of the appliance changed.");
    await close();
  });

  it("shows the words and statements of an amended notice", async () => {
    const { says, load, review, close } = await start(open);
    await says("unsure", 2);
    await load({ ...heater, models: "HT-1500B; HT-1500C; HT-1600", remedy: "Full refund." }, 3);
    const { since } = await review();
    expect(since?.wording.map(({ part }) => part)).toEqual(["Models", "Remedy"]);
    expect(since?.coverage).toEqual({ added: [{ kind: "model", pattern: "HT-1600" }], removed: [] });
    await close();
  });

  it("shows a statement that a person took out, though the words are the same", async () => {
    const { db, inspector, candidate, says, review, close } = await start(open);
    await says("affected", 2);
    const wanted = { act: "remove", statementKey: "model:HT1500C" } as const;
    await correctCoverage(db, inspector, { noticeId: candidate.noticeId, wanted, reason: "Printing mistake.", now: day(3) });
    const { since, candidate: seen } = await review();
    expect(seen.standing).toBe("reopened");
    expect(since).toMatchObject({
      wording: [],
      coverage: { added: [], removed: [{ kind: "model", pattern: "HT-1500C" }] },
      grade: { before: "check_label", after: "not_covered" },
    });
    await close();
  });

  it("is not told of a decision older than this keeping, beyond words and grade", async () => {
    const { db, says, load, review, close } = await start(open);
    await says("unsure", 2);
    await db.decision.updateMany({ data: { coverageHash: null } });
    await load({ ...heater, remedy: "Full refund." }, 3);
    expect((await review()).since).toMatchObject({ isKnown: false, coverage: { added: [], removed: [] }, wording: [{ part: "Remedy" }] });
    await close();
  });
});

eachDatabase("what a decision does to findings", (open) => {
  it("opens one of the weakest word for what is unsure, which rises when it is confirmed", async () => {
    const { db, actor, says, finding, close } = await start(open);
    expect((await says("unsure", 2)).findingIds).toHaveLength(1);
    expect(await finding()).toMatchObject({
      signalWord: "NOTICE",
      state: "open",
      cause: "recall",
      sentence: expect.stringContaining("Not settled"),
    });
    expect((await undecidedCandidates(db, actor, { grades: ["check_label"] })).total).toBe(0);
    await says("affected", 3);
    expect(await db.finding.count()).toBe(1);
    expect(await finding()).toMatchObject({ signalWord: "DANGER", sentence: expect.stringContaining("Covered by") });
    await close();
  });

  it("closes it when a second person finds it not affected, with history and record, and lets the appliance be used again", async () => {
    const { db, actor, inspector, appliance, says, finding, close } = await start(open);
    await says("affected", 2, inspector);
    const { id, version } = await finding();
    await takeStep(db, inspector, { findingId: id, version, step: "take_out_of_use", text: "Unplugged.", now: day(2) });
    expect(await says("not_affected", 3, actor)).toMatchObject({ closed: 1, forSecondPerson: 0 });
    expect(await finding()).toMatchObject({
      state: "closed",
      outcome: "found_not_affected",
      outcomeReason: "Looked at it on day 3.",
      closedAt: day(3),
    });
    expect(await db.appliance.findUniqueOrThrow({ where: { id: appliance.id } })).toMatchObject({ state: "in_use" });
    const notes = await db.findingNote.findMany({ orderBy: { number: "asc" } });
    expect(notes.at(-1)).toMatchObject({ step: "close", byUserId: actor.userId });
    expect(await db.recordEntry.count({ where: { what: "finding close" } })).toBe(1);
    await close();
  });

  it("leaves a danger open for a second person where whoever confirmed it takes it back", async () => {
    const { db, inspector, says, finding, close } = await start(open);
    await says("affected", 2, inspector);
    expect(await says("not_affected", 3, inspector)).toMatchObject({ closed: 0, forSecondPerson: 1 });
    expect(await finding()).toMatchObject({ state: "open", signalWord: "DANGER" });
    const notes = await db.findingNote.findMany({ orderBy: { number: "asc" } });
    expect(notes.at(-1)).toMatchObject({ step: "record_proof", byUserId: inspector.userId });
    await close();
  });

  it("closes what was unsure at once, opens it again when it is affected after all, and needs no finding to exist", async () => {
    const { says, finding, close } = await start(open);
    expect(await says("not_affected", 2)).toMatchObject({ closed: 0, findingIds: [] });
    await says("unsure", 3);
    expect(await says("not_affected", 4)).toMatchObject({ closed: 1 });
    await says("affected", 5);
    expect(await finding()).toMatchObject({ state: "open", signalWord: "DANGER", outcome: null });
    await close();
  });
});
