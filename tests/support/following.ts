import type { Actor } from "@/lib/access/actor";
import { type AnewReason, type FollowedSite, SiteFollower } from "@/lib/registry/site-follow";
import { requireSiteTurn } from "@/lib/registry/site-turn";
import type { Store } from "@/lib/store/client";

export function followingActor(organisationId: string): Actor {
  return { userId: null, name: "arriving readings", organisationId, role: "administrator", siteIds: "all" };
}

export interface Following {
  readonly follower?: SiteFollower;
  readonly now?: Date;
  readonly isAnew?: (why: AnewReason) => boolean;
}

/** Follows what came in at a site, as the web process does after each batch; by default as a process that has just started. */
export function follow(db: Store, organisationId: string, siteId: string, options: Following = {}): Promise<FollowedSite> {
  const { follower = new SiteFollower(organisationId, siteId), now = new Date("2026-03-10T10:00:00Z"), isAnew = () => false } = options;
  const actor = followingActor(organisationId);
  return requireSiteTurn(db, siteId, (lease) => follower.follow({ db, actor, siteId, lease, now }, { isAnew }));
}
