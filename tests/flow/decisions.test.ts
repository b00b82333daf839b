import { expect, it } from "vitest";
import { Refused } from "@/lib/access/refusal";
import { checkAppliances, crossCheckRegistry } from "@/lib/matching/cross-check.run";
import { loadNotices } from "@/lib/notices/notices.run";
import { decide } from "@/lib/registry/decision";
import { undecidedCandidates } from "@/lib/registry/decision-list";
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
  hazard: "The heating element can overheat and ignite the housing, a fire hazard.",
};

async function start(open: () => Promise<FreshDatabase>, row: ListRow = heater) {
  const database = await open();
  const { db } = database;
  const organisation = await makeOrganisation(db);
  const actor = await makeActor(db, organisation.id, "inspector");
  const manager = await makeActor(db, organisation.id, "manager");
  const { site, unit } = await makeSite(db, organisation.id);
  const at = { organisationId: organisation.id, siteId: site.id, unitId: unit.id };
  const facts = { brand: "Keldamar", model: "HT-1500C", category: "heater" };
  const appliances = [];
  for (const tag of ["T-1", "T-2", "T-3"]) appliances.push(await makeAppliance(db, at, tag, facts));
  const load = (rows: readonly ListRow[], on: number) =>
    loadNotices(db, manager, { source: asFile(plainList(rows)), fileName: "list.csv", now: day(on) });
  await load([row], 1);
  const candidates = await db.candidate.findMany({ include: { appliance: true }, orderBy: { appliance: { tag: "asc" } } });
  const [first] = candidates;
  if (!first) throw new Error("no candidate was raised");
  return { ...database, organisation, actor, at, appliances, load, candidates, first };
}

eachDatabase("deciding on candidates", (open) => {
  it("stores the decision with its reason, bound to the notice's wording, and takes it off the work", async () => {
    const { db, actor, first, candidates, close } = await start(open);
    expect(candidates).toHaveLength(3);
    expect((await undecidedCandidates(db, actor)).total).toBe(3);
    await decide(db, actor, { candidateId: first.id, verdict: "not_affected", reason: "Rev. D on the plate.", now: day(2) });
    expect(await db.decision.findMany()).toMatchObject([
      { verdict: "not_affected", reason: "Rev. D on the plate.", noticeHash: first.noticeHash, byUserId: actor.userId, grade: first.grade },
    ]);
    expect((await db.candidate.findUniqueOrThrow({ where: { id: first.id } })).standing).toBe("not_affected");
    const waiting = await undecidedCandidates(db, actor, { take: 1 });
    expect([waiting.total, waiting.rows.length]).toEqual([2, 1]);
    await close();
  });

  it("decides for all identical appliances at once and opens one finding each, however often", async () => {
    const { db, actor, first, appliances, close } = await start(open);
    const input = {
      candidateId: first.id,
      verdict: "affected",
      reason: "Listed model.",
      applianceIds: appliances.map(({ id }) => id),
    } as const;
    expect((await decide(db, actor, { ...input, now: day(2) })).findingIds).toHaveLength(3);
    await decide(db, actor, { ...input, now: day(3) });
    const findings = await db.finding.findMany();
    expect(findings).toHaveLength(3);
    expect(findings[0]).toMatchObject({ cause: "recall", signalWord: "DANGER", state: "open", noticeId: first.noticeId });
    expect(await db.decision.count({ where: { replacedAt: null } })).toBe(3);
    expect(await db.decision.count()).toBe(6);
    await close();
  });

  it("survives loading the same list again and a full run", async () => {
    const { db, actor, first, load, close } = await start(open);
    await decide(db, actor, { candidateId: first.id, verdict: "unsure", reason: "Plate worn.", now: day(2) });
    await load([heater], 3);
    await crossCheckRegistry(db, actor, { now: day(4) });
    expect(await db.decision.findMany()).toMatchObject([{ verdict: "unsure", reopenedAt: null, replacedAt: null }]);
    expect((await db.candidate.findUniqueOrThrow({ where: { id: first.id } })).standing).toBe("unsure");
    await close();
  });

  it("is kept and reopened with the reason when the notice is amended", async () => {
    const { db, actor, first, load, close } = await start(open);
    await decide(db, actor, { candidateId: first.id, verdict: "not_affected", reason: "Looked at it.", now: day(2) });
    await load([{ ...heater, remedy: "Full refund." }], 3);
    expect(await db.decision.findMany()).toMatchObject([
      { verdict: "not_affected", reopenedAt: day(3), reopenedWhy: "The notice was amended; the new wording was loaded on 2026-03-03." },
    ]);
    const candidate = await db.candidate.findUniqueOrThrow({ where: { id: first.id }, include: { notice: true } });
    expect(candidate.standing).toBe("reopened");
    expect(candidate.noticeHash).toBe(candidate.notice.contentHash);
    expect((await db.recordEntry.findMany({ where: { what: "reopened a decision" } })).map(({ subjectId }) => subjectId)).toEqual([
      first.applianceId,
    ]);
    await close();
  });

  it("is kept when the appliance no longer fits, and reopened only where the comparison contradicts it", async () => {
    const { db, actor, candidates, close } = await start(open);
    const [one, two] = candidates;
    if (!one || !two) throw new Error("two candidates are needed");
    await decide(db, actor, { candidateId: one.id, verdict: "affected", reason: "Listed.", now: day(2) });
    await decide(db, actor, { candidateId: two.id, verdict: "not_affected", reason: "Another plate under the sticker.", now: day(2) });
    const other = { model: "ZZ-9000", modelKey: "ZZ9000" };
    await db.appliance.updateMany({ where: { id: { in: [one.applianceId, two.applianceId] } }, data: other });
    expect(await checkAppliances(db, actor, [one.applianceId, two.applianceId], day(3))).toMatchObject({
      removed: 0,
      changed: 2,
      reopened: 1,
    });
    const after = await db.candidate.findMany({ where: { id: { in: [one.id, two.id] } } });
    expect(Object.fromEntries(after.map(({ id, grade, standing }) => [id, [grade, standing]]))).toEqual({
      [one.id]: ["not_covered", "reopened"],
      [two.id]: ["not_covered", "not_affected"],
    });
    await close();
  });

  it("refuses an empty reason, a stranger among the chosen, an amended wording, and who may not", async () => {
    const { db, actor, at, first, organisation, close } = await start(open);
    const stranger = await makeAppliance(db, at, "T-9", { brand: "Sundrake", model: "PX-20" });
    const input = { candidateId: first.id, verdict: "affected", reason: "Listed.", now: day(2) } as const;
    await expect(decide(db, actor, { ...input, verdict: "not_affected", reason: " " })).rejects.toThrow("A decision needs its reason");
    await expect(decide(db, actor, { ...input, applianceIds: [first.applianceId, stranger.id] })).rejects.toThrow("not identical");
    await expect(decide(db, actor, { ...input, noticeHash: "older" })).rejects.toThrow("was amended while");
    await expect(decide(db, { ...actor, siteIds: [] }, input)).rejects.toThrow("no such candidate");
    await expect(decide(db, await makeActor(db, organisation.id, "surveyor"), input)).rejects.toThrow(Refused);
    const abroad = await makeOrganisation(db, "Quay Lettings");
    await expect(decide(db, await makeActor(db, abroad.id, "inspector"), input)).rejects.toThrow("no such candidate");
    expect(await db.decision.count()).toBe(0);
    expect(await db.finding.count()).toBe(0);
    await close();
  });
});
