import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { getSource, type SourceAt } from "@/lib/registry/notice-source";
import type { Store } from "@/lib/store/client";
import { claimSource, findDueSources } from "@/lib/store/notice-source-queries";

/** The kind of job that looks at one list's address. */
export const listCheckKind = "check list";

/** Makes a job of each source that is due, of all organisations; however many workers do so, each is checked once. */
export async function queueDueLists(db: Store, at: Date): Promise<void> {
  for (const source of await findDueSources(db, at)) await claimSource(db, source, { kind: listCheckKind, at, byUserId: null });
}

/** Looks at a list now, due or not. Permission: `load notices`. */
export async function checkSourceNow(db: Store, actor: Actor, { id, now }: SourceAt): Promise<void> {
  requirePermission(actor, "load notices");
  const source = await getSource(db, actor, id);
  const queued = await claimSource(db, source, { kind: listCheckKind, at: now, byUserId: actor.userId });
  if (!queued) throw new Trouble("not_allowed_now", "This list is being looked at already: its result will stand here in a moment.");
}
