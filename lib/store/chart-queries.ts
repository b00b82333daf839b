import type { Db } from "./client";

/** What a chart needs of an appliance: its plate, its site's clock and voltage, and its first reading. */
export async function chartedAppliance(db: Db, organisationId: string, id: string) {
  const appliance = await db.appliance.findFirst({
    where: { organisationId, id },
    select: {
      tag: true,
      siteId: true,
      outletId: true,
      category: true,
      ratedVolts: true,
      ratedHertz: true,
      ratedWatts: true,
      ratedAmps: true,
      labelText: true,
      protectionClass: true,
      maxLampWatts: true,
    },
  });
  if (!appliance) return null;
  const site = await db.site.findUnique({ where: { id: appliance.siteId }, select: { timeZone: true, nominalVolts: true } });
  const outlet = await db.outlet.findUnique({ where: { id: appliance.outletId ?? "" }, select: { circuit: { select: { volts: true } } } });
  const first = await db.drawMinute.aggregate({ where: { organisationId, applianceId: id }, _min: { at: true } });
  return {
    ...appliance,
    timeZone: site?.timeZone ?? null,
    siteVolts: outlet?.circuit?.volts ?? site?.nominalVolts ?? null,
    firstReadingAt: first._min.at,
  };
}

/** What a chart needs of an outlet. */
export async function chartedOutlet(db: Db, organisationId: string, id: string) {
  const outlet = await db.outlet.findFirst({
    where: { organisationId, id },
    select: { id: true, name: true, siteId: true, site: { select: { timeZone: true, name: true } } },
  });
  if (!outlet) return null;
  const first = await db.drawMinute.aggregate({ where: { outletId: id }, _min: { at: true } });
  return { ...outlet, firstReadingAt: first._min.at };
}
