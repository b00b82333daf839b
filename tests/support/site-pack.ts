import type { Actor } from "@/lib/access/actor";
import { loadNotices } from "@/lib/notices/notices.run";
import { addAppliance } from "@/lib/registry/appliance";
import { changeState } from "@/lib/registry/appliance-state";
import { decide } from "@/lib/registry/decision";
import type { Store } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { asFile, type ListRow, plainList, unreadFacts } from "@/seed/recall-builders";

/** A moment of March 2026, for stories told by the day. */
export const marchDay = (number: number, hour = 18) => new Date(Date.UTC(2026, 2, number, hour));

const heater: ListRow = {
  source: "Office of Product Safety",
  number: "26-114",
  date: "2026-02-20",
  title: "Keldamar Recalls Convection Heaters Due to Fire Hazard",
  brand: "Keldamar",
  product: "heater",
  models: "HT-1500C",
  hazard: "The element can ignite the housing, a fire hazard.",
};
const unnamed: ListRow = {
  ...heater,
  number: "26-115",
  title: "Öllinger ruft Heizdecken zurück: Brandgefahr",
  brand: "Öllinger",
  models: "",
};

export interface PackStory {
  readonly organisationId: string;
  readonly siteId: string;
  readonly otherSiteId: string;
  readonly manager: Actor;
  readonly inspector: Actor;
}

const inspection = {
  ...{ signedName: "Robin inspector", standard: "AS/NZS 3760", environment: "calm", nextDueWhy: "Twelve months." },
  ...{ checklist: [], measurements: [], instruments: [], competence: [], reasons: [], result: "pass" },
};

/**
 * A site with something in every section of its pack. Day 1 (of March 2026): four appliances, one with a formula for a maker; 2: an
 * inspection whose next is overdue by day 6; 3: two notices, one without a model; 4: decided affected, so a danger is open; 5: one retired; on
 * day 6 the circuit carries 16 A; 8: decided not affected after all.
 */
export async function tellPackStory(db: Store): Promise<PackStory> {
  const { id: organisationId } = await makeOrganisation(db);
  const { site, unit, outlets } = await makeSite(db, organisationId, "Große Übersee-Straße 12");
  const { site: other } = await makeSite(db, organisationId, "Birch House");
  const [manager, inspector] = [await makeActor(db, organisationId), await makeActor(db, organisationId, "inspector")];
  await db.membership.updateMany({ data: { createdAt: marchDay(0) } });
  const add = (given: object, hour: number) =>
    addAppliance(db, manager, {
      fields: { ...unreadFacts, tag: null, siteId: site.id, unit: unit.name, outlet: null, receptacle: null, ...given },
      now: marchDay(1, hour),
    });
  const outlet = outlets[0]?.name;
  const hot = await add(
    { brand: "Keldamar", model: "HT-1500C", category: "heater", ratedWatts: 1500, ratedVolts: "120", outlet, receptacle: "1" },
    12,
  );
  await add({ brand: "Keldamar", model: "HT-1500C", category: "heater" }, 13);
  const named = await add({ brand: '=HYPERLINK("x")', model: "Wäschetrockner Ω-7", serial: "0O1I8B", category: "dryer" }, 14);
  const gone = await add({ brand: "Łabędź", category: "kettle" }, 15);
  const row = { organisationId, siteId: site.id, at: marchDay(2), receivedAt: marchDay(2), nextDueAt: marchDay(5) };
  await db.inspection.create({ data: { id: newId(), formId: newId(), applianceId: named.id, ...row, ...inspection } });
  await loadNotices(db, manager, { source: asFile(plainList([heater, unnamed])), fileName: "list.csv", now: marchDay(3) });
  await db.candidate.updateMany({ data: { raisedAt: marchDay(3) } });
  const candidate = await db.candidate.findFirstOrThrow({ where: { applianceId: hot.id, notice: { number: "26-114" } } });
  await decide(db, inspector, { candidateId: candidate.id, verdict: "affected", reason: "Listed model.", now: marchDay(4) });
  await changeState(db, manager, { id: gone.id, state: "retired", reason: "sold", now: marchDay(5) } as never);
  const minute = { organisationId, outletId: outlets[0]?.id ?? "", readings: 60, meanVolts: 120 };
  await db.drawMinute.createMany({
    data: [
      { ...minute, receptacle: "1", at: marchDay(6), meanAmps: 9.5 },
      { ...minute, receptacle: "2", at: marchDay(6), meanAmps: 6.5 },
      { ...minute, receptacle: "1", at: marchDay(7), meanAmps: 14 },
    ],
  });
  await decide(db, inspector, { candidateId: candidate.id, verdict: "not_affected", reason: "Rev. D plate.", now: marchDay(8) });
  return { organisationId, siteId: site.id, otherSiteId: other.id, manager, inspector };
}
