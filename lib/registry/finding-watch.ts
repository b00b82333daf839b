import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import type { Store } from "@/lib/store/client";
import { findFinding } from "@/lib/store/finding-queries";
import { addWatcher, removeWatcher } from "@/lib/store/watcher-queries";

/** Watches a finding, or stops to: a watcher is told when it is overdue, beside its owner. Permission: `see findings` at its site. */
export async function watchFinding(
  db: Store,
  actor: Actor,
  { findingId, on, now }: { readonly findingId: string; readonly on: boolean; readonly now: Date },
): Promise<void> {
  const finding = await findFinding(db, actor.organisationId, findingId);
  if (finding === null) throw new Trouble("not_found", "There is no such finding here.");
  requirePermission(actor, "see findings", finding.siteId);
  if (actor.userId === null) throw new Trouble("not_allowed_now", "Only a signed-in person can watch a finding.");
  if (on) await addWatcher(db, findingId, actor.userId, now);
  else await removeWatcher(db, findingId, actor.userId);
}
