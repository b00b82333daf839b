import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { type Checked, checkNames } from "@/lib/casework/inspection-checklist";
import { figureNames } from "@/lib/casework/inspection-judging";
import type { Db } from "@/lib/store/client";
import { type Inspection, inspectionPages } from "@/lib/store/inspection-queries";
import { inertText } from "./inspection-text";

const plain = ["at", "tag", "site", "result", "standard", "environment", "protection_class", "cord_m"] as const;
const rest = ["instruments", "inspector", "notes", "reasons", "next_due", "next_due_why", "id", "corrects", "correction_why"] as const;

/** The columns of the inspections' CSV: a checked item and a figure have one each. */
export const inspectionColumns: readonly string[] = [
  ...plain,
  ...checkNames.map((name) => `check_${name}`),
  ...["conductor_ohm", "insulation_mohm", "conductor_ma", "touch_ma", "polarity", "functional"],
  ...rest,
];

function rowOf({ row, tag, site }: { row: Inspection; tag: string; site: string }): string[] {
  const checks = new Map((row.checklist as unknown as Checked[]).map((one) => [one.name, one.verdict]));
  const measured = row.measurements as Record<string, unknown>;
  const instruments = (row.instruments as { make: string; serial: string }[]).map(({ make, serial }) => `${make} ${serial}`).join("; ");
  const values: unknown[] = [
    ...[row.at.toISOString(), tag, site, row.result, row.standard, row.environment, row.protectionClass, row.cordMetres],
    ...checkNames.map((name) => checks.get(name)),
    ...figureNames.map((name) => measured[name]),
    measured["polarity"],
    measured["functional"],
    ...[instruments, row.signedName, row.notes, (row.reasons as string[]).join(" ")],
    ...[row.nextDueAt?.toISOString().slice(0, 10), row.nextDueWhy, row.id, row.correctsId, row.correctionWhy],
  ];
  return values.map((value) =>
    value === null || value === undefined ? "" : inertText(typeof value === "string" ? value : JSON.stringify(value)),
  );
}

/** Inspections as rows of a CSV file, the oldest first, in pages. Permission: `see inspections`. */
export async function* exportInspections(db: Db, actor: Actor, siteId: string | undefined): AsyncGenerator<string[][]> {
  requirePermission(actor, "see inspections", siteId);
  const mine = actor.siteIds === "all" ? null : actor.siteIds;
  const siteIds = siteId === undefined ? mine : [siteId];
  for await (const page of inspectionPages(db, { organisationId: actor.organisationId, siteIds })) yield page.map(rowOf);
}
