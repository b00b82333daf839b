import fc from "fast-check";
import { expect, it } from "vitest";
import { type Actor, commandLineActor } from "@/lib/access/actor";
import { Refused } from "@/lib/access/refusal";
import { checkTagCode } from "@/lib/identity/tag-code";
import { labelColumns } from "@/lib/registry/label-columns";
import { type LabelsInput, loadLabels } from "@/lib/registry/labels-import";
import type { Store } from "@/lib/store/client";
import { findSetAside } from "@/lib/store/import-queries";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { bytesOf, csvText } from "../support/csv";
import { eachDatabase, type FreshDatabase } from "../support/database";

type Row = Readonly<Record<string, string>>;

const now = new Date("2026-02-03T10:00:00Z");

async function withOrganisation<T>(open: () => Promise<FreshDatabase>, work: (db: Store, actor: Actor) => Promise<T>): Promise<T> {
  const { db, close } = await open();
  try {
    return await work(db, commandLineActor((await makeOrganisation(db)).id));
  } finally {
    await close();
  }
}

const load = (db: Store, actor: Actor, rows: readonly Row[], more: Partial<LabelsInput> = {}) =>
  loadLabels(db, actor, { source: bytesOf(csvText(labelColumns, rows)), fileName: "labels.csv", now, ...more });

const counts = ({ rowsRead, created, updated, unchanged, setAside }: Awaited<ReturnType<typeof load>>) => [
  rowsRead,
  created,
  updated,
  unchanged,
  setAside,
];

const heater: Row = {
  tag: "T-1",
  site: "Alder House",
  unit: "0101",
  brand: "Keldamar",
  model: "HT-1500C",
  serial: "S-1",
  rated_watts: "1500",
};

eachDatabase("a labels file", (open) => {
  it("tells the same appliance by its tag, changes what differs, and never erases by an empty cell", async () => {
    await withOrganisation(open, async (db, actor) => {
      expect(counts(await load(db, actor, [heater]))).toEqual([1, 1, 0, 0, 0]);
      expect(counts(await load(db, actor, [heater]))).toEqual([1, 0, 0, 1, 0]);
      const later = { ...heater, serial: "", rated_watts: "", brand: "KELDAMAR GmbH", notes: "seen" };
      expect(counts(await load(db, actor, [later]))).toEqual([1, 0, 1, 0, 0]);
      const [appliance] = await db.appliance.findMany();
      expect(appliance).toMatchObject({ brand: "KELDAMAR GmbH", serial: "S-1", ratedWatts: 1500, notes: "seen", version: 2 });
      expect(await db.placement.count()).toBe(1);
    });
  });

  it("tells an untagged row by site, unit, brand, model and serial, and gives it a tag of our own issue", async () => {
    await withOrganisation(open, async (db, actor) => {
      const untagged = { ...heater, tag: "" };
      await load(db, actor, [untagged, { ...untagged, serial: "S-2" }]);
      expect(
        counts(
          await load(db, actor, [
            { ...untagged, owner: "the house" },
            { ...untagged, unit: "0102" },
          ]),
        ),
      ).toEqual([2, 1, 1, 0, 0]);
      const appliances = await db.appliance.findMany();
      expect(appliances.length).toBe(3);
      expect(appliances.every((one) => one.tagIssued && checkTagCode(one.tag).ok)).toBe(true);
      expect(await db.tagCode.count()).toBe(3);
    });
  });

  it("tells rows with neither tag nor serial by their whole content and how-manieth they are", async () => {
    await withOrganisation(open, async (db, actor) => {
      const bare = { site: "Alder House", unit: "0101", brand: "Ostrel", model: "KL-17" };
      expect(counts(await load(db, actor, [bare, bare, { ...bare, unit: "0102" }]))).toEqual([3, 3, 0, 0, 0]);
      expect(counts(await load(db, actor, [bare, bare, bare]))).toEqual([3, 1, 0, 2, 0]);
      expect(counts(await load(db, actor, [{ ...bare, notes: "other" }]))).toEqual([1, 1, 0, 0, 0]);
    });
  });

  it("reads model, serial and date code from the plate's text where their cells are empty", async () => {
    await withOrganisation(open, async (db, actor) => {
      const plate = "Ostrel | MODEL KL-17 | S/N 0042 | DATE CODE 2416 | 120V~ 60Hz 1500W";
      const row = { site: "Alder House", unit: "0101", brand: "Ostrel", label_text: plate };
      await load(db, actor, [row]);
      expect(counts(await load(db, actor, [row]))).toEqual([1, 0, 0, 1, 0]);
      expect(await db.appliance.findFirst()).toMatchObject({ model: "KL-17", serial: "0042", dateCode: "2416", inputWatts: 1500 });
    });
  });

  it("sets aside a mistyped tag of our own with the likely reading, and keeps foreign codes as they are", async () => {
    await withOrganisation(open, async (db, actor) => {
      await load(db, actor, [{ ...heater, tag: "" }]);
      const own = (await db.appliance.findFirstOrThrow()).tag;
      const mistyped = `${own.slice(0, -1)}${own.endsWith("A") ? "B" : "A"}`;
      const account = await load(db, actor, [
        { ...heater, tag: mistyped },
        { ...heater, tag: "pw-inventory/00017" },
        { ...heater, tag: own, unit: "0109" },
      ]);
      expect(counts(account)).toEqual([3, 1, 1, 0, 1]);
      const [aside] = await findSetAside(db, account.id, -1, 10);
      expect(aside?.reason).toContain("mistyped");
      expect(await db.appliance.findFirst({ where: { tag: "pw-inventory/00017" } })).toMatchObject({ tagIssued: false });
    });
  });

  it("sets aside what it cannot read, with line, reason and content, and counts it", async () => {
    await withOrganisation(open, async (db, actor) => {
      const account = await load(db, actor, [heater, { ...heater, site: "" }, { ...heater, tag: "T-2", made: "last spring" }]);
      expect(counts(account)).toEqual([3, 1, 0, 0, 2]);
      const rows = await findSetAside(db, account.id, -1, 10);
      expect(rows.map((row) => [row.line, row.reason.split(":")[0]])).toEqual([
        [3, "site"],
        [4, "made"],
      ]);
      expect(rows[1]?.content).toContain("last spring");
    });
  });

  it("brings a row in without a cell that cannot be read when that is chosen, and keeps its words in the notes", async () => {
    await withOrganisation(open, async (db, actor) => {
      const account = await load(db, actor, [{ ...heater, made: "last spring" }], { unreadableCells: "leave_out" });
      expect(counts(account)).toEqual([1, 1, 0, 0, 0]);
      expect(await db.appliance.findFirst()).toMatchObject({ made: null, notes: "made not read: last spring" });
    });
  });

  it("moves an appliance whose place differs and keeps where it was", async () => {
    await withOrganisation(open, async (db, actor) => {
      await load(db, actor, [heater]);
      const later = new Date("2026-03-01T00:00:00Z");
      expect(counts(await load(db, actor, [{ ...heater, unit: "0102" }], { now: later }))).toEqual([1, 0, 1, 0, 0]);
      const stays = await db.placement.findMany({ orderBy: { fromAt: "asc" } });
      expect(stays.map((stay) => stay.toAt?.toISOString() ?? null)).toEqual([later.toISOString(), null]);
      expect(stays[1]?.unitId).toBe((await db.appliance.findFirst())?.unitId);
    });
  });

  it("does not move an appliance back when the same file comes again after it was moved", async () => {
    await withOrganisation(open, async (db, actor) => {
      await load(db, actor, [heater]);
      const appliance = await db.appliance.findFirstOrThrow();
      await db.appliance.update({ where: { id: appliance.id }, data: { unitId: null } });
      expect(counts(await load(db, actor, [heater]))).toEqual([1, 0, 0, 1, 0]);
      expect(counts(await load(db, actor, [{ ...heater, owner: "Robin" }]))).toEqual([1, 0, 1, 0, 0]);
      expect(await db.appliance.findFirst()).toMatchObject({ unitId: null, owner: "Robin" });
    });
  });

  it("lets the first of two rows of one file hold, and sets aside a second that says otherwise", async () => {
    await withOrganisation(open, async (db, actor) => {
      const rows = [heater, { ...heater, notes: "more" }, { ...heater, brand: "Ostrel" }, { ...heater, unit: "0109" }];
      const account = await load(db, actor, rows);
      expect(counts(account)).toEqual([4, 1, 1, 0, 2]);
      const reasons = (await findSetAside(db, account.id, -1, 9)).map((row) => row.reason);
      expect(reasons[0]).toContain("Line 2 means the same appliance (T-1) and says otherwise of its brand (Keldamar there, Ostrel here)");
      expect(reasons[1]).toContain("of its place");
      expect(counts(await load(db, actor, rows))).toEqual([4, 0, 0, 2, 2]);
    });
  });

  it("makes unknown outlets without a rating and says so; an outlet that stands elsewhere is a contradiction", async () => {
    await withOrganisation(open, async (db, actor) => {
      const { site, outlets } = await makeSite(db, actor.organisationId);
      const known = outlets[0]?.name ?? "";
      const account = await load(db, actor, [
        { ...heater, outlet: "AH-new", receptacle: "upper" },
        { ...heater, tag: "T-2", unit: "", outlet: known, receptacle: "lower" },
        { ...heater, tag: "T-3", unit: "0999", outlet: known },
        { ...heater, tag: "T-4", site: "Birch Hall", outlet: known },
      ]);
      expect(counts(account)).toEqual([4, 2, 0, 0, 2]);
      expect(account.message).toContain("1 outlet was not known and was made without a rating: AH-new");
      expect(await db.outlet.findFirst({ where: { name: "AH-new" } })).toMatchObject({ siteId: site.id, outletAmps: null });
      expect(await db.appliance.findFirst({ where: { tag: "T-2" } })).toMatchObject({ unitId: outlets[0]?.unitId, receptacle: "2" });
      expect(await db.appliance.findFirst({ where: { tag: "T-1" } })).toMatchObject({ receptacle: "1" });
    });
  });

  it("never uses a voided tag again", async () => {
    await withOrganisation(open, async (db, actor) => {
      await db.tagCode.create({ data: { organisationId: actor.organisationId, tagKey: "T1", issuedAt: now, voidedAt: now } });
      const account = await load(db, actor, [heater]);
      expect(counts(account)).toEqual([1, 0, 0, 0, 1]);
      expect((await findSetAside(db, account.id, -1, 1))[0]?.reason).toContain("voided");
    });
  });

  it("refuses who may not, and holds others to their own sites", async () => {
    await withOrganisation(open, async (db, actor) => {
      const { site } = await makeSite(db, actor.organisationId);
      const inspector = await makeActor(db, actor.organisationId, "inspector");
      await expect(load(db, inspector, [heater])).rejects.toBeInstanceOf(Refused);
      expect(await db.importRun.count()).toBe(0);
      await load(db, actor, [{ ...heater, tag: "T-9", site: "Birch Hall" }]);
      const surveyor = await makeActor(db, actor.organisationId, "surveyor", [site.id]);
      const account = await load(db, surveyor, [
        heater,
        { ...heater, tag: "T-2", site: "Birch Hall" },
        { ...heater, tag: "T-9" },
        { ...heater, tag: "T-3", site: "New Site" },
      ]);
      expect(counts(account)).toEqual([4, 1, 0, 0, 3]);
      expect(await db.site.count({ where: { name: "New Site" } })).toBe(0);
    });
  });

  it("writes one record entry a chunk, in the transaction of the change", async () => {
    await withOrganisation(open, async (db, actor) => {
      const account = await load(db, actor, [heater, { ...heater, tag: "T-2" }]);
      const entries = await db.recordEntry.findMany({ where: { subjectId: account.id } });
      expect(entries.map((entry) => [entry.what, (entry.after as { created: number }).created])).toEqual([["brought in labels", 2]]);
    });
  });

  const cell = (...values: string[]) => fc.constantFrom("", ...values);
  const row = fc.record({
    tag: cell("T-1", "T-2", "t 1", "PW-AAA-AAAA", "--"),
    site: cell("Alder House", "alder  house", "Birch Hall"),
    unit: cell("0101", "0102"),
    brand: cell("Keldamar", "Ostrel"),
    serial: cell("S-1", "S-2"),
    made: cell("2020", "2020-13", "03/2021"),
    outlet: cell("AH-1", "BH-1"),
    rated_watts: cell("1500", "1.5 kW", "lots"),
  });

  it("accounts for every row of any file, and any file twice changes nothing", async () => {
    await withOrganisation(open, async (db) => {
      await fc.assert(
        fc.asyncProperty(fc.array(row, { maxLength: 14 }), async (rows) => {
          const actor = commandLineActor((await makeOrganisation(db)).id);
          const first = await load(db, actor, rows);
          expect(first.rowsRead).toBe(rows.filter((one) => Object.values(one).some((value) => value !== "")).length);
          expect(first.created + first.updated + first.unchanged + first.setAside).toBe(first.rowsRead);
          const before = await db.appliance.findMany({ where: { organisationId: actor.organisationId }, orderBy: { id: "asc" } });
          expect(before.length).toBe(first.created);
          expect(await db.setAsideRow.count({ where: { importRunId: first.id } })).toBe(first.setAside);
          const again = await load(db, actor, rows);
          expect([again.created, again.updated, again.setAside]).toEqual([0, 0, first.setAside]);
        }),
        { numRuns: 25 },
      );
    });
  });
});
