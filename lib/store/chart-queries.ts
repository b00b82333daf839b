import { ratingColumns } from "./appliance-selects";
import type { Db } from "./client";

/** What a chart needs of an appliance: its plate, its site's clock and voltage, and its first reading. */
export async function chartedAppliance(db: Db, organisationId: string, id: string) {
  const appliance = await db.appliance.findFirst({
    where: { organisationId, id },
    select: {
      tag: true,
      siteId: true,
      outletId: true,
      ...ratingColumns,
    },
  });
  if (!appliance) return null;
  const site = await db.site.findUnique({ where: { id: appliance.siteId }, select: { timeZone: true, nominalVolts: true } });
  const outlet = await db.outlet.findUnique({ where: { id: appliance.outletId ?? "" }, select: { circuit: { select: { volts: true } } } });
  const whose = { organisationId, applianceId: id };
  return {
    ...appliance,
    timeZone: site?.timeZone ?? null,
    siteVolts: outlet?.circuit?.volts ?? site?.nominalVolts ?? null,
    firstReadingAt: await firstReading(db, whose),
  };
}

/** What a chart needs of an outlet. */
export async function chartedOutlet(db: Db, organisationId: string, id: string) {
  const outlet = await db.outlet.findFirst({
    where: { organisationId, id },
    select: { id: true, name: true, siteId: true, site: { select: { timeZone: true, name: true } } },
  });
  if (!outlet) return null;
  return { ...outlet, firstReadingAt: await firstReading(db, { outletId: id }) };
}

/** The oldest thinned reading, by the hour where the minutes are no longer kept. */
async function firstReading(db: Db, where: { organisationId: string; applianceId: string } | { outletId: string }): Promise<Date | null> {
  const hour = (await db.drawHour.aggregate({ where, _min: { at: true } }))._min.at;
  const minute = (await db.drawMinute.aggregate({ where, _min: { at: true } }))._min.at;
  return hour !== null && (minute === null || hour < minute) ? hour : minute;
}
