import type { Db } from "./client";
import type { ApplianceState } from "./generated/sqlite/client";

/** The state an appliance is in, or null where there is none of this id. */
export async function applianceState(db: Db, id: string): Promise<ApplianceState | null> {
  return (await db.appliance.findUnique({ where: { id }, select: { state: true } }))?.state ?? null;
}

/** Puts an appliance in a state. A retired one leaves its place; the placement keeps where it was. */
export async function setApplianceState(tx: Db, id: string, state: ApplianceState, now: Date): Promise<void> {
  const gone = state === "retired" ? { retiredAt: now, outletId: null, receptacle: null } : {};
  const outOfUseAt = state === "out_of_use" ? now : null;
  await tx.appliance.update({ where: { id }, data: { state, outOfUseAt, updatedAt: now, version: { increment: 1 }, ...gone } });
  if (state === "retired") await tx.placement.updateMany({ where: { applianceId: id, toAt: null }, data: { toAt: now } });
}
