import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import type { Db } from "@/lib/store/client";
import { findSite } from "@/lib/store/place-queries";
import type { Site } from "@/lib/store/rows";
import { findSitePolicy, type StatedPolicy } from "@/lib/store/site-policy-queries";
import type { ScreeningPolicy } from "@/lib/watch/policy";
import { policyWith } from "@/lib/watch/policy-fields";
import { type SiteStandards, standardsWith } from "@/lib/watch/policy-standards";
import type { SiteSupply } from "./appliance-columns";

/** The policy by which a site's readings are judged: the defaults with what the site states. */
export async function policyOfSite(db: Db, siteId: string): Promise<ScreeningPolicy> {
  return policyWith((await findSitePolicy(db, siteId)).figures);
}

/** The standards by which a site goes. */
export async function standardsOfSite(db: Db, site: Pick<Site, "id" | "nominalVolts">): Promise<SiteStandards> {
  return standardsWith((await findSitePolicy(db, site.id)).standards, site.nominalVolts);
}

/** What decides the limits of a site's appliances: its nominal voltage, and the standard and edition it goes by. */
export async function supplyOfSite(db: Db, site: Pick<Site, "id" | "nominalVolts">): Promise<SiteSupply> {
  return { volts: site.nominalVolts, deviation: (await standardsOfSite(db, site)).deviation };
}

/** What the policy page shows of a site. */
export interface SitePolicyView {
  readonly site: Site;
  readonly stated: StatedPolicy;
  readonly policy: ScreeningPolicy;
  readonly standards: SiteStandards;
}

/** A site's policy. Permission: `see readings`. Throws `Trouble` where the actor has no such site. */
export async function viewSitePolicy(db: Db, actor: Actor, siteId: string): Promise<SitePolicyView> {
  requirePermission(actor, "see readings", siteId);
  const site = await findSite(db, actor.organisationId, siteId);
  if (!site) throw new Trouble("not_found", "There is no such site here: choose it again under Building.");
  const stated = await findSitePolicy(db, siteId);
  const policy = policyWith(stated.figures);
  return { site, stated, policy, standards: standardsWith(stated.standards, site.nominalVolts) };
}
