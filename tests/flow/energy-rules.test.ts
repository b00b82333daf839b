import { afterEach, beforeEach, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { applianceColumns } from "@/lib/registry/appliance-columns";
import { addDemandEvent, demandForm, demandView } from "@/lib/registry/demand-response";
import { exportEnergy } from "@/lib/registry/energy-export";
import { addLimit, judgeLimits, limitForm } from "@/lib/registry/energy-limit";
import { setMeter } from "@/lib/registry/energy-meter";
import { energyQuery, energyView } from "@/lib/registry/energy-view";
import { reconnectionView } from "@/lib/registry/reconnection";
import { saveSitePolicy } from "@/lib/registry/site-policy-change";
import { addTariff, takeRuleAway, tariffForm } from "@/lib/registry/tariff";
import { replaceEnergyHours } from "@/lib/store/energy-queries";
import { newId } from "@/lib/store/ids";
import { kilowattHours } from "@/lib/watch/energy-sum";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { unreadFacts } from "@/seed/recall-builders";
import { eachDatabase, type FreshDatabase } from "../support/database";
import { energyRow, hourMs } from "../support/energy-rows";

const now = new Date("2026-03-20T10:00:00Z");
/** Midnight in Chicago, Monday, 2 March 2026. */
const monday = Date.parse("2026-03-02T06:00:00Z");
const dayMs = 24 * hourMs;

eachDatabase("What a site states about its energy", (open) => {
  let fresh: FreshDatabase;
  let manager: Actor;
  let place: Awaited<ReturnType<typeof makeSite>>;
  let siteId: string;

  beforeEach(async () => {
    fresh = await open();
    const { id: organisationId } = await makeOrganisation(fresh.db);
    manager = await makeActor(fresh.db, organisationId);
    place = await makeSite(fresh.db, organisationId);
    siteId = place.site.id;
  });
  afterEach(() => fresh.close());

  async function plug(tag: string, at: number, part: { state?: "in_use" | "out_of_use"; labelText?: string } = {}): Promise<string> {
    const id = newId();
    const facts = { ...unreadFacts, category: "space heater", labelText: part.labelText ?? "120V 600W" };
    const home = {
      organisationId: manager.organisationId,
      siteId,
      unitId: place.unit.id,
      outletId: place.outlets[at]!.id,
      receptacle: "1",
    };
    const columns = applianceColumns(tag, facts, 120);
    await fresh.db.appliance.create({
      data: { id, tag, state: part.state ?? "in_use", ...home, ...facts, ...columns, createdAt: now, updatedAt: now },
    });
    return id;
  }

  /** Books whole days of one power for an appliance at the first outlet. */
  async function book(applianceId: string, days: readonly number[], watts: number, outlet = 0): Promise<void> {
    const at = {
      siteId,
      unitId: place.unit.id,
      circuitId: outlet < 2 ? place.circuit.id : null,
      outletId: place.outlets[outlet]!.id,
      applianceId,
    };
    const rows = days.flatMap((day) => Array.from({ length: 24 }, (_, hour) => energyRow(monday + day * dayMs + hour * hourMs, watts, at)));
    await replaceEnergyHours(fresh.db, manager.organisationId, [], rows);
  }

  const view = (part: Record<string, string> = {}) => energyView(fresh.db, manager, energyQuery.parse({ site: siteId, ...part }));
  const tariff = (part: Record<string, unknown>) =>
    addTariff(fresh.db, manager, {
      ...tariffForm.parse({ siteId, name: "Flat", currency: "usd", validFrom: "2026-01-01", base: "0,2", ...part }),
      now,
    });

  test("the parts add up to the whole to the last microjoule, whatever it is split by, and cost what the tariff says", async () => {
    const heater = await plug("K7-HEAT", 0);
    await book(heater, [0, 1], 500);
    await book("", [0, 1], 100, 1);
    await tariff({});
    for (const split of ["unit", "circuit", "outlet", "appliance"]) {
      const found = await view({ from: "2026-03-02", to: "2026-03-03", split });
      expect(found!.parts.reduce((sum, part) => sum + part.microjoules, 0n)).toBe(found!.microjoules);
      expect(kilowattHours(found!.microjoules)).toBeCloseTo(28.8, 9);
      expect(kilowattHours(found!.unknown)).toBeCloseTo(4.8, 9);
      expect(found!.cost.totals).toEqual([{ currency: "USD", cost: expect.closeTo(5.76, 9) }]);
    }
    const own = await view({ appliance: heater, from: "2026-03-02", to: "2026-03-02" });
    expect([own!.bars.length, kilowattHours(own!.microjoules), own!.gapMs]).toEqual([24, 12, 0]);
  });

  test("hours go out as CSV rows with their price", async () => {
    await book(await plug("K7-HEAT", 0), [0], 500);
    await tariff({});
    const rows = [];
    for await (const day of await exportEnergy(fresh.db, manager, energyQuery.parse({ site: siteId }))) rows.push(...day);
    expect(rows).toHaveLength(24);
    expect(rows[0]).toMatchObject({ tag: "K7-HEAT", circuit: "A-1", unit: "0101", kwh: 0.5, measured_s: 3600, gap_s: 0, cost: 0.1 });
  });

  test("a later period is compared with a baseline by whole days only", async () => {
    const heater = await plug("K7-HEAT", 0);
    await book(heater, [0, 2, 4], 500);
    await book(heater, [1, 3], 520);
    await book(heater, [7, 8, 9, 10], 400);
    const part = { from: "2026-03-09", to: "2026-03-12", baseFrom: "2026-03-02", baseTo: "2026-03-06" };
    const { comparison } = (await view(part))!;
    // The clocks went forward on the 8th, so the first of the later days misses an hour: 9.2 kWh and three times 9.6.
    expect(comparison.result!.difference).toBeCloseTo(9.5 - 12.192, 9);
    expect(comparison.result!.isClear).toBe(true);
    expect((await view({ ...part, baseTo: "2026-03-03" }))!.comparison.result).toBeNull();
    const unasked = (await view({ from: part.from, to: part.to }))!.comparison;
    expect([comparison.isUsual, unasked.isUsual]).toEqual([false, true]);
    expect(unasked.result!.difference).toBeCloseTo(9.5 - 12.192, 9);
  });

  test("a meter is left out of the sums and shows what is not at an outlet; one on a circuit is refused", async () => {
    await book(await plug("K7-HEAT", 0), [0], 500);
    const meter = {
      id: newId(),
      organisationId: manager.organisationId,
      siteId,
      name: "main meter",
      nameKey: "main meter",
      receptacles: 1,
    };
    await fresh.db.outlet.create({ data: meter });
    const rows = Array.from({ length: 24 }, (_, hour) =>
      energyRow(monday + hour * hourMs, 900, { siteId, unitId: null, circuitId: null, outletId: meter.id, applianceId: "" }),
    );
    await replaceEnergyHours(fresh.db, manager.organisationId, [], rows);
    await expect(setMeter(fresh.db, manager, { siteId, outletId: place.outlets[0]!.id, circuitId: null, now })).rejects.toThrow(
      /lies on a circuit itself/,
    );
    await setMeter(fresh.db, manager, { siteId, outletId: meter.id, circuitId: null, now });
    const found = (await view())!;
    expect(kilowattHours(found.microjoules)).toBe(12);
    const [line] = found.meters;
    expect([line!.metered, line!.outlets, line!.unmetered].map(kilowattHours)).toEqual([21.6, 12, expect.closeTo(9.6, 9)]);
  });

  test("a use limit opens one finding, and judging again changes nothing", async () => {
    const heater = await plug("K7-HEAT", 0);
    await book(heater, [0, 1], 500);
    const form = {
      siteId,
      about: `appliance:${heater}`,
      kilowattHours: "10",
      fromHour: "0",
      toHour: "24",
      days: "every day",
      signalWord: "CAUTION",
    };
    await addLimit(fresh.db, manager, { ...limitForm.parse({ ...form, validFrom: "2026-03-03" }), now });
    const booked = [{ siteId, atMs: monday + dayMs }];
    expect(await judgeLimits(fresh.db, manager, booked, now)).toBe(1);
    expect(await judgeLimits(fresh.db, manager, booked, now)).toBe(0);
    const findings = await fresh.db.finding.findMany();
    expect(findings).toHaveLength(1);
    expect(findings[0]).toMatchObject({ cause: "use_limit", signalWord: "CAUTION", applianceId: heater, timesSeen: 1, version: 1 });
    expect(findings[0]!.sentence).toBe("Above a use limit: 12 kWh on 2026-03-03 by appliance K7-HEAT, 10 kWh a day agreed.");
  });

  test("a limit of something elsewhere, hours that are none and prices that are none are refused in words", async () => {
    const form = {
      siteId,
      about: "unit:nowhere",
      kilowattHours: "10",
      fromHour: "0",
      toHour: "24",
      days: "every day",
      signalWord: "NOTICE",
      validFrom: "2026-03-03",
    };
    await expect(addLimit(fresh.db, manager, { ...limitForm.parse(form), now })).rejects.toThrow(/This unit is not at the site/);
    expect(() => limitForm.parse({ ...form, toHour: "25" })).toThrow();
    expect(() => limitForm.parse({ ...form, toHour: "0" })).toThrow(/the same hour/);
    expect(() => tariffForm.parse({ siteId, name: "x", currency: "euros", validFrom: "2026-02-30", base: "" })).toThrow(/ISO 4217/);
    const window = { window0name: "peak", window0price: "dear", window0days: "every day", window0fromHour: "1", window0toHour: "2" };
    expect(() => tariffForm.parse({ siteId, name: "x", currency: "EUR", validFrom: "2026-02-20", base: "1", ...window })).toThrow(
      /Window 1: Write a price/,
    );
  });

  test("a demand event is checked for each appliance against similar days", async () => {
    const heater = await plug("K7-HEAT", 0);
    await book(heater, [0, 1, 2, 3], 500);
    await book(heater, [4], 200);
    const form = { siteId, name: "Cold evening", day: "2026-03-06", fromHour: "17", toHour: "20", similarDays: "10" };
    await addDemandEvent(fresh.db, manager, { ...demandForm.parse(form), now });
    const { site, lines } = await demandView(fresh.db, manager, { siteId, eventId: undefined });
    expect(lines).toHaveLength(1);
    expect(lines[0]).toMatchObject({ name: "K7-HEAT", answer: { kilowattHours: 0.6, baseline: 1.5, isClear: true } });
    expect(lines[0]!.answer.saved).toBeCloseTo(0.9, 9);
    expect(site!.answer.days).toHaveLength(4);
  });

  test("rules are set by managers only and taken away once, which is recorded", async () => {
    const inspector = await makeActor(fresh.db, manager.organisationId, "inspector");
    const { id } = await tariff({});
    await expect(takeRuleAway(fresh.db, inspector, { siteId, id, kind: "tariff", now })).rejects.toThrow(/may not set site policy/);
    await takeRuleAway(fresh.db, manager, { siteId, id, kind: "tariff", now });
    await expect(takeRuleAway(fresh.db, manager, { siteId, id, kind: "tariff", now })).rejects.toThrow(/taken away already/);
    const words = (await fresh.db.recordEntry.findMany({ orderBy: { number: "asc" } })).map(({ what }) => what);
    expect(words).toEqual(["tariff added", "tariff taken away"]);
  });

  test("nobody sees another organisation's or site's energy", async () => {
    const stranger = await makeActor(fresh.db, (await makeOrganisation(fresh.db, "Other Estates")).id);
    await expect(energyView(fresh.db, stranger, energyQuery.parse({ site: siteId }))).rejects.toThrow(/no such site/);
    await expect(demandView(fresh.db, { ...manager, siteIds: ["other"] }, { siteId, eventId: undefined })).rejects.toThrow(
      /not at this site/,
    );
    await expect(reconnectionView(fresh.db, stranger, { circuitId: place.circuit.id, seed: 1, now })).rejects.toThrow(/no such circuit/);
  });

  test("a reconnection plan leaves out what is out of use or has an open danger, and the whole is the same for the same seed", async () => {
    await plug("K7-HEAT", 0);
    await plug("K7-OLD", 1, { state: "out_of_use" });
    const bad = await plug("K7-BAD", 1, { labelText: "120V 300W" });
    const times = { openedAt: now, refreshedAt: now, dueAt: now };
    const danger = {
      key: "recall:x",
      cause: "recall",
      signalWord: "DANGER",
      state: "open" as const,
      sentence: "Recalled: fire.",
      evidence: {},
    };
    await fresh.db.finding.create({
      data: { id: newId(), organisationId: manager.organisationId, siteId, applianceId: bad, ...danger, ...times },
    });
    const ask = { circuitId: place.circuit.id, seed: 5, now };
    const { plans } = await reconnectionView(fresh.db, manager, ask);
    const [{ plan, checked }] = plans as [(typeof plans)[number]];
    expect(plan.steps.map(({ load, runningAmps }) => [load.tag, runningAmps])).toEqual([["K7-HEAT", 5]]);
    expect(plan.barred.map(({ load, why }) => [load.tag, why]).sort()).toEqual([
      ["K7-BAD", "Open DANGER: Recalled: fire."],
      ["K7-OLD", "It is out of use."],
    ]);
    expect(checked).toMatchObject({ deviceAmps: 15, standard: "UL 489", continuousShare: 0.8 });
    const again = await reconnectionView(fresh.db, manager, ask);
    expect(again.plans).toEqual(plans);
    expect(again.legs).toMatchObject([{ leg: "1", circuits: 1, runningAmps: 5 }]);
  });

  test("a load above what one receptacle may feed is told by the plug system that the site goes by", async () => {
    await plug("K7-BIG", 0, { labelText: "120V 1500W" });
    const ask = { circuitId: place.circuit.id, seed: 5, now };
    const notes = async () => (await reconnectionView(fresh.db, manager, ask)).plans[0]!.receptacleNotes;
    expect(await notes()).toEqual([
      "K7-BIG runs at 12.5 A, above the 12 A that one receptacle may feed here (NEC (NFPA 70) (2023 edition), Table 210.21(B)(2)).",
    ]);
    const stated = { figures: {}, standards: { plugs: "CEE 7" }, siteId, version: 0, now };
    await saveSitePolicy(fresh.db, manager, stated);
    expect(await notes()).toEqual(["K7-BIG runs at 12.5 A; for hours about 10 A is advised at such a plug."]);
  });
});
