import type { Db } from "./client";

/** What a form can make. */
export type MadeKind = "appliance" | "incident" | "tariff" | "limit" | "event";

/** Whether a form with this id made its thing already. The thing has the form's id, so that a form that is sent twice makes one. */
export async function wasMade(
  tx: Db,
  kind: MadeKind,
  made: { readonly id: string | undefined; readonly organisationId: string },
): Promise<boolean> {
  const { id, organisationId } = made;
  if (id === undefined) return false;
  const where = { id, organisationId };
  if (kind === "appliance") return (await tx.appliance.count({ where })) > 0;
  if (kind === "incident") return (await tx.incident.count({ where })) > 0;
  if (kind === "tariff") return (await tx.energyTariff.count({ where })) > 0;
  if (kind === "limit") return (await tx.energyLimit.count({ where })) > 0;
  return (await tx.demandEvent.count({ where })) > 0;
}
