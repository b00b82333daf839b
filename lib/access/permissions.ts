import type { Actor, Role } from "./actor";
import { Refused } from "./refusal";

/** Who may do what: the one table. Every page, action and route names one of its rows. */
export const permissions = {
  "see appliances": ["administrator", "manager", "surveyor", "inspector"],
  "edit appliances": ["administrator", "manager", "surveyor"],
  "issue tags": ["administrator", "manager", "surveyor"],
  "see places": ["administrator", "manager", "surveyor", "inspector"],
  "edit places": ["administrator", "manager"],
  "bring in labels": ["administrator", "manager", "surveyor"],
  "bring in places": ["administrator", "manager"],
  "see recalls": ["administrator", "manager", "surveyor", "inspector"],
  "load notices": ["administrator", "manager"],
  "cross-check": ["administrator", "manager", "inspector"],
  "decide candidates": ["administrator", "manager", "inspector"],
  "correct coverage": ["administrator", "manager", "inspector"],
  "edit maker aliases": ["administrator"],
  "see readings": ["administrator", "manager", "surveyor", "inspector"],
  "load log": ["administrator", "manager"],
  "screen readings": ["administrator", "manager", "inspector"],
  "set site policy": ["administrator", "manager"],
  "manage API keys": ["administrator"],
  "set retention": ["administrator"],
  "see findings": ["administrator", "manager", "surveyor", "inspector"],
  "work findings": ["administrator", "manager", "surveyor", "inspector"],
  "close findings": ["administrator", "manager", "inspector"],
  "report incidents": ["administrator", "manager", "surveyor", "inspector"],
  "place holds": ["administrator", "manager"],
  "see inspections": ["administrator", "manager", "surveyor", "inspector"],
  "record inspections": ["administrator", "manager", "inspector"],
  "keep inspection means": ["administrator", "manager"],
  "edit occupants": ["administrator", "manager"],
  "tell occupants": ["administrator", "manager", "surveyor", "inspector"],
  "edit occupant texts": ["administrator", "manager"],
  "see record": ["administrator", "manager", "inspector"],
  "make site packs": ["administrator", "manager", "inspector"],
  "manage people": ["administrator"],
  "keep own account": ["administrator", "manager", "surveyor", "inspector"],
} as const satisfies Record<string, readonly Role[]>;

export type Permission = keyof typeof permissions;

/** True when the actor's role has the permission and, where a site is named, the site is one of the actor's. */
export function mayDo(actor: Actor, permission: Permission, siteId?: string): boolean {
  const allowed: readonly Role[] = permissions[permission];
  return allowed.includes(actor.role) && (siteId === undefined || actor.siteIds === "all" || actor.siteIds.includes(siteId));
}

/** Throws `Refused` where `mayDo` is false. Use cases call it once, before they read or write. */
export function requirePermission(actor: Actor, permission: Permission, siteId?: string): void {
  if (!mayDo(actor, permission, siteId)) throw new Refused(permission, siteId !== undefined && mayDo(actor, permission));
}
