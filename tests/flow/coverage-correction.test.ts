import { expect, it } from "vitest";
import { Refused } from "@/lib/access/refusal";
import { crossCheckRegistry } from "@/lib/matching/cross-check.run";
import { loadNotices } from "@/lib/notices/notices.run";
import { correctCoverage, type WantedCorrection, withdrawCorrection } from "@/lib/registry/coverage-correction";
import { findCoverageReview } from "@/lib/registry/coverage-review";
import { decide } from "@/lib/registry/decision";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { asFile, type ListRow, makeAppliance, plainList } from "@/seed/recall-builders";
import { eachDatabase, type FreshDatabase } from "../support/database";

const day = (number: number) => new Date(Date.UTC(2026, 2, number));
const heater: ListRow = {
  source: "Office of Product Safety",
  number: "26-114",
  title: "Keldamar Recalls Convection Heaters Due to Fire Hazard",
  brand: "Keldamar",
  product: "heater",
  models: "HT-1500B; HT-1500C",
};
const kettle: ListRow = {
  source: heater.source ?? "",
  number: "26-115",
  title: "Sundrake Recalls Kettles",
  brand: "Sundrake",
  product: "kettle",
  models: "PX-20",
};
const addModel: WantedCorrection = { act: "add", statement: { kind: "model", pattern: "HT-17##" }, passage: null };
const removeC: WantedCorrection = { act: "remove", statementKey: "model:HT1500C" };

async function start(open: () => Promise<FreshDatabase>) {
  const database = await open();
  const { db } = database;
  const organisation = await makeOrganisation(db);
  const manager = await makeActor(db, organisation.id);
  const inspector = await makeActor(db, organisation.id, "inspector");
  const { site, unit } = await makeSite(db, organisation.id);
  const at = { organisationId: organisation.id, siteId: site.id, unitId: unit.id };
  for (const [tag, model] of [
    ["T-B", "HT-1500B"],
    ["T-C", "HT-1500C"],
    ["T-17", "HT-1702"],
  ] as const)
    await makeAppliance(db, at, tag, { brand: "Keldamar", model, category: "heater" });
  await makeAppliance(db, at, "T-K", { brand: "Sundrake", model: "PX-20", category: "kettle" });
  const load = (rows: readonly ListRow[], on: number) =>
    loadNotices(db, manager, { source: asFile(plainList(rows)), fileName: "list.csv", now: day(on) });
  await load([heater, kettle], 1);
  const notice = await db.notice.findFirstOrThrow({ where: { number: "26-114" } });
  const correct = (wanted: WantedCorrection, on = 2, as = inspector) =>
    correctCoverage(db, as, { noticeId: notice.id, wanted, reason: "The plate shown by the regulator says so.", now: day(on) });
  const raised = async () => {
    const rows = await db.candidate.findMany({ where: { grade: { not: "not_covered" } }, include: { appliance: true } });
    return rows.map(({ appliance }) => appliance.tag).sort();
  };
  return { ...database, organisation, manager, inspector, at, load, notice, correct, raised };
}

eachDatabase("correcting what a notice covers", (open) => {
  it("adds and takes out statements and compares the notice again at once", async () => {
    const { correct, raised, close } = await start(open);
    expect(await raised()).toEqual(["T-B", "T-C", "T-K"]);
    expect((await correct(addModel)).compared).toMatchObject({ notices: 1, added: 1, removed: 0 });
    expect(await raised()).toEqual(["T-17", "T-B", "T-C", "T-K"]);
    expect((await correct(removeC)).compared).toMatchObject({ notices: 1, added: 0, removed: 1 });
    expect(await raised()).toEqual(["T-17", "T-B", "T-K"]);
    await close();
  });

  it("writes correction, coverage and record entry together, and leaves other notices alone", async () => {
    const { db, inspector, notice, correct, close } = await start(open);
    const other = await db.notice.findFirstOrThrow({ where: { number: "26-115" } });
    const { id } = await correct(addModel);
    expect(await db.coverageCorrection.findUniqueOrThrow({ where: { id } })).toMatchObject({
      act: "add",
      statementKey: "model:HT17##",
      noticeHash: notice.contentHash,
      byUserId: inspector.userId,
      withdrawnAt: null,
    });
    const after = await db.notice.findUniqueOrThrow({ where: { id: notice.id } });
    expect(after.reading).toEqual(notice.coverage);
    expect([after.contentHash, after.checkedAt]).toEqual([notice.contentHash, day(2)]);
    expect(await db.notice.findUniqueOrThrow({ where: { id: other.id } })).toEqual(other);
    const [entry] = await db.recordEntry.findMany({ where: { what: "corrected a notice's coverage" } });
    expect(entry).toMatchObject({
      subjectId: notice.id,
      actor: inspector.userId,
      after: { correctionId: id, covers: expect.arrayContaining(["Model: HT-17##"]) },
    });
    await close();
  });

  it("survives a full run that reads every notice afresh, and the same list again", async () => {
    const { db, manager, correct, load, raised, close } = await start(open);
    await correct(addModel);
    await correct(removeC);
    const before = await db.notice.findMany({ orderBy: { id: "asc" } });
    expect(await crossCheckRegistry(db, manager, { now: day(3) })).toMatchObject({ added: 0, changed: 0, removed: 0 });
    await load([heater, kettle], 4);
    const same = ({ coverage, reading, coverageHash }: (typeof before)[number]) => ({ coverage, reading, coverageHash });
    expect((await db.notice.findMany({ orderBy: { id: "asc" } })).map(same)).toEqual(before.map(same));
    expect(await raised()).toEqual(["T-17", "T-B", "T-K"]);
    await close();
  });

  it("survives an amendment, and says what of it the new words say themselves or no longer say", async () => {
    const { db, inspector, notice, correct, load, raised, close } = await start(open);
    await correct(addModel);
    await correct(removeC);
    await load([{ ...heater, models: "HT-1500B; HT-17##" }, kettle], 3);
    expect(await raised()).toEqual(["T-17", "T-B", "T-K"]);
    const { corrections } = await findCoverageReview(db, inspector, { noticeId: notice.id });
    expect(corrections.map(({ correction, effect }) => [correction.act, effect]).sort()).toEqual([
      ["add", "read by now"],
      ["remove", "nothing left to take out"],
    ]);
    await load([{ ...heater, models: "HT-1500B; HT-1500C; HT-1600" }, kettle], 4);
    expect(await raised()).toEqual(["T-17", "T-B", "T-K"]);
    const again = await findCoverageReview(db, inspector, { noticeId: notice.id });
    expect(again.corrections.map(({ effect }) => effect)).toEqual(["in force", "in force"]);
    await close();
  });

  it("is withdrawn with its reason, after which the reading holds again", async () => {
    const { db, inspector, notice, correct, raised, close } = await start(open);
    const { id } = await correct(removeC);
    const withdrawal = { noticeId: notice.id, correctionId: id, reason: "It was another notice.", now: day(3) };
    expect((await withdrawCorrection(db, inspector, withdrawal)).compared).toMatchObject({ added: 1 });
    expect(await raised()).toEqual(["T-B", "T-C", "T-K"]);
    const after = await db.notice.findUniqueOrThrow({ where: { id: notice.id } });
    expect([after.reading, after.coverageHash]).toEqual([null, notice.coverageHash]);
    expect(await db.coverageCorrection.findUniqueOrThrow({ where: { id } })).toMatchObject({
      withdrawnAt: day(3),
      withdrawnWhy: "It was another notice.",
    });
    await expect(withdrawCorrection(db, inspector, withdrawal)).rejects.toThrow("does not stand any more");
    await close();
  });

  it("keeps a decided pair, reopens the decision that it contradicts and says that the coverage was corrected", async () => {
    const { db, inspector, correct, close } = await start(open);
    const candidate = await db.candidate.findFirstOrThrow({ where: { appliance: { tag: "T-C" } } });
    await decide(db, inspector, { candidateId: candidate.id, verdict: "affected", reason: "Listed model.", now: day(2) });
    expect((await correct(removeC, 3)).compared).toMatchObject({ reopened: 1 });
    expect(await db.candidate.findUniqueOrThrow({ where: { id: candidate.id } })).toMatchObject({
      grade: "not_covered",
      standing: "reopened",
    });
    const decision = await db.decision.findFirstOrThrow();
    expect(decision.reopenedWhy).toContain("What the notice covers was corrected");
    await close();
  });

  it("refuses what is there already, what is not, an empty reason, older words, and who may not", async () => {
    const { db, organisation, inspector, notice, correct, close } = await start(open);
    await expect(correct({ act: "add", statement: { kind: "model", pattern: "ht1500b" }, passage: null })).rejects.toThrow(
      "in the coverage already",
    );
    await expect(correct({ act: "remove", statementKey: "model:ZZ9" })).rejects.toThrow("no such statement");
    await correct(removeC);
    await expect(correct(removeC)).rejects.toThrow("stands already");
    await expect(correct({ act: "add", statement: { kind: "model", pattern: "HT-1500C" }, passage: null })).rejects.toThrow(
      "withdraw that correction",
    );
    const passage = { field: "title", start: 0, quote: "words that are not there" } as const;
    await expect(correct({ act: "dismiss", passage })).rejects.toThrow("not in the notice");
    const input = { noticeId: notice.id, wanted: addModel, reason: " ", now: day(2) };
    await expect(correctCoverage(db, inspector, input)).rejects.toThrow("Say how you know it");
    await expect(correctCoverage(db, inspector, { ...input, reason: "Seen.", noticeHash: "older" })).rejects.toThrow("was amended");
    await expect(correct(addModel, 2, await makeActor(db, organisation.id, "surveyor"))).rejects.toThrow(Refused);
    const abroad = await makeActor(db, (await makeOrganisation(db, "Quay Lettings")).id, "inspector");
    await expect(correct(addModel, 2, abroad)).rejects.toThrow("no such notice");
    expect(await db.coverageCorrection.count()).toBe(1);
    await close();
  });
});
