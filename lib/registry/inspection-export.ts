import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { type Checked, checkNames } from "@/lib/casework/inspection-checklist";
import { figureNames } from "@/lib/casework/inspection-judging";
import type { Db } from "@/lib/store/client";
import { type Inspection, inspectionPages } from "@/lib/store/inspection-queries";

const plain = ["at", "tag", "site", "result", "standard", "environment", "protection_class", "cord_m"] as const;
const rest = ["instruments", "inspector", "notes", "reasons", "next_due", "next_due_why", "id", "corrects", "correction_why"] as const;

/** The columns of the inspections' CSV: a checked item and a figure have one each. */
export const inspectionColumns: readonly string[] = [
  ...plain,
  ...checkNames.map((name) => `check_${name}`),
  ...["conductor_ohm", "insulation_mohm", "conductor_ma", "touch_ma", "polarity", "functional"],
  ...rest,
];

type Cell = string | number | null;

function rowOf({ row, tag, site }: { row: Inspection; tag: string; site: string }): Cell[] {
  const checks = new Map((row.checklist as unknown as Checked[]).map((one) => [one.name, one.verdict]));
  const measured = row.measurements as Record<string, Cell>;
  const instruments = (row.instruments as { make: string; serial: string }[]).map(({ make, serial }) => `${make} ${serial}`).join("; ");
  const values: (Cell | undefined)[] = [
    ...[row.at.toISOString(), tag, site, row.result, row.standard, row.environment, row.protectionClass, row.cordMetres],
    ...checkNames.map((name) => checks.get(name)),
    ...figureNames.map((name) => measured[name]),
    measured["polarity"],
    measured["functional"],
    ...[instruments, row.signedName, row.notes, (row.reasons as string[]).join(" ")],
    ...[row.nextDueAt?.toISOString().slice(0, 10), row.nextDueWhy, row.id, row.correctsId, row.correctionWhy],
  ];
  return values.map((value) => value ?? null);
}

/**
 * Inspections as rows of a CSV file, the oldest first, in pages: of one site, or of all that the actor may see. Permission:
 * `see inspections`. Throws `Refused` at once.
 */
export function exportInspections(db: Db, actor: Actor, siteId: string | undefined): AsyncGenerator<Cell[][]> {
  requirePermission(actor, "see inspections", siteId);
  const mine = actor.siteIds === "all" ? null : actor.siteIds;
  return rowPages(db, { organisationId: actor.organisationId, siteIds: siteId === undefined ? mine : [siteId] });
}

async function* rowPages(db: Db, at: { organisationId: string; siteIds: readonly string[] | null }): AsyncGenerator<Cell[][]> {
  for await (const page of inspectionPages(db, at)) yield page.map(rowOf);
}
