import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import type { Db } from "@/lib/store/client";
import { splitEnergy } from "@/lib/store/energy-queries";
import { findSite } from "@/lib/store/place-queries";
import type { Site } from "@/lib/store/rows";
import { type EnergyMeter, energyNames, findMeters } from "@/lib/store/tariff-queries";
import type { Tariff } from "@/lib/watch/tariff";
import { type ShownLimit, siteLimits } from "./energy-limit";
import { siteTariffs } from "./tariff";

/** What a site states about its energy. */
export interface EnergyRules {
  readonly site: Site;
  readonly tariffs: readonly Tariff[];
  readonly limits: readonly ShownLimit[];
  readonly meters: readonly EnergyMeter[];
  readonly names: Awaited<ReturnType<typeof energyNames>>;
  /** Appliances with energy in the last days, by tag, for a limit of their own. */
  readonly appliances: readonly { readonly id: string; readonly name: string }[];
}

const recentDays = 35;
const dayMs = 86_400_000;

/** A site's tariffs, use limits and meters. Permission: `see readings`. */
export async function energyRules(
  db: Db,
  actor: Actor,
  { siteId, now }: { readonly siteId: string; readonly now: Date },
): Promise<EnergyRules> {
  requirePermission(actor, "see readings", siteId);
  const { organisationId } = actor;
  const site = await findSite(db, organisationId, siteId);
  if (!site) throw new Trouble("not_found", "There is no such site here: choose it again.");
  const stretch = { fromMs: now.getTime() - recentDays * dayMs, toMs: now.getTime() };
  const recent = await splitEnergy(db, { organisationId, siteIds: null, siteId }, stretch, "applianceId");
  const [tariffs, limits, meters, names] = await Promise.all([
    siteTariffs(db, actor, siteId),
    siteLimits(db, actor, siteId),
    findMeters(db, { organisationId, siteId }),
    energyNames(
      db,
      siteId,
      recent.flatMap(({ id }) => id || []),
    ),
  ]);
  const appliances = names.appliances
    .map(({ id, tag, category }) => ({ id, name: category ? `${tag}, ${category}` : tag }))
    .sort((a, b) => (a.name < b.name ? -1 : 1));
  return { site, tariffs, limits, meters, names, appliances };
}
