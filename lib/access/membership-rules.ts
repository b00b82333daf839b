import type { Db } from "@/lib/store/client";
import type { Actor, Role } from "./actor";
import { Refused } from "./refusal";
import { Trouble } from "./trouble";

export type SiteLimit = readonly string[] | "all";

/** The sites a person is limited to must be of the organisation, and at least one. Throws `Trouble`. */
export async function requireSites(db: Db, organisationId: string, sites: SiteLimit): Promise<void> {
  if (sites === "all") return;
  const sentence = "Choose at least one site, or all sites.";
  if (sites.length === 0) throw new Trouble("not_valid", sentence, { sites: sentence });
  const known = await db.site.count({ where: { organisationId, id: { in: [...sites] } } });
  if (known !== new Set(sites).size)
    throw new Trouble("not_found", "One of the sites is not in this organisation: reload the page and choose again.");
}

/** An administrator who is limited to sites manages people of those sites only, and gives no more than that. Throws `Refused`. */
export function requireWithinOwnSites(actor: Actor, sites: SiteLimit): void {
  const own = actor.siteIds;
  if (own === "all") return;
  if (sites === "all" || sites.some((id) => !own.includes(id))) throw new Refused("manage people", true);
}

/** Keeps an organisation from being left without anyone who may manage its people. Call it after the change, inside it. Throws `Trouble`. */
export async function requireAnAdministrator(tx: Db, organisationId: string): Promise<void> {
  const role: Role = "administrator";
  const left = await tx.membership.count({ where: { organisationId, role, allSites: true, endedAt: null } });
  if (left > 0) return;
  throw new Trouble("not_allowed_now", "This is the last administrator with all sites: make someone else one first.");
}
