import type { SiteAsOf } from "@/lib/registry/as-of";
import type { InspectionRow } from "@/lib/store/site-pack-queries";
import { both, type PackNames, type PackSection, paperOnly, tableOnly } from "./site-pack-section";

/** Appliances whose next inspection was due by the end of the day. Inspections come the latest first. */
export function inspectionSection(then: SiteAsOf, names: PackNames, inspections: readonly InspectionRow[]): PackSection {
  const kept = then.appliances.filter(({ state }) => state !== "retired");
  const latest = new Map([...inspections].reverse().map((row) => [row.applianceId, row]));
  const never = kept.filter(({ id }) => !latest.has(id)).length;
  const overdue = kept.flatMap((row) => {
    const last = latest.get(row.id);
    return last?.nextDueAt && last.nextDueAt <= then.at ? [{ row, last }] : [];
  });
  return {
    key: "overdue_inspections",
    head: "Inspections overdue",
    knownAsOf: "The day.",
    note: `${never} of ${kept.length} appliances that were not retired had never been inspected; they are not in this table.`,
    empty: "No inspection that was made asked for the next one by this day.",
    columns: [
      both("tag", "Tag", 50, "code"),
      both("brand", "Maker", 76, "plate"),
      both("model", "Model", 70, "plate"),
      paperOnly("Unit, outlet, receptacle", 110),
      ...[tableOnly("unit"), tableOnly("outlet"), tableOnly("receptacle")],
      both("last", "Last", 44, "figure"),
      both("result", "Result", 60),
      both("due", "Due", 44, "figure"),
    ],
    rows: overdue.map(({ row, last }) => [
      ...[row.tag, row.brand, row.model, names.where(row), ...names.place(row)],
      ...[names.day(last.at), last.result, names.day(last.nextDueAt)],
    ]),
  };
}
