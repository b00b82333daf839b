import type { Actor } from "./actor";

/** The `where` fragment that keeps a query inside the actor's organisation and sites. */
export function siteScope(actor: Actor): { organisationId: string; siteId?: { in: string[] } } {
  const { organisationId } = actor;
  return actor.siteIds === "all" ? { organisationId } : { organisationId, siteId: { in: [...actor.siteIds] } };
}
