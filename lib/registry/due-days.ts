import { type Actor, recordName } from "@/lib/access/actor";
import { requireSeen } from "@/lib/access/changed-meanwhile";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { type DueDays, dueDays, dueDaysProblems } from "@/lib/casework/due-date";
import type { Db, Store } from "@/lib/store/client";
import { setSiteDueDays, siteDueDays } from "@/lib/store/due-days-queries";
import { findSite } from "@/lib/store/place-queries";
import { appendRecord } from "@/lib/store/record";
import type { Site } from "@/lib/store/rows";

async function siteAt(db: Db, actor: Actor, siteId: string): Promise<Site> {
  const site = await findSite(db, actor.organisationId, siteId);
  if (!site) throw new Trouble("not_found", "There is no such site here: choose it again under Building.");
  return site;
}

export interface SiteDueDaysView {
  readonly site: Site;
  readonly days: DueDays;
  /** Whether the site states its own. */
  readonly isOwn: boolean;
}

/** Within how many days a site's findings are due. Permission: `see findings` at the site. */
export async function viewDueDays(db: Db, actor: Actor, siteId: string): Promise<SiteDueDaysView> {
  requirePermission(actor, "see findings", siteId);
  const site = await siteAt(db, actor, siteId);
  const own = await siteDueDays(db, siteId);
  return { site, days: own ?? dueDays, isOwn: own !== null };
}

/**
 * States within how many days a site's findings are due; those already open keep their dates. Permission: `set site policy` at the site.
 * Throws `Trouble` with a sentence for each word that does not do.
 */
export async function stateDueDays(
  db: Store,
  actor: Actor,
  given: { readonly siteId: string; readonly days: DueDays; readonly seen?: string | undefined; readonly now: Date },
): Promise<void> {
  const { siteId, days, seen, now } = given;
  requirePermission(actor, "set site policy", siteId);
  const site = await siteAt(db, actor, siteId);
  const problems = dueDaysProblems(days);
  const first = Object.values(problems)[0];
  if (first !== undefined) throw new Trouble("not_valid", first, problems);
  await db.$transaction(async (tx) => {
    const before = await siteDueDays(tx, siteId);
    requireSeen(seen, { ...(before ?? dueDays) }, { what: "the due days of this site" });
    await setSiteDueDays(tx, site, days, now);
    const { organisationId } = actor;
    const entry = { organisationId, at: now, actor: recordName(actor), subjectKind: "site", subjectId: siteId };
    await appendRecord(tx, [{ ...entry, what: "due days stated", ...(before ? { before } : {}), after: days }]);
  });
}
