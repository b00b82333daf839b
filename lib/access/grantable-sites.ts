import type { Db } from "@/lib/store/client";
import type { Actor } from "./actor";
import { requirePermission } from "./permissions";

export interface GrantableSites {
  /** Whether the actor may give all sites, those to come included. */
  readonly all: boolean;
  readonly sites: readonly { readonly id: string; readonly name: string }[];
}

/** The sites an administrator may give to others: their own. */
export async function grantableSites(db: Db, actor: Actor): Promise<GrantableSites> {
  requirePermission(actor, "manage people");
  const all = actor.siteIds === "all";
  const own = actor.siteIds === "all" ? {} : { id: { in: [...actor.siteIds] } };
  const sites = await db.site.findMany({
    where: { organisationId: actor.organisationId, retiredAt: null, ...own },
    select: { id: true, name: true },
    orderBy: { name: "asc" },
  });
  return { all, sites };
}
