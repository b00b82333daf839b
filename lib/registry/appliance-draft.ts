import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import type { Db } from "@/lib/store/client";
import { findSites, unitNames } from "@/lib/store/place-queries";
import { applianceFields, getAppliance } from "./appliance";
import { type ApplianceFormText, applianceFieldNames } from "./appliance-form";

export interface DraftChoices {
  readonly sites: readonly { readonly id: string; readonly name: string }[];
  /** Names to offer while typing; a large portfolio offers the first ones. */
  readonly units: readonly { readonly siteId: string; readonly name: string }[];
}

/** Fields as the form holds them: text, empty for unknown. */
export function formText(fields: { readonly [K in keyof ApplianceFormText]: string | number | null }): ApplianceFormText {
  return Object.fromEntries(
    applianceFieldNames.map((name) => [name, fields[name] === null ? "" : String(fields[name])]),
  ) as ApplianceFormText;
}

/** What the appliance form offers: the sites in reach and their units. */
export async function draftChoices(db: Db, actor: Actor): Promise<DraftChoices> {
  requirePermission(actor, "edit appliances");
  const { organisationId, siteIds } = actor;
  const sites = await findSites(db, siteIds === "all" ? { organisationId } : { organisationId, id: { in: [...siteIds] } });
  return {
    sites: sites.map(({ id, name }) => ({ id, name })),
    units: await unitNames(
      db,
      sites.map(({ id }) => id),
    ),
  };
}

/** An appliance as its form is filled, with the version to save over. */
export async function draftOf(db: Db, actor: Actor, id: string): Promise<{ version: number; tag: string; text: ApplianceFormText }> {
  const appliance = await getAppliance(db, actor, id);
  requirePermission(actor, "edit appliances", appliance.siteId);
  return { version: appliance.version, tag: appliance.tag, text: formText(await applianceFields(db, appliance)) };
}
