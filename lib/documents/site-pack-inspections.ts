import { dueState, firstDue } from "@/lib/casework/inspection-due";
import type { SiteAsOf } from "@/lib/registry/as-of";
import type { InspectionRow } from "@/lib/store/site-pack-queries";
import { both, byTexts, type PackNames, type PackSection, placeColumns } from "./site-pack-section";

interface Inspected {
  /** The latest first. */
  readonly inspections: readonly InspectionRow[];
  /** Days that an appliance may wait for its first inspection, by the site's policy. */
  readonly firstDays: number;
}

/** Appliances whose next inspection, or first one, was due by the end of the day; the longest overdue first. */
export function inspectionSection(then: SiteAsOf, names: PackNames, { inspections, firstDays }: Inspected): PackSection {
  const latest = new Map([...inspections].reverse().map((row) => [row.applianceId, row]));
  const kept = then.appliances
    .filter(({ state }) => state !== "retired")
    .map((row) => ({ row, last: latest.get(row.id) ?? null, due: latest.get(row.id)?.nextDueAt ?? firstDue(row.createdAt, firstDays) }));
  const overdue = kept
    .filter(({ due }) => dueState(due, then.at) === "overdue")
    .sort(
      byTexts(
        ({ due }) => due.toISOString(),
        ({ row }) => row.tag,
      ),
    );
  const never = overdue.filter(({ last }) => last === null).length;
  return {
    key: "overdue_inspections",
    head: "Inspections overdue",
    knownAsOf: "The day; the wait for a first inspection as it is now.",
    note: `Of ${kept.length} appliances that were not retired; ${never} of the overdue had never been inspected. A first inspection is due ${firstDays} days after an appliance was entered (the site's policy).`,
    empty: "No inspection was overdue.",
    columns: [
      both("tag", "Tag", 50, "code"),
      both("brand", "Maker", 76, "plate"),
      both("model", "Model", 70, "plate"),
      ...placeColumns(110),
      both("last", "Last", 44, "figure"),
      both("result", "Result", 50),
      both("due", "Due", 44, "figure"),
    ],
    rows: overdue.map(({ row, last, due }) => [
      ...[row.tag, row.brand, row.model, names.where(row), ...names.place(row)],
      ...[last === null ? "never" : names.day(last.at), last?.result ?? null, names.day(due)],
    ]),
  };
}
