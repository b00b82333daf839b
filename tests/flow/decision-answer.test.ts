import { expect, it } from "vitest";
import { Trouble } from "@/lib/access/trouble";
import { loadNotices } from "@/lib/notices/notices.run";
import { answerQuestion } from "@/lib/registry/decision-answer";
import { loadLabels } from "@/lib/registry/labels-import";
import { getNoticeView } from "@/lib/registry/notice-view";
import { type CandidateQuery, findCandidateList, findNoticeList, getRecallState } from "@/lib/registry/recall-overview";
import { getReview } from "@/lib/registry/review";
import { findUnidentified } from "@/lib/registry/unidentified-groups";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { asFile, type ListRow, makeAppliance, plainList } from "@/seed/recall-builders";
import { eachDatabase, type FreshDatabase } from "../support/database";

const day = (number: number) => new Date(Date.UTC(2026, 2, number));
const heater: ListRow = {
  source: "Office of Product Safety",
  number: "26-120",
  date: "2026-02-01",
  title: "Keldamar Recalls Convection Heaters Due to Fire Hazard",
  brand: "Keldamar",
  product: "heater",
  models: "HT-1500B; HT-1500C",
  serials: "KM2331-000001 through KM2409-999999",
};
const fan: ListRow = { source: heater.source ?? "", number: "26-121", title: "Ostervale Recalls Fans", brand: "Ostervale", product: "fan" };
const everything: CandidateQuery = { search: "", state: "open", grade: "all", sort: "work", order: "asc", page: 1 };

async function start(open: () => Promise<FreshDatabase>) {
  const database = await open();
  const { db } = database;
  const organisation = await makeOrganisation(db);
  const actor = await makeActor(db, organisation.id);
  const { site, unit } = await makeSite(db, organisation.id);
  const at = { organisationId: organisation.id, siteId: site.id, unitId: unit.id };
  for (const tag of ["T-1", "T-2"]) await makeAppliance(db, at, tag, { brand: "Keldamar", model: "HT-1500C", category: "heater" });
  await makeAppliance(db, at, "T-3", { brand: "Ostervale", category: "fan" });
  await loadNotices(db, actor, { source: asFile(plainList([heater, fan])), fileName: "list.csv", now: day(1) });
  const candidate = await db.candidate.findFirstOrThrow({ where: { appliance: { tag: "T-1" } } });
  const answer = (value: string, as = actor) => answerQuestion(db, as, { candidateId: candidate.id, field: "serial", value, now: day(2) });
  const occupantSays = (value: string) =>
    answerQuestion(db, actor, { candidateId: candidate.id, field: "serial", value, source: "occupant", now: day(2) });
  return { ...database, organisation, actor, site, candidate, answer, occupantSays };
}

eachDatabase("answering the settling question", (open) => {
  it("writes what was read to the appliance and grades the pair again at once", async () => {
    const { db, candidate, answer, close } = await start(open);
    expect(candidate.grade).toBe("check_label");
    expect(await answer(" KM2347-019286 ")).toMatchObject({ grade: "covered" });
    const appliance = await db.appliance.findUniqueOrThrow({ where: { id: candidate.applianceId } });
    expect(appliance).toMatchObject({ serial: "KM2347-019286", version: 2, searchText: expect.stringContaining("km2347-019286") });
    const [entry] = await db.recordEntry.findMany({ where: { what: "read a fact off the appliance" } });
    expect(entry).toMatchObject({ before: { serial: null }, after: { serial: "KM2347-019286" } });
    await close();
  });

  it("rules the pair out when the serial lies outside, and lets an inspector answer", async () => {
    const { db, organisation, answer, close } = await start(open);
    expect(await answer("KM2501-000001", await makeActor(db, organisation.id, "inspector"))).toMatchObject({ grade: "not_covered" });
    await close();
  });

  it("keeps every answer with who, when, from whom and what it led to", async () => {
    const { db, actor, candidate, answer, close } = await start(open);
    await answer("KM2347-019286");
    expect(await db.labelAnswer.findMany()).toMatchObject([
      {
        ...{ applianceId: candidate.applianceId, noticeId: candidate.noticeId, field: "serial", value: "KM2347-019286", before: null },
        ...{ source: "staff", byUserId: actor.userId, at: day(2), gradeBefore: "check_label", gradeAfter: "covered", written: true },
      },
    ]);
    const { answers } = await getReview(db, actor, { candidateId: candidate.id });
    expect(answers).toMatchObject([{ by: actor.name, value: "KM2347-019286", source: "staff" }]);
    await close();
  });

  it("lets an occupant's answer raise the grade", async () => {
    const { db, candidate, occupantSays, close } = await start(open);
    expect(await occupantSays("KM2347-019286")).toMatchObject({ grade: "covered", written: true });
    expect((await db.appliance.findUniqueOrThrow({ where: { id: candidate.applianceId } })).serial).toBe("KM2347-019286");
    await close();
  });

  it("never lets an occupant's answer clear: it is kept, not written, until somebody of the staff has read the label", async () => {
    const { db, candidate, answer, occupantSays, close } = await start(open);
    expect(await occupantSays("KM2501-000001")).toMatchObject({ grade: "check_label", written: false });
    expect((await db.appliance.findUniqueOrThrow({ where: { id: candidate.applianceId } })).serial).toBeNull();
    expect(await db.labelAnswer.findMany()).toMatchObject([{ source: "occupant", written: false, gradeAfter: "check_label" }]);
    expect(await db.recordEntry.count({ where: { what: "kept an occupant's answer without writing it" } })).toBe(1);
    expect(await answer("KM2501-000001")).toMatchObject({ grade: "not_covered", written: true });
    await close();
  });

  it("does not let an occupant's answer that raises one notice clear another", async () => {
    const { db, actor, candidate, occupantSays, close } = await start(open);
    const other: ListRow = { ...heater, number: "26-130", serials: "KM2601-000001 through KM2609-999999" };
    await loadNotices(db, actor, { source: asFile(plainList([heater, fan, other])), fileName: "list.csv", now: day(1) });
    expect(await occupantSays("KM2347-019286")).toMatchObject({ grade: "check_label", written: false });
    const pairs = await db.candidate.findMany({ where: { applianceId: candidate.applianceId } });
    expect(pairs.map(({ grade }) => grade)).toEqual(["check_label", "check_label"]);
    await close();
  });

  it("refuses an empty answer, a date that is none, and a site that is not the actor's", async () => {
    const { db, actor, candidate, answer, close } = await start(open);
    await expect(answer("  ")).rejects.toThrow(Trouble);
    const made = answerQuestion(db, actor, { candidateId: candidate.id, field: "made", value: "last year", now: day(2) });
    await expect(made).rejects.toThrow("YYYY");
    await expect(answer("KM2347-019286", { ...actor, siteIds: [] })).rejects.toThrow("no such candidate");
    expect((await db.appliance.findUniqueOrThrow({ where: { id: candidate.applianceId } })).serial).toBeNull();
    await close();
  });
});

eachDatabase("the pages of recalls", (open) => {
  it("lists the open candidates by grade, finds them by words, and keeps other sites out", async () => {
    const { db, actor, candidate, answer, close } = await start(open);
    await answer("KM2347-019286");
    const list = await findCandidateList(db, actor, everything);
    expect(list.rows.map(({ candidate: row }) => [row.appliance.tag, row.grade])).toEqual([
      ["T-1", "covered"],
      ["T-2", "check_label"],
    ]);
    expect(list.byGrade).toMatchObject({ covered: 1, check_label: 1 });
    const found = await findCandidateList(db, actor, { ...everything, search: "keldamar 019286" });
    expect(found.rows.map(({ candidate: row }) => row.id)).toEqual([candidate.id]);
    expect((await findCandidateList(db, { ...actor, siteIds: [] }, everything)).total).toBe(0);
    await close();
  });

  it("shows appliance, notice, identical ones and what comes next in a review", async () => {
    const { db, actor, candidate, close } = await start(open);
    const review = await getReview(db, actor, { candidateId: candidate.id });
    expect(review).toMatchObject({ notice: { number: "26-120" }, place: { site: "Alder House", unit: "0101" }, decisions: [] });
    expect(review.identical).toHaveLength(2);
    expect(review.nextId).toBe(review.identical.find((item) => item.candidate.id !== candidate.id)?.candidate.id);
    await expect(getReview(db, actor, { candidateId: "none" })).rejects.toThrow("no such candidate");
    await close();
  });

  it("shows a notice with its earlier wording and the appliances it may cover", async () => {
    const { db, actor, candidate, close } = await start(open);
    const amended = plainList([{ ...heater, remedy: "Full refund." }, fan]);
    await loadNotices(db, actor, { source: asFile(amended), fileName: "list.csv", now: day(3) });
    const view = await getNoticeView(db, actor, { noticeId: candidate.noticeId });
    expect(view.notice.body.remedy).toBe("Full refund.");
    expect(view.wordings.map(({ body }) => body.remedy)).toEqual([null]);
    expect(view.total).toBe(2);
    expect((await findNoticeList(db, actor, { search: "", state: "amended", sort: "date", order: "desc", page: 1 })).total).toBe(1);
    expect(await getRecallState(db, actor)).toMatchObject({ notices: 2, withoutIdentifiers: 1, unchecked: 0 });
    await close();
  });

  it("groups notices without identifiers by maker and kind and keeps them out of the candidates", async () => {
    const { db, actor, close } = await start(open);
    expect(await findUnidentified(db, actor)).toMatchObject([
      { maker: "Ostervale", kind: "fan", pairs: 1, notices: [{ number: "26-121" }] },
    ]);
    expect(await db.candidate.count({ where: { notice: { number: "26-121" } } })).toBe(1);
    const { rows } = await findCandidateList(db, actor, everything);
    expect(rows.map(({ candidate: row }) => row.notice.number)).toEqual(["26-120", "26-120"]);
    await close();
  });

  it("compares what a labels file brings in, also what a run that broke off had left", async () => {
    const { db, actor, site, close } = await start(open);
    const file = (rows: string) => asFile(`tag,site,category,brand,model\n${rows}\n`);
    await loadLabels(db, actor, { source: file(`L-1,${site.name},heater,Keldamar,HT-1500B`), fileName: "labels.csv", now: day(4) });
    await db.candidate.deleteMany({ where: { appliance: { tag: "L-1" } } });
    await db.importRun.updateMany({ where: { kind: "labels" }, data: { state: "broken_off" } });
    await loadLabels(db, actor, { source: file(`L-2,${site.name},heater,Keldamar,HT-1500B`), fileName: "labels.csv", now: day(5) });
    expect(await db.candidate.count({ where: { appliance: { tag: { in: ["L-1", "L-2"] } } } })).toBe(2);
    await close();
  });
});
