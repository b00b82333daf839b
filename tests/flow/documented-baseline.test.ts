import { afterEach, beforeEach, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { ChangedMeanwhile, seenMark } from "@/lib/access/changed-meanwhile";
import { getAppliance } from "@/lib/registry/appliance";
import { applianceColumns } from "@/lib/registry/appliance-columns";
import { baselineForm, baselineSeen, documentBaseline, viewBaseline } from "@/lib/registry/documented-baseline";
import { placeHold } from "@/lib/registry/hold";
import { newId } from "@/lib/store/ids";
import { loadLog } from "@/lib/watch/log.run";
import { screenRegistry } from "@/lib/watch/screening.run";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { unreadFacts } from "@/seed/recall-builders";
import { eachDatabase, type FreshDatabase } from "../support/database";
import { follow } from "../support/following";

const now = new Date("2026-03-31T10:00:00Z");
const zone = "America/Chicago";

eachDatabase("The documented baseline of an appliance", (open) => {
  let fresh: FreshDatabase;
  let manager: Actor;
  let id: string;
  let siteId: string;

  beforeEach(async () => {
    fresh = await open();
    const { id: organisationId } = await makeOrganisation(fresh.db);
    manager = await makeActor(fresh.db, organisationId);
    const { site, outlets } = await makeSite(fresh.db, organisationId);
    [id, siteId] = [newId(), site.id];
    const facts = { ...unreadFacts, category: "vacuum cleaner", labelText: "120V 60Hz 1200W" };
    const place = { organisationId, siteId, outletId: outlets[0]!.id, receptacle: "1" };
    const columns = applianceColumns("K7-VACU", facts, 120);
    await fresh.db.appliance.create({ data: { id, ...place, tag: "K7-VACU", ...facts, ...columns, updatedAt: now } });
  });
  afterEach(() => fresh.close());

  /** Ten minutes of running each day from 1 March on, by the day's draw. */
  async function load(draws: readonly number[]) {
    const startMs = Date.parse("2026-03-01T18:00:00Z");
    const lines = draws.flatMap((watts, day) =>
      Array.from({ length: 10 }, (_, minute) => {
        const at = new Date(startMs + day * 86_400_000 + minute * 60_000).toISOString();
        return `${at},Alder House A-1-1,upper,K7-VACU,${watts}`;
      }),
    );
    async function* source() {
      yield ["at,outlet,receptacle,tag,watts", ...lines].join("\n");
    }
    return loadLog(fresh.db, manager, { source: source(), fileName: "log.csv", now, clock: () => now });
  }

  const document = (part: Record<string, string>, by = manager) =>
    documentBaseline(fresh.db, by, { ...baselineForm.parse({ id, use: "days", reason: "Serviced on 6 March.", ...part }), now });
  const march = { from: "2026-03-08", to: "2026-03-09" };
  const stored = () => fresh.db.appliance.findUniqueOrThrow({ where: { id } });
  const entries = () => fresh.db.recordEntry.findMany({ where: { subjectId: id }, orderBy: { number: "asc" } });
  const drifts = () => fresh.db.screeningResultRow.findMany({ where: { kind: "drift" } });
  const view = async () => viewBaseline(fresh.db, await getAppliance(fresh.db, manager, id), zone);

  test("is recorded with who, when and why, the kept readings are judged anew by it, and by the first days when it is cleared", async () => {
    await load([...Array<number>(7).fill(800), 500, 500, 600, 600, 600]);
    expect(await drifts()).toEqual([]);
    await document(march);
    expect(await stored()).toMatchObject({ baselineFrom: "2026-03-08", baselineTo: "2026-03-09", version: 2 });
    expect(await view()).toEqual({
      days: "8 to 9 March 2026",
      isMeasured: true,
      said: { who: "Robin manager", at: now, reason: "Serviced on 6 March." },
    });
    expect((await screenRegistry(fresh.db, manager, { now })).account.created).toBe(1);
    const [drift] = await drifts();
    expect(drift).toMatchObject({ applianceId: id, limit: expect.closeTo(580, 0) });
    expect(JSON.stringify(drift)).toContain("Baseline of 8 to 9 March 2026, documented.");
    await document({ use: "first", reason: "Entered for the wrong one." });
    expect((await screenRegistry(fresh.db, manager, { now })).account.gone).toBe(1);
    expect(await view()).toMatchObject({ days: null, said: { reason: "Entered for the wrong one." } });
    const none = { baselineFrom: null, baselineTo: null };
    const days = { baselineFrom: "2026-03-08", baselineTo: "2026-03-09" };
    expect((await entries()).filter(({ what }) => what.startsWith("baseline"))).toMatchObject([
      { what: "baseline documented", actor: manager.userId, before: none, after: { ...days, reason: "Serviced on 6 March." } },
      { what: "baseline back to its first days", before: days, after: { ...none, reason: "Entered for the wrong one." } },
    ]);
  });

  test("is noticed where readings are followed: everything kept is judged by another ground, once", async () => {
    await load([...Array<number>(7).fill(800), 500, 500, 600, 600, 600]);
    await document(march);
    const anew = async () => (await follow(fresh.db, manager.organisationId, siteId, { isAnew: () => true })).anew;
    expect(await anew()).toBe("ground");
    expect(await drifts()).toMatchObject([{ limit: expect.closeTo(580, 0) }]);
    expect(await anew()).toBeNull();
  });

  test("on days without a reading is said to be none", async () => {
    await load([800, 800]);
    await document({ from: "2026-03-20", to: "2026-03-21" });
    expect(await view()).toMatchObject({ days: "20 to 21 March 2026", isMeasured: false });
  });

  test.each<[string, Record<string, string>, RegExp]>([
    ["days in the future", { ...march, to: "2026-04-01" }, /in the future/],
    ["reversed days", { from: "2026-03-09", to: "2026-03-08" }, /before the first/],
    ["more than 366 days", { from: "2025-03-01", to: "2026-03-02" }, /That is 367 days/],
    ["a day that is none", { from: "2026-02-30", to: "2026-03-08" }, /Write the day as YYYY-MM-DD/],
    ["no last day", { from: "2026-03-08", to: "" }, /Write the day as YYYY-MM-DD/],
    ["no reason", { ...march, reason: " " }, /Write why/],
    ["going back to the first days where they count already", { use: "first" }, /count already/],
  ])("refuses %s, and writes nothing", async (_, part, sentence) => {
    await expect(document(part)).rejects.toThrow(sentence);
    expect([(await stored()).version, (await entries()).length]).toEqual([1, 0]);
  });

  test("takes today by the site's clock, and refuses tomorrow", async () => {
    const late = new Date("2026-04-01T03:00:00Z");
    const at = (to: string) =>
      documentBaseline(fresh.db, manager, {
        ...baselineForm.parse({ id, use: "days", reason: "New filter.", from: "2026-03-30", to }),
        now: late,
      });
    await expect(at("2026-04-01")).rejects.toThrow(/up to 2026-03-31/);
    await at("2026-03-31");
  });

  test("refuses days whose readings are no longer kept one by one", async () => {
    await load([800]);
    await fresh.db.siteStream.updateMany({ where: { siteId }, data: { rawFrom: new Date("2026-03-15T05:00:00Z") } });
    await expect(document(march)).rejects.toThrow(/one by one from 2026-03-15 on/);
    await document({ from: "2026-03-09", to: "2026-03-15" });
  });

  test("is refused to another site's manager, to who may not edit appliances, to another organisation and while a hold is placed", async () => {
    const { organisationId } = manager;
    const inspector = await makeActor(fresh.db, organisationId, "inspector");
    await expect(document(march, inspector)).rejects.toThrow(/may not edit appliances/);
    const { site } = await makeSite(fresh.db, organisationId, "Birch House");
    const elsewhere = await makeActor(fresh.db, organisationId, "manager", [site.id]);
    await expect(document(march, elsewhere)).rejects.toThrow(/not at this site/);
    const stranger = await makeActor(fresh.db, (await makeOrganisation(fresh.db, "Other Estates")).id);
    await expect(document(march, stranger)).rejects.toThrow(/not in the registry/);
    await placeHold(fresh.db, manager, { kind: "appliance", id, why: "The insurer asks.", now });
    await expect(document(march)).rejects.toThrow(/hold|held/);
    expect((await stored()).baselineFrom).toBeNull();
  });

  test("is not saved over another's unseen", async () => {
    const seen = seenMark(baselineSeen(await stored()));
    await document({ ...march, seen });
    const mine = { from: "2026-03-01", to: "2026-03-02", seen };
    const error = await document(mine).then(
      () => null,
      (thrown: unknown) => thrown,
    );
    expect(error).toBeInstanceOf(ChangedMeanwhile);
    expect((error as ChangedMeanwhile).meanwhile.theirs).toEqual({ from: "2026-03-08", to: "2026-03-09" });
    await document({ ...mine, seen: (error as ChangedMeanwhile).meanwhile.mark.value });
    expect(await stored()).toMatchObject({ baselineFrom: "2026-03-01" });
  });
});
