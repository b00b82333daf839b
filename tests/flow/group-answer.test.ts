import { expect, it } from "vitest";
import { Refused } from "@/lib/access/refusal";
import { checkAppliances } from "@/lib/matching/cross-check.run";
import { loadNotices } from "@/lib/notices/notices.run";
import { answerGroup } from "@/lib/registry/group-answer";
import { findCandidateList } from "@/lib/registry/recall-overview";
import { findUnidentified, getGroupReview } from "@/lib/registry/unidentified-groups";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { asFile, type ListRow, makeAppliance, plainList } from "@/seed/recall-builders";
import { eachDatabase, type FreshDatabase } from "../support/database";

const day = (number: number) => new Date(Date.UTC(2026, 2, number));
const source = "Office of Product Safety";
const fan = (number: string, title: string): ListRow => ({ source, number, title, brand: "Ostervale", product: "fan" });
const fans = [fan("26-121", "Ostervale Recalls Fans"), fan("26-140", "Ostervale Recalls Fans Due to Fire Hazard")];
const crib: ListRow = { source, number: "26-150", title: "Larkfield Recalls Cribs", brand: "Larkfield", product: "crib" };

async function start(open: () => Promise<FreshDatabase>) {
  const database = await open();
  const { db } = database;
  const organisation = await makeOrganisation(db);
  const actor = await makeActor(db, organisation.id);
  const { site, unit } = await makeSite(db, organisation.id);
  const at = { organisationId: organisation.id, siteId: site.id, unitId: unit.id };
  const bringIn = async (tag: string, on: number) => {
    const { id } = await makeAppliance(db, at, tag, { brand: "Ostervale", category: "fan" });
    await checkAppliances(db, actor, [id], day(on));
    return id;
  };
  const load = (rows: readonly ListRow[], on: number) =>
    loadNotices(db, actor, { source: asFile(plainList(rows)), fileName: "list.csv", now: day(on) });
  await load([...fans, crib], 1);
  const ids = [await bringIn("T-1", 1), await bringIn("T-2", 1)];
  const groups = () => findUnidentified(db, actor);
  const groupOf = async (maker: string) => (await groups()).find((group) => group.maker === maker);
  const groupId = (await groupOf("Ostervale"))?.id ?? "";
  const review = (as = actor) => getGroupReview(db, as, { groupId });
  const says = async (answer: "none" | "look", on: number, applianceIds: readonly string[] = [], as = actor) =>
    answerGroup(db, as, { groupId, answer, applianceIds, reason: `Looked on day ${on}.`, seen: (await review(as)).seen, now: day(on) });
  return { ...database, organisation, actor, site, ids, bringIn, load, groups, groupOf, groupId, review, says };
}

eachDatabase("notices without identifiers", (open) => {
  it("are one group by maker and kind, ask once for it, and stay off the list of candidates", async () => {
    const { db, actor, groups, review, close } = await start(open);
    expect((await groups()).map(({ maker, kind, state, pairs, open: waiting }) => [maker, kind, state, pairs, waiting])).toEqual([
      ["Ostervale", "fan", "asks", 4, 4],
      ["Larkfield", "crib", "silent", 0, 0],
    ]);
    expect((await review()).asking).toHaveLength(4);
    const everything = { search: "", state: "open", grade: "all", sort: "work", order: "asc", page: 1 } as const;
    expect((await findCandidateList(db, actor, everything)).total).toBe(0);
    await close();
  });

  it("are answered at once for all that wait, with decisions, reason and record", async () => {
    const { db, actor, groupOf, says, close } = await start(open);
    expect(await says("none", 2)).toEqual({ notAffected: 4, toLookAt: 0, findingIds: [] });
    expect(await groupOf("Ostervale")).toMatchObject({
      state: "answered",
      open: 0,
      answer: { answer: "none", by: actor.name, appliances: 2 },
    });
    const decisions = await db.decision.findMany();
    expect(decisions.map(({ verdict, reason }) => [verdict, reason])).toEqual(Array(4).fill(["not_affected", "Looked on day 2."]));
    const { id } = await db.groupAnswer.findFirstOrThrow();
    expect(new Set(decisions.map(({ groupAnswerId }) => groupAnswerId))).toEqual(new Set([id]));
    expect(await db.recordEntry.count({ where: { what: "answered for notices without identifiers" } })).toBe(1);
    expect(await db.finding.count()).toBe(0);
    await close();
  });

  it("keep the answer when the list is loaded again, and ask for a new appliance alone", async () => {
    const { load, bringIn, review, groupOf, says, close } = await start(open);
    await says("none", 2);
    await load([...fans, crib], 3);
    expect((await groupOf("Ostervale"))?.state).toBe("answered");
    await bringIn("T-3", 4);
    expect(await groupOf("Ostervale")).toMatchObject({ state: "asks", pairs: 6, open: 2 });
    const { asking, answered } = await review();
    expect([...new Set(asking.map(({ candidate }) => candidate.appliance.tag))]).toEqual(["T-3"]);
    expect(answered).toHaveLength(4);
    await close();
  });

  it("ask again when a notice changes, for its pairs only", async () => {
    const { load, review, groupOf, says, close } = await start(open);
    await says("none", 2);
    await load([{ ...(fans[0] as ListRow), hazard: "The fan can start by itself, a fire hazard." }, fans[1] as ListRow, crib], 3);
    expect((await groupOf("Ostervale"))?.state).toBe("asks");
    expect((await review()).asking.map(({ candidate }) => candidate.notice.number)).toEqual(["26-121", "26-121"]);
    await close();
  });

  it("send the appliances that may be meant to be looked at one by one, each with a finding", async () => {
    const { db, ids, review, says, close } = await start(open);
    expect(await says("look", 2, ids.slice(0, 1))).toMatchObject({ notAffected: 2, toLookAt: 2 });
    expect(await db.finding.findMany()).toMatchObject([{ signalWord: "NOTICE" }, { signalWord: "NOTICE" }]);
    expect((await review()).answered.map(({ candidate }) => candidate.standing).sort()).toEqual([
      "not_affected",
      "not_affected",
      "unsure",
      "unsure",
    ]);
    await close();
  });

  it("can be answered before any appliance is there, until the notice changes", async () => {
    const { db, actor, load, groupOf, close } = await start(open);
    const group = await groupOf("Larkfield");
    const { seen } = await getGroupReview(db, actor, { groupId: group?.id ?? "" });
    await answerGroup(db, actor, { groupId: group?.id ?? "", answer: "none", reason: "No cribs here.", seen, now: day(2) });
    expect((await groupOf("Larkfield"))?.state).toBe("answered");
    await load([...fans, { ...crib, remedy: "Refund." }], 3);
    expect((await groupOf("Larkfield"))?.state).toBe("amended");
    await close();
  });

  it("refuse an answer to what changed meanwhile, none chosen, a stranger, and who may not", async () => {
    const { db, actor, organisation, site, ids, groupId, review, bringIn, says, close } = await start(open);
    const { seen } = await review();
    await bringIn("T-4", 2);
    const input = { groupId, answer: "none", reason: "None here.", seen, now: day(3) } as const;
    await expect(answerGroup(db, actor, input)).rejects.toThrow("while you looked");
    await expect(says("look", 3)).rejects.toThrow("Choose the appliances");
    await expect(says("look", 3, ["stranger"])).rejects.toThrow("do not wait for this answer");
    await expect(says("none", 3, ids, await makeActor(db, organisation.id, "surveyor"))).rejects.toThrow(Refused);
    const elsewhere = await makeActor(db, organisation.id, "inspector", []);
    await expect(says("none", 3, [], elsewhere)).rejects.toThrow("Nothing at your sites waits");
    expect(await db.groupAnswer.count()).toBe(0);
    expect((await says("none", 4, [], await makeActor(db, organisation.id, "inspector", [site.id]))).notAffected).toBe(6);
    await close();
  });
});
