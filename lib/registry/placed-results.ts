import type { PlacedResult } from "@/lib/casework/screening-finding";
import { tagKey } from "@/lib/identity/tag-code";
import type { FreshResult } from "@/lib/store/screening-queries";
import type { ScreeningResult } from "@/lib/watch/screening-result";
import type { LogPlan, PlannedAppliance } from "./log-plan";

/** Finds the ids of the names in screening results. */
export function placeResults(results: readonly ScreeningResult[], plan: LogPlan, appliances: readonly PlannedAppliance[]): PlacedResult[] {
  const sites = new Map(plan.outlets.map((outlet) => [outlet.site.name, outlet.siteId]));
  const circuits = new Map(plan.outlets.map((outlet) => [`${outlet.site.name}\u0000${outlet.circuit?.name ?? ""}`, outlet.circuitId]));
  const byTag = new Map(appliances.map(({ row }) => [row.tagKey, row.id]));
  return results.flatMap((result) => {
    const siteId = sites.get(result.site ?? "");
    if (siteId === undefined) return [];
    return [
      {
        result,
        siteId,
        circuitId: result.circuit === null ? null : (circuits.get(`${result.site}\u0000${result.circuit}`) ?? null),
        outletId: result.outlet === null ? null : (plan.find(result.outlet)?.id ?? null),
        applianceId: result.tag === null ? null : (byTag.get(tagKey(result.tag)) ?? null),
      },
    ];
  });
}

/** A result as it is stored. Its key says what, where and from when; its measure may still grow. */
export function resultRow({ result, ...ids }: PlacedResult, organisationId: string, screenedAt: Date): FreshResult {
  const { kind, receptacle, tag, fromMs, toMs, value, limit, unit, ratio, signalWord, reasons } = result;
  const { siteId, circuitId, outletId, applianceId } = ids;
  // A circuit has two limits, and an excess of both may begin at once.
  const ofLimit = kind === "circuit_overload" ? String(limit) : null;
  const thing = [siteId, circuitId, outletId, receptacle, applianceId ?? tag, ...(ofLimit === null ? [] : [ofLimit])].map(
    (part) => part ?? "",
  );
  return {
    organisationId,
    key: [kind, ...thing, fromMs].join(" "),
    kind,
    ...ids,
    receptacle,
    fromAt: new Date(fromMs),
    toAt: new Date(toMs),
    value,
    limit,
    unit,
    ratio,
    signalWord,
    reasons,
    screenedAt,
  };
}
