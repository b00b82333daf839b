import fc from "fast-check";
import { expect, it } from "vitest";
import { Refused } from "@/lib/access/refusal";
import { checkAppliances, crossCheckRegistry } from "@/lib/matching/cross-check.run";
import { loadNotices } from "@/lib/notices/notices.run";
import type { Store } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";
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
const windowed: ListRow = { ...heater, number: "26-120", serials: "KM2331-000001 through KM2409-999999" };

async function start(open: () => Promise<FreshDatabase>) {
  const database = await open();
  const { db } = database;
  const organisation = await makeOrganisation(db);
  const actor = await makeActor(db, organisation.id);
  const { site, unit } = await makeSite(db, organisation.id);
  const at = { organisationId: organisation.id, siteId: site.id, unitId: unit.id };
  const load = (rows: readonly ListRow[], on: number) =>
    loadNotices(db, actor, { source: asFile(plainList(rows)), fileName: "list.csv", now: day(on) });
  return { ...database, organisation, actor, at, load };
}

/** The candidates without what differs by chance or time. */
async function candidatesOf(db: Store) {
  const rows = await db.candidate.findMany({ include: { notice: true, appliance: true } });
  return rows
    .map(({ grade, score, reasons, ask, standing, rank, noticeHash, notice, appliance }) => ({
      pair: `${notice.number} ${appliance.tag}`,
      ...{ grade, score, reasons, ask, standing, rank },
      isCurrent: noticeHash === notice.contentHash,
    }))
    .sort((a, b) => (a.pair < b.pair ? -1 : 1));
}

eachDatabase("comparing the registry with its lists", (open) => {
  it("raises candidates when a list is loaded, with grade, reasons that add up to the score, and the question", async () => {
    const { db, at, load, close } = await start(open);
    await makeAppliance(db, at, "T-1", { brand: "Keldamar", model: "HT-1500C", category: "heater" });
    await makeAppliance(db, at, "T-2", { brand: "Sundrake", model: "PX-20", category: "kettle" });
    const { compared } = await load([windowed], 1);
    expect(compared).toMatchObject({ notices: 1, appliances: 1, added: 1 }); // the other is out of the notice's reach
    const [candidate, ...more] = await db.candidate.findMany();
    expect(more).toEqual([]);
    expect(candidate).toMatchObject({ grade: "check_label", standing: "undecided" });
    expect(candidate?.ask).toMatchObject({ field: "serial" });
    const reasons = candidate?.reasons as { weight: number }[];
    expect(reasons.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(candidate?.score ?? Number.NaN, 6);
    await close();
  });

  it("compares a new or edited appliance alone, and lets a candidate go that its facts no longer raise", async () => {
    const { db, actor, at, load, close } = await start(open);
    await load([heater], 1);
    const one = await makeAppliance(db, at, "T-1", { brand: "Keldamar", model: "HT-1500C", category: "heater" });
    const other = await makeAppliance(db, at, "T-2", { brand: "Keldamar", model: "HT-1500B", category: "heater" });
    expect(await checkAppliances(db, actor, [one.id], day(2))).toMatchObject({ appliances: 1, added: 1 });
    expect(await db.candidate.count()).toBe(1);
    await checkAppliances(db, actor, [other.id], day(2));
    await db.appliance.update({ where: { id: one.id }, data: { brand: "Ostervale", model: "Q9", brandKey: "OSTERVALE", modelKey: "Q9" } });
    expect(await checkAppliances(db, actor, [one.id], day(3))).toMatchObject({ removed: 1 });
    expect((await candidatesOf(db)).map(({ pair }) => pair)).toEqual(["26-114 T-2"]);
    await close();
  });

  it("keeps a pair whose serial is outside the window as ruled out, with the fact that rules it out", async () => {
    const { db, at, load, close } = await start(open);
    await makeAppliance(db, at, "T-1", { brand: "Keldamar", model: "HT-1500C", serial: "KM2501-000077", category: "heater" });
    await load([windowed], 1);
    const [candidate] = await candidatesOf(db);
    expect(candidate).toMatchObject({ grade: "not_covered", rank: 20 });
    expect(candidate?.reasons).toContainEqual(expect.objectContaining({ field: "serial", level: "serial.outside" }));
    await close();
  });

  it("compares more appliances at once than one question has room for", async () => {
    const { db, actor, at, load, close } = await start(open);
    const one = await makeAppliance(db, at, "T-0", { brand: "Keldamar", model: "HT-1500C", category: "heater" });
    const many = Array.from({ length: 1100 }, (_, number) => ({ ...one, id: newId(), tag: `T-${number + 1}`, tagKey: `T${number + 1}` }));
    await db.appliance.createMany({ data: many });
    expect((await load([heater], 1)).compared).toMatchObject({ appliances: 1101, added: 1101 });
    const ids = [one, ...many].map(({ id }) => id);
    expect(await checkAppliances(db, actor, ids, day(2))).toMatchObject({ appliances: 1101, added: 0, unchanged: 1101 });
    await close();
  });

  it("changes nothing when it is run again, and leaves retired appliances out", async () => {
    const { db, actor, at, load, close } = await start(open);
    await makeAppliance(db, at, "T-1", { brand: "Keldamar", model: "HT-1500C", category: "heater" });
    const retired = await makeAppliance(db, at, "T-2", { brand: "Keldamar", model: "HT-1500C", category: "heater" });
    await db.appliance.update({ where: { id: retired.id }, data: { state: "retired" } });
    await load([heater], 1);
    const before = await db.candidate.findMany();
    expect(await crossCheckRegistry(db, actor, { now: day(2) })).toMatchObject({
      appliances: 1,
      added: 0,
      changed: 0,
      removed: 0,
      unchanged: 1,
    });
    expect(await db.candidate.findMany()).toEqual(before);
    await close();
  });

  it("compares again what a broken-off load left uncompared", async () => {
    const { db, actor, at, load, close } = await start(open);
    await makeAppliance(db, at, "T-1", { brand: "Keldamar", model: "HT-1500C", category: "heater" });
    await load([heater], 1);
    await db.candidate.deleteMany();
    await db.notice.updateMany({ data: { checkedAt: null } });
    expect((await load([heater], 2)).compared).toMatchObject({ added: 1 });
    expect(await db.notice.count({ where: { checkedAt: null } })).toBe(0);
    await expect(crossCheckRegistry(db, { ...actor, role: "surveyor" }, { now: day(2) })).rejects.toThrow(Refused);
    await close();
  });

  it("reads every notice afresh in a full run, so that a better reading takes effect", async () => {
    const { db, actor, at, load, close } = await start(open);
    await makeAppliance(db, at, "T-1", { brand: "Keldamar", model: "HT-1500C", category: "heater" });
    await load([heater], 1);
    const stored = await db.notice.findFirstOrThrow();
    const worse = { ...(stored.coverage as object), models: { stated: "listed", include: ["HT-9"], exclude: [] } };
    await db.notice.update({ where: { id: stored.id }, data: { coverage: worse, coverageHash: "older" } });
    const one = await db.appliance.findFirstOrThrow();
    expect(await checkAppliances(db, actor, [one.id], day(2))).toMatchObject({ removed: 1 });
    expect(await crossCheckRegistry(db, actor, { now: day(3) })).toMatchObject({ added: 1 });
    expect((await db.notice.findFirstOrThrow()).coverageHash).toBe(stored.coverageHash);
    await close();
  });
});

const makers = ["Keldamar", "Sundrake", "Ostervale", "Kel-damar Inc", "Keldamar Home", "Keldmar"];
const models = ["HT-1500B", "HT-1500C", "HT-15O0C", "HT-1500CX", "PX-20", "PX-2#", "QR-77*", "QRST-77*", "*-900KD"];
const listRow = fc.record({
  brand: fc.constantFrom(...makers),
  product: fc.constantFrom("heater", "kettle", "fan"),
  models: fc.constantFrom(...models, ""),
  upc: fc.constantFrom("", "", "036000291452"),
  serials: fc.constantFrom("", "A100 through A199", "beginning with B2"),
});
const plate = fc.record({
  brand: fc.constantFrom(...makers, null),
  model: fc.constantFrom(
    ...models.filter((model) => !/[#*]/.test(model)),
    ...[
      "ht 1500",
      "HT-500C",
      "HTT-1500C",
      "TH-1500C",
      "HT-1500B / HT-1500C",
      "Keldamar HT-1500C",
      "PX-27",
      "QSRT-771",
      "A-9OOKD",
      "Ω",
      null,
    ],
  ),
  upc: fc.constantFrom(null, null, "0 36000 29145 2"),
  labelText: fc.constantFrom(null, null, "Keldamar | HT-1500C | 120V", "MODEL PX-20 120V 60Hz"),
  serial: fc.constantFrom("A150", "A250", "B2001", null),
  category: fc.constantFrom("heater", "kettle", null),
});

eachDatabase("checking piece by piece", (open) => {
  it("comes to the same candidates as checking all at once, whatever came first", async () => {
    const story = fc.record({
      first: fc.array(listRow, { maxLength: 4 }),
      second: fc.array(listRow, { maxLength: 4 }),
      plates: fc.array(plate, { maxLength: 8 }),
    });
    await fc.assert(
      fc.asyncProperty(story, async ({ first, second, plates }) => {
        const numbered = (rows: typeof first, from: number): ListRow[] =>
          rows.map((row, at) => ({
            ...row,
            source: "Office of Product Safety",
            number: `N-${from + at}`,
            title: `${row.brand} recalls ${row.product}`,
          }));
        const early = numbered(first, 1);
        const late = numbered(second, 3);
        const pieces = await start(open);
        if (early.length > 0) await pieces.load(early, 1);
        for (const [at, facts] of plates.entries()) {
          const { id } = await makeAppliance(pieces.db, pieces.at, `T-${at}`, facts);
          await checkAppliances(pieces.db, pieces.actor, [id], day(2));
        }
        // the later list amends some notices of the earlier, adds some and leaves some out
        if (late.length > 0) await pieces.load(late, 3);
        const byPieces = await candidatesOf(pieces.db);
        expect(await crossCheckRegistry(pieces.db, pieces.actor, { now: day(4) })).toMatchObject({ added: 0, changed: 0, removed: 0 });
        expect(await candidatesOf(pieces.db)).toEqual(byPieces);
        await pieces.db.candidate.deleteMany();
        await crossCheckRegistry(pieces.db, pieces.actor, { now: day(5) });
        expect(await candidatesOf(pieces.db)).toEqual(byPieces);
        await pieces.close();
      }),
      { numRuns: 12, seed: 20260301 },
    );
  });
});
