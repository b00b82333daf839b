import { type Actor, recordName } from "@/lib/access/actor";
import { requireSeen, type SeenValues } from "@/lib/access/changed-meanwhile";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { findSite } from "@/lib/store/arrival-queries";
import type { Db, Store } from "@/lib/store/client";
import { liveHolds } from "@/lib/store/hold-queries";
import { placementsOf } from "@/lib/store/log-plan-queries";
import { appendRecord } from "@/lib/store/record";
import { organisationKeepDays, setOrganisationKeepDays } from "@/lib/store/retention-queries";
import { findStreams, holdStream, updateStream } from "@/lib/store/stream-queries";

/** Readings are needed this long for repeated trips and for an appliance's own past, so that none are put away sooner. */
export const fewestKeepDays = 35;
const mostKeepDays = 36_500;

export interface RetentionChoice {
  /** Null is the whole organisation. */
  readonly siteId: string | null;
  /** Days for which readings are kept one by one; null is for good, for a site as the organisation says. */
  readonly keepDays: number | null;
  /** The mark of the times that the person had before them. */
  readonly seen?: string | undefined;
  readonly now: Date;
}

/** The field with the mark of one time: the form carries each one's, and the one that is set is compared. */
export function retentionMark(siteId: string | null): string {
  return `seen:${siteId ?? ""}`;
}

/** What the form can change, by its fields: the time of the organisation or of one site. */
export function retentionSeen(keepDays: number | null): SeenValues {
  return { keepDays };
}

/** Says how long readings are kept one by one. What was put away by then stays put away. Permission: `set retention`. */
export async function setRetention(db: Store, actor: Actor, { siteId, keepDays, seen, now }: RetentionChoice): Promise<void> {
  requirePermission(actor, "set retention", siteId ?? undefined);
  const { organisationId } = actor;
  if (siteId === null && actor.siteIds !== "all")
    throw new Trouble("not_allowed_now", "The time for the whole organisation is set by someone who has all its sites.");
  if (keepDays !== null && !(Number.isInteger(keepDays) && keepDays >= fewestKeepDays && keepDays <= mostKeepDays))
    throw new Trouble("not_valid", `Readings are kept for ${fewestKeepDays} to ${mostKeepDays} whole days, or for good.`, {
      keepDays: `Write ${fewestKeepDays} or more, or leave it empty.`,
    });
  if (siteId !== null && !(await findSite(db, organisationId, siteId))) throw new Trouble("not_found", "There is no such site.");
  await db.$transaction(async (tx) => {
    const before =
      siteId === null ? await organisationKeepDays(tx, organisationId) : (await holdStream(tx, organisationId, siteId)).keepDays;
    requireSeen(seen, retentionSeen(before), { what: "how long these readings are kept", field: retentionMark(siteId) });
    if (before === keepDays) return;
    if (siteId === null) await setOrganisationKeepDays(tx, organisationId, keepDays);
    else await updateStream(tx, siteId, { keepDays });
    const subject =
      siteId === null ? { subjectKind: "organisation", subjectId: organisationId } : { subjectKind: "site", subjectId: siteId };
    const entry = { organisationId, at: now, actor: recordName(actor), what: "set how long readings are kept", ...subject };
    await appendRecord(tx, [{ ...entry, before: { keepDays: before }, after: { keepDays } }]);
  });
}

export interface Retention {
  readonly keepDays: number | null;
  /** Sites with readings: their own days, and from when on their readings are kept one by one. */
  readonly sites: ReadonlyMap<string, { readonly keepDays: number | null; readonly rawFrom: Date | null }>;
}

/** How long readings are kept, for the whole organisation and by site where a site differs. Permission: `set retention`. */
export async function retentionOf(db: Db, actor: Actor): Promise<Retention> {
  requirePermission(actor, "set retention");
  const streams = await findStreams(db, actor.organisationId);
  const mine = streams.filter(({ siteId }) => actor.siteIds === "all" || actor.siteIds.includes(siteId));
  return {
    keepDays: await organisationKeepDays(db, actor.organisationId),
    sites: new Map(mine.map(({ siteId, keepDays, rawFrom }) => [siteId, { keepDays, rawFrom }])),
  };
}

/** Why a site's readings may not be put away: a hold on the organisation, on the site, or on an appliance that is or was there. */
export async function holdOnSite(db: Db, organisationId: string, siteId: string): Promise<string | null> {
  for (const { subjectKind, subjectId, why } of await liveHolds(db, organisationId)) {
    if (subjectKind === "organisation" || (subjectKind === "site" && subjectId === siteId)) return why;
    if (subjectKind === "appliance" && (await placementsOf(db, [subjectId])).some((stay) => stay.siteId === siteId)) return why;
  }
  return null;
}
