import Fuse from "fuse.js";
import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { makersAndModels } from "@/lib/store/appliance-list-queries";
import type { Db } from "@/lib/store/client";

/**
 * Makers and models that read nearly like what was searched for, best first, at most three. Used when a search found nothing: the
 * distinct names are few even where appliances are many.
 */
export async function nearestWords(db: Db, actor: Actor, query: string): Promise<string[]> {
  requirePermission(actor, "see appliances");
  const names = await makersAndModels(db, actor.organisationId);
  const fuse = new Fuse(names, { threshold: 0.35, ignoreLocation: true, minMatchCharLength: 3 });
  return fuse.search(query.slice(0, 60), { limit: 3 }).map((hit) => hit.item);
}
