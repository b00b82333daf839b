import type { DueDays } from "@/lib/casework/due-date";
import type { Db } from "./client";

/** The days by which a site's findings are due; null where it states none of its own. */
export async function siteDueDays(db: Db, siteId: string): Promise<DueDays | null> {
  const own = await db.siteDueDays.findUnique({ where: { siteId } });
  return own ? { DANGER: own.danger, WARNING: own.warning, CAUTION: own.caution, NOTICE: own.notice } : null;
}

/** States a site's own days. */
export async function setSiteDueDays(tx: Db, site: { id: string; organisationId: string }, days: DueDays, changedAt: Date): Promise<void> {
  const row = { danger: days.DANGER, warning: days.WARNING, caution: days.CAUTION, notice: days.NOTICE, changedAt };
  const { id: siteId, organisationId } = site;
  await tx.siteDueDays.upsert({ where: { siteId }, create: { siteId, organisationId, ...row }, update: row });
}
