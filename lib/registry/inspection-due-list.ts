import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { type DueState, dueState, firstDue } from "@/lib/casework/inspection-due";
import { compareStops, type RoundPlace } from "@/lib/casework/inspection-round";
import type { Db } from "@/lib/store/client";
import { type RoundAppliance, roundAppliances, roundNames } from "@/lib/store/inspection-queries";
import { findSite } from "@/lib/store/place-queries";
import { inspectionPolicyOf, type SiteInspectionPolicy } from "./inspection-policy";

/** One appliance of a round. */
export interface RoundStop {
  readonly id: string;
  readonly place: RoundPlace;
  readonly what: string;
  readonly searchText: string;
  readonly outOfUse: boolean;
  readonly lastAt: Date | null;
  readonly lastResult: string | null;
  readonly dueAt: Date;
  readonly state: DueState;
}

/** The appliances of a site in walking order, each with when it is due. Permission: `see inspections` at the site. */
export async function stopsOfSite(
  db: Db,
  actor: Actor,
  { siteId, now }: { readonly siteId: string; readonly now: Date },
): Promise<{ site: { id: string; name: string }; policy: SiteInspectionPolicy; stops: RoundStop[] }> {
  requirePermission(actor, "see inspections", siteId);
  const site = await findSite(db, actor.organisationId, siteId);
  if (!site) throw new Trouble("not_found", "There is no such site here: choose it again.");
  const policy = await inspectionPolicyOf(db, site);
  const names = await roundNames(db, actor.organisationId, siteId);
  const rows = await roundAppliances(db, actor.organisationId, siteId);
  const stops = rows.map((row) => stopOf(row, { site: site.name, names, firstDays: policy.firstDays, now }));
  return { site, policy, stops: stops.sort((a, b) => compareStops(a.place, b.place)) };
}

interface Around {
  readonly site: string;
  readonly names: ReadonlyMap<string, string>;
  readonly firstDays: number;
  readonly now: Date;
}

function stopOf(row: RoundAppliance, { site, names, firstDays, now }: Around): RoundStop {
  const named = (id: string | null) => (id === null ? null : (names.get(id) ?? null));
  const due = row.inspectionDue;
  const dueAt = due?.dueAt ?? firstDue(row.createdAt, firstDays);
  return {
    id: row.id,
    place: { site, unit: named(row.unitId), outlet: named(row.outletId), receptacle: row.receptacle, tag: row.tag },
    what: [row.category, row.brand, row.model].filter(Boolean).join(" ") || "not described",
    searchText: row.searchText,
    outOfUse: row.state === "out_of_use",
    lastAt: due?.lastAt ?? null,
    lastResult: due?.lastResult ?? null,
    dueAt,
    state: dueState(dueAt, now),
  };
}
