import { type Actor, recordName } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import type { Db, Store } from "@/lib/store/client";
import { endHold, findHold, type Hold, holdsOnAppliance, insertHold, sameHold } from "@/lib/store/hold-queries";
import { newId } from "@/lib/store/ids";
import { findSite } from "@/lib/store/place-queries";
import { appendRecord } from "@/lib/store/record";

/** What a hold can be placed on. */
export type HoldKind = "appliance" | "site";

export interface HoldDraft {
  readonly kind: HoldKind;
  readonly id: string;
  readonly why: string;
  readonly now: Date;
}

async function siteOf(tx: Db, organisationId: string, { kind, id }: Pick<HoldDraft, "kind" | "id">): Promise<string | null> {
  if (kind === "site") return (await findSite(tx, organisationId, id))?.id ?? null;
  return (await tx.appliance.findFirst({ where: { id, organisationId }, select: { siteId: true } }))?.siteId ?? null;
}

/**
 * Places a hold: from now on nothing about the thing is changed, taken away or thinned out until it is released; what is found out
 * meanwhile is still added. A hold that the same person placed for the same reason already is that hold. Permission: `place holds`. Throws `Trouble` without a reason or a thing.
 */
export async function placeHold(db: Store, actor: Actor, draft: HoldDraft): Promise<{ id: string }> {
  requirePermission(actor, "place holds");
  const siteId = await siteOf(db, actor.organisationId, draft);
  if (siteId === null) throw new Trouble("not_found", "There is no such thing here to hold.");
  requirePermission(actor, "place holds", siteId);
  if (draft.why.trim() === "") throw new Trouble("not_valid", "Say who asked for it, and why.", { why: "Say who asked for it, and why." });
  return db.$transaction(async (tx) => {
    const { organisationId, userId: byUserId } = actor;
    const same = await sameHold(tx, { organisationId, subjectKind: draft.kind, subjectId: draft.id, why: draft.why.trim(), byUserId });
    return same ? { id: same.id } : writeHold(tx, actor, draft);
  });
}

/** Writes a hold and its record entry, for use cases that decided it. */
export async function writeHold(tx: Db, actor: Actor, { kind, id: subjectId, why, now }: HoldDraft): Promise<{ id: string }> {
  const id = newId();
  const { organisationId, userId: byUserId } = actor;
  await insertHold(tx, { id, organisationId, subjectKind: kind, subjectId, why: why.trim(), byUserId, at: now });
  const entry = { organisationId, at: now, actor: recordName(actor), subjectKind: kind, subjectId };
  await appendRecord(tx, [{ ...entry, what: "hold placed", after: { id, why: why.trim() } }]);
  return { id };
}

/** Releases a hold with the reason. Permission: `place holds`. Throws `Trouble` when it is not there or was released already. */
export async function releaseHold(
  db: Store,
  actor: Actor,
  given: { readonly id: string; readonly why: string; readonly now: Date },
): Promise<void> {
  requirePermission(actor, "place holds");
  const hold = await findHold(db, actor.organisationId, given.id);
  const kind = hold?.subjectKind === "site" ? "site" : "appliance";
  const siteId = hold ? await siteOf(db, actor.organisationId, { kind, id: hold.subjectId }) : null;
  if (!hold || siteId === null) throw new Trouble("not_found", "There is no such hold here.");
  requirePermission(actor, "place holds", siteId);
  if (given.why.trim() === "") throw new Trouble("not_valid", "Say who released it, and why.", { why: "Say who released it, and why." });
  await db.$transaction(async (tx) => {
    const end = { releasedAt: given.now, releasedWhy: given.why.trim(), releasedByUserId: actor.userId };
    if (!(await endHold(tx, hold.id, end))) throw new Trouble("changed_meanwhile", "This hold was released already.");
    const { organisationId } = actor;
    const entry = { organisationId, at: given.now, actor: recordName(actor), subjectKind: hold.subjectKind, subjectId: hold.subjectId };
    await appendRecord(tx, [{ ...entry, what: "hold released", before: { id: hold.id, why: hold.why }, after: { why: given.why.trim() } }]);
  });
}

/** The sentence that a held thing is refused with. */
export function heldSentence({ why, at, subjectKind }: Pick<Hold, "why" | "at" | "subjectKind">): string {
  const what = subjectKind === "site" ? "The whole site" : "This appliance";
  return `${what} has been under a hold since ${at.toISOString().slice(0, 10)} (${why}): nothing about it is changed until the hold is released.`;
}

/** Throws `Trouble` when a hold keeps the appliance as it is. Call it in the transaction of the change. */
export async function requireNotHeld(
  tx: Db,
  appliance: { readonly organisationId: string; readonly id: string; readonly siteId: string },
): Promise<void> {
  const { organisationId, id: applianceId, siteId } = appliance;
  const [hold] = await holdsOnAppliance(tx, { organisationId, applianceId, siteId });
  if (hold) throw new Trouble("not_allowed_now", heldSentence(hold));
}
