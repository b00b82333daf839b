import type { Actor } from "@/lib/access/actor";
import type { Db } from "@/lib/store/client";
import { type LoggedAppliance, loggedAppliances, type OutletInPlan, outletsInPlan, placementsOf } from "@/lib/store/log-plan-queries";
import type { DocumentedBaseline } from "@/lib/watch/documented-baseline";
import type { PlannedOutlet } from "@/lib/watch/outlet-plan";
import type { ScreenedAppliance } from "@/lib/watch/screened-appliance";
import { ratingOf } from "./appliance-columns";
import { nameKey } from "./place-name";
import { standardsOfSite } from "./site-policy";

/** The outlets of an organisation, found by name or id. */
export interface LogPlan {
  readonly outlets: readonly OutletInPlan[];
  readonly byId: ReadonlyMap<string, OutletInPlan>;
  /** The outlet of a name as a log writes it. */
  readonly find: (name: string) => OutletInPlan | undefined;
}

/** Reads the plan of the sites that the actor may see. Names are looked up folded, each spelling once. */
export async function readLogPlan(db: Db, actor: Pick<Actor, "organisationId" | "siteIds">): Promise<LogPlan> {
  const all = await outletsInPlan(db, actor.organisationId);
  return planOf(all.filter(({ siteId }) => actor.siteIds === "all" || actor.siteIds.includes(siteId)));
}

/** Reads the plan of one site. */
export async function readSitePlan(db: Db, organisationId: string, siteId: string): Promise<LogPlan> {
  return planOf(await outletsInPlan(db, organisationId, siteId));
}

function planOf(outlets: readonly OutletInPlan[]): LogPlan {
  const byKey = new Map(outlets.map((outlet) => [outlet.nameKey, outlet]));
  const bySpelling = new Map<string, OutletInPlan | undefined>();
  const find = (name: string) => {
    if (!bySpelling.has(name)) {
      if (bySpelling.size > 100_000) bySpelling.clear();
      bySpelling.set(name, byKey.get(nameKey(name)));
    }
    return bySpelling.get(name);
  };
  return { outlets, byId: new Map(outlets.map((outlet) => [outlet.id, outlet])), find };
}

/** An outlet as the screening takes it. */
export function plannedOutlet(outlet: OutletInPlan): PlannedOutlet {
  return {
    site: outlet.site.name,
    timeZone: outlet.site.timeZone,
    unit: outlet.unit?.name ?? null,
    circuit: outlet.circuit?.name ?? null,
    deviceAmps: outlet.circuit?.deviceAmps ?? null,
    volts: outlet.circuit?.volts ?? outlet.site.nominalVolts,
    leg: outlet.circuit?.leg ?? null,
    outlet: outlet.name,
    outletAmps: outlet.outletAmps,
    receptacles: outlet.receptacles,
  };
}

/** The row's own receptacle, or the only one the outlet has; empty where a row names none of several. */
export function receptacleOf(outlet: Pick<OutletInPlan, "receptacles">, receptacle: string | null): string {
  return receptacle ?? (outlet.receptacles === 1 ? "1" : "");
}

/** An appliance as the screening takes it, with the registry's row beside it. */
export interface PlannedAppliance {
  readonly row: LoggedAppliance;
  readonly screened: ScreenedAppliance;
}

/** Whose readings, when they begin, and the folded tags that were seen in them. */
export interface LoggedWhere {
  readonly organisationId: string;
  readonly siteId: string;
  readonly fromAt: Date;
  readonly tagKeys: readonly string[];
}

/** The documented baseline of a row, days of the site's clock; nothing where its first days count. */
function baselineOf(
  { baselineFrom: from, baselineTo: to }: Pick<LoggedAppliance, "baselineFrom" | "baselineTo">,
  timeZone: string | null,
): { readonly baseline?: DocumentedBaseline } {
  return from === null || to === null ? {} : { baseline: { from, to, timeZone } };
}

/**
 * The appliances a site's readings can speak of, each where it was when the readings begin: a tag in them moves it from there. Where
 * the registry knows no place that early, the first one it knows counts.
 */
export async function readLoggedAppliances(db: Db, plan: LogPlan, { fromAt, ...where }: LoggedWhere): Promise<PlannedAppliance[]> {
  const rows = await loggedAppliances(db, where);
  const moved = rows.filter((row) => row.lastSeenAt !== null).map(({ id }) => id);
  const starts = new Map<string, { outletId: string | null; receptacle: string | null }>();
  for (const placement of await placementsOf(db, moved)) {
    const isEarly = placement.fromAt <= fromAt && (placement.toAt === null || placement.toAt > fromAt);
    if (isEarly || !starts.has(placement.applianceId)) starts.set(placement.applianceId, placement);
  }
  const { nominalVolts, timeZone } = plan.outlets[0]?.site ?? { nominalVolts: null, timeZone: null };
  const { deviation } = await standardsOfSite(db, { id: where.siteId, nominalVolts });
  return rows.map((row) => {
    const { outletId, receptacle } = starts.get(row.id) ?? row;
    const outlet = outletId === null ? undefined : plan.byId.get(outletId);
    const rating = ratingOf(row);
    const screened = {
      tag: row.tag,
      site: outlet?.site.name ?? null,
      outlet: outlet?.name ?? null,
      receptacle,
      category: row.category,
      rating,
      deviation,
      ...baselineOf(row, timeZone),
    };
    return { row, screened };
  });
}
