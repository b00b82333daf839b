import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import type { Db } from "@/lib/store/client";
import { type Hold, holdsOnSite } from "@/lib/store/hold-queries";
import { getSite } from "./place-building";

export interface SiteHolds {
  readonly site: { readonly id: string; readonly name: string; readonly timeZone: string | null };
  readonly live: readonly Hold[];
  /** The latest first. */
  readonly released: readonly Hold[];
  /** How many appliances a hold on the site keeps as they are. */
  readonly appliances: number;
}

/** The holds on a whole site, those of its single appliances left out. Permission: `see places`. */
export async function viewSiteHolds(db: Db, actor: Actor, siteId: string): Promise<SiteHolds> {
  requirePermission(actor, "see places");
  const { id, name, timeZone } = await getSite(db, actor, siteId);
  const holds = await holdsOnSite(db, actor.organisationId, id);
  return {
    site: { id, name, timeZone },
    live: holds.filter(({ releasedAt }) => releasedAt === null),
    released: holds.filter(({ releasedAt }) => releasedAt !== null),
    appliances: await db.appliance.count({ where: { organisationId: actor.organisationId, siteId: id } }),
  };
}
