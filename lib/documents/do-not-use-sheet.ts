import { toString as drawCode } from "qrcode";
import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { scanIdOf } from "@/lib/registry/tag-scan";
import type { Store } from "@/lib/store/client";
import { findContact, type SiteContact } from "@/lib/store/occupant-queries";

/** What the sheet on an appliance says: nothing of who lives there, who owns it or where it belongs. */
export interface DoNotUseSheet {
  readonly applianceId: string;
  readonly tag: string;
  /** Whether it is out of use at all; a sheet for one that is in use would warn of nothing. */
  readonly isOut: boolean;
  readonly since: Date | null;
  readonly timeZone: string;
  readonly contact: SiteContact | null;
  /** The address of the tag's page, and its QR code as an SVG drawing. */
  readonly address: string;
  readonly code: string;
}

/**
 * The DO NOT USE sheet of an appliance. `origin` is this service's address, as in `https://host`. Permission: `see appliances` at its
 * site. Level Q of the code, so that a quarter of it may be dirty or torn (ISO/IEC 18004, 25 % recovery).
 */
export async function doNotUseSheet(
  db: Store,
  actor: Actor,
  { id, origin, now }: { readonly id: string; readonly origin: string; readonly now: Date },
): Promise<DoNotUseSheet> {
  requirePermission(actor, "see appliances");
  const { organisationId } = actor;
  const appliance = await db.appliance.findFirst({ where: { id, organisationId } });
  if (!appliance) throw new Trouble("not_found", "There is no such appliance here.");
  requirePermission(actor, "see appliances", appliance.siteId);
  const site = await db.site.findUniqueOrThrow({ where: { id: appliance.siteId }, select: { timeZone: true } });
  const address = `${origin}/tag/${await scanIdOf(db, { organisationId, tagKey: appliance.tagKey, now })}`;
  const code = await drawCode(address, { type: "svg", errorCorrectionLevel: "Q", margin: 4 });
  const { tag, outOfUseAt: since, siteId } = appliance;
  const timeZone = site.timeZone ?? "UTC";
  return {
    applianceId: id,
    tag,
    isOut: appliance.state === "out_of_use",
    since,
    timeZone,
    contact: await findContact(db, siteId),
    address,
    code,
  };
}
