import type { Actor } from "@/lib/access/actor";
import { addDemandEvent, demandForm } from "@/lib/registry/demand-response";
import { addLimit, judgeLimitNow, limitForm } from "@/lib/registry/energy-limit";
import { addTariff, tariffForm } from "@/lib/registry/tariff";
import type { Store } from "@/lib/store/client";
import { localDay, localHour } from "@/lib/watch/energy-hour";
import { demandStretch, followedSite, followedUnits } from "./followed-closely";

const dayMs = 86_400_000;
const hourMs = 3_600_000;

/** What one building states about its energy: a tariff, a use limit agreed with a dwelling, and hours in which less was asked for. */
export async function tellEnergyStory(db: Store, actor: Actor, endMs: number): Promise<void> {
  const site = await db.site.findFirstOrThrow({ where: { organisationId: actor.organisationId, name: followedSite } });
  const unit = await db.unit.findFirstOrThrow({ where: { siteId: site.id, name: followedUnits[0] } });
  const [siteId, zone, now] = [site.id, site.timeZone ?? "UTC", new Date(endMs)];
  const validFrom = localDay(zone, endMs - 60 * dayMs);
  await addTariff(db, actor, { ...tariffForm.parse({ siteId, ...timeOfUse, validFrom }), now });
  await addLimit(db, actor, { ...limitForm.parse({ siteId, ...dayLimit, about: `unit:${unit.id}`, validFrom }), now });
  await judgeLimitNow(db, actor, { siteId, now });
  const { fromMs, toMs } = demandStretch(endMs);
  const fromHour = localHour(zone, fromMs).hour;
  const hours = { day: localDay(zone, fromMs), fromHour, toHour: fromHour + (toMs - fromMs) / hourMs };
  await addDemandEvent(db, actor, {
    ...demandForm.parse({ siteId, name: "Cold snap, utility's request", ...hours, similarDays: 10 }),
    now,
  });
}

const timeOfUse = {
  name: "Time of use",
  currency: "USD",
  base: "0.17",
  window0name: "afternoon peak",
  window0price: "0.31",
  window0days: "Monday to Friday",
  window0fromHour: "14",
  window0toHour: "19",
};

const dayLimit = { kilowattHours: "2", fromHour: "0", toHour: "24", days: "every day", signalWord: "NOTICE" };
