import type { Db } from "./client";
import type { DemandEvent, EnergyLimit, EnergyMeter, EnergyTariff, Prisma } from "./generated/sqlite/client";

export type { DemandEvent, EnergyLimit, EnergyMeter, EnergyTariff };

type Home = { readonly organisationId: string; readonly siteId: string };

/** Tariffs of a site that have not been taken away, by their first day. */
export function findTariffs(db: Db, { organisationId, siteId }: Home): Promise<EnergyTariff[]> {
  return db.energyTariff.findMany({ where: { organisationId, siteId, endedAt: null }, orderBy: [{ validFrom: "asc" }, { id: "asc" }] });
}

export async function insertTariff(tx: Db, data: Prisma.EnergyTariffUncheckedCreateInput): Promise<void> {
  await tx.energyTariff.create({ data });
}

/** Use limits of a site that have not been taken away. */
export function findLimits(db: Db, { organisationId, siteId }: Home): Promise<EnergyLimit[]> {
  return db.energyLimit.findMany({ where: { organisationId, siteId, endedAt: null }, orderBy: [{ createdAt: "asc" }, { id: "asc" }] });
}

export async function insertLimit(tx: Db, data: Prisma.EnergyLimitUncheckedCreateInput): Promise<void> {
  await tx.energyLimit.create({ data });
}

/** Demand response events of a site that have not been taken away, the latest first. */
export function findDemandEvents(db: Db, { organisationId, siteId }: Home): Promise<DemandEvent[]> {
  return db.demandEvent.findMany({ where: { organisationId, siteId, endedAt: null }, orderBy: [{ fromAt: "desc" }, { id: "asc" }] });
}

export async function insertDemandEvent(tx: Db, data: Prisma.DemandEventUncheckedCreateInput): Promise<void> {
  await tx.demandEvent.create({ data });
}

/** Meters of a site: outlets of the log that measure a circuit or (null) the whole site. */
export function findMeters(db: Db, { organisationId, siteId }: Home): Promise<EnergyMeter[]> {
  return db.energyMeter.findMany({ where: { organisationId, siteId }, orderBy: { outletId: "asc" } });
}

export async function putMeter(tx: Db, data: Prisma.EnergyMeterUncheckedCreateInput): Promise<void> {
  const { outletId, circuitId } = data;
  await tx.energyMeter.upsert({ where: { outletId }, create: data, update: { circuitId: circuitId ?? null } });
}

/** What can be taken away again; what it said stays in the record. */
export type EnergyRuleKind = "tariff" | "limit" | "event" | "meter";

/** Takes one away; false when it was gone already. */
export async function endEnergyRule(
  tx: Db,
  kind: EnergyRuleKind,
  { organisationId, siteId, id }: Home & { readonly id: string },
  now: Date,
): Promise<boolean> {
  const where = { organisationId, siteId, id, endedAt: null };
  const data = { endedAt: now };
  if (kind === "tariff") return (await tx.energyTariff.updateMany({ where, data })).count === 1;
  if (kind === "limit") return (await tx.energyLimit.updateMany({ where, data })).count === 1;
  if (kind === "event") return (await tx.demandEvent.updateMany({ where, data })).count === 1;
  return (await tx.energyMeter.deleteMany({ where: { organisationId, siteId, outletId: id } })).count === 1;
}

/** Names for the things that energy is booked to, at a site. */
export async function energyNames(db: Db, siteId: string, applianceIds: readonly string[]) {
  const [units, circuits, outlets] = await Promise.all([
    db.unit.findMany({ where: { siteId }, select: { id: true, name: true }, orderBy: { nameKey: "asc" } }),
    db.circuit.findMany({ where: { siteId }, select: { id: true, name: true }, orderBy: { nameKey: "asc" } }),
    db.outlet.findMany({ where: { siteId }, select: { id: true, name: true, circuitId: true }, orderBy: { nameKey: "asc" } }),
  ]);
  const appliances = [];
  for (let i = 0; i < applianceIds.length; i += 500)
    appliances.push(
      ...(await db.appliance.findMany({
        where: { id: { in: applianceIds.slice(i, i + 500) } },
        select: { id: true, tag: true, category: true, brand: true, model: true, siteId: true },
      })),
    );
  return { units, circuits, outlets, appliances };
}
