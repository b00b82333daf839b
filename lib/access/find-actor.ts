import type { Db } from "@/lib/store/client";
import type { Actor } from "./actor";

export interface ActorAtHome {
  readonly actor: Actor;
  readonly organisation: { readonly id: string; readonly name: string };
  /** The sites the person is limited to, with their names; empty when all. */
  readonly sites: readonly { readonly id: string; readonly name: string }[];
}

/** The person as an actor in the first organisation they still belong to; null when every membership has ended. */
export async function findActor(db: Db, userId: string): Promise<ActorAtHome | null> {
  const membership = await db.membership.findFirst({
    where: { userId, endedAt: null },
    orderBy: [{ createdAt: "asc" }, { id: "asc" }],
    include: { user: true, organisation: true, sites: { include: { site: { select: { id: true, name: true } } } } },
  });
  if (!membership) return null;
  const { user, organisation, role, allSites } = membership;
  const sites = allSites ? [] : membership.sites.map(({ site }) => site);
  return {
    actor: { userId, name: user.name, organisationId: organisation.id, role, siteIds: allSites ? "all" : sites.map(({ id }) => id) },
    organisation: { id: organisation.id, name: organisation.name },
    sites,
  };
}
