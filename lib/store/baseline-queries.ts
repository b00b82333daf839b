import type { Db } from "./client";

/** What the record calls an entry that documents an appliance's baseline, and one that goes back to its first days. */
export const baselineEntry = { documented: "baseline documented", cleared: "baseline back to its first days" } as const;

/** The latest entry of the record about an appliance's baseline, with the name of who made it; null where there is none. */
export async function latestBaselineEntry(db: Db, where: { readonly organisationId: string; readonly applianceId: string }) {
  const { organisationId, applianceId: subjectId } = where;
  const entry = await db.recordEntry.findFirst({
    where: { organisationId, subjectKind: "appliance", subjectId, what: { in: Object.values(baselineEntry) } },
    orderBy: { number: "desc" },
  });
  if (!entry) return null;
  const person = await db.user.findUnique({ where: { id: entry.actor }, select: { name: true } });
  return { ...entry, who: person?.name ?? entry.actor };
}

/** Whether anything was measured of an appliance from an instant to before another. */
export async function hasDraws(
  db: Db,
  {
    organisationId,
    applianceId,
    from,
    to,
  }: { readonly organisationId: string; readonly applianceId: string; readonly from: Date; readonly to: Date },
): Promise<boolean> {
  return (
    (await db.drawMinute.findFirst({ where: { organisationId, applianceId, at: { gte: from, lt: to } }, select: { at: true } })) !== null
  );
}
