import type { Db } from "./client";
import type { SitePolicy } from "./generated/sqlite/client";

/** What a site states of its own; `version` 0 where it states nothing yet. */
export interface StatedPolicy {
  readonly figures: Readonly<Record<string, number>>;
  readonly standards: Readonly<Record<string, string>>;
  readonly version: number;
  readonly changedAt: Date | null;
}

function stated(row: SitePolicy | null): StatedPolicy {
  if (row === null) return { figures: {}, standards: {}, version: 0, changedAt: null };
  const { figures, standards, version, changedAt } = row;
  return { figures: figures as Record<string, number>, standards: standards as Record<string, string>, version, changedAt };
}

/** What a site states of its own. */
export async function findSitePolicy(db: Db, siteId: string): Promise<StatedPolicy> {
  return stated(await db.sitePolicy.findUnique({ where: { siteId } }));
}

/** Writes what a site states, when it is still at `version`; false when somebody changed it meanwhile. */
export async function writeSitePolicy(
  tx: Db,
  place: { readonly organisationId: string; readonly siteId: string },
  policy: Omit<StatedPolicy, "changedAt">,
  now: Date,
): Promise<boolean> {
  const { figures, standards, version } = policy;
  const data = { figures, standards, changedAt: now, version: version + 1 };
  if (version > 0) return (await tx.sitePolicy.updateMany({ where: { ...place, version }, data })).count === 1;
  const known = await tx.sitePolicy.findUnique({ where: { siteId: place.siteId }, select: { siteId: true } });
  if (known !== null) return false;
  await tx.sitePolicy.create({ data: { ...place, ...data } });
  return true;
}
