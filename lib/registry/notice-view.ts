import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { siteScope } from "@/lib/access/site-scope";
import { Trouble } from "@/lib/access/trouble";
import { countCandidates, findCandidates } from "@/lib/store/candidate-list-queries";
import type { Db } from "@/lib/store/client";
import { findNotice, findWordings } from "@/lib/store/notice-queries";
import { findPlaceNames } from "@/lib/store/place-name-queries";
import type { CandidateRow } from "./recall-overview";
import { placeOf, toSeen } from "./review";

export const appliancesShown = 100;

/** One notice with its earlier wordings and the appliances it may concern. Throws `Trouble` where there is none. Permission: `see recalls`. */
export async function getNoticeView(db: Db, actor: Actor, { noticeId }: { readonly noticeId: string }) {
  requirePermission(actor, "see recalls");
  const { organisationId } = actor;
  const notice = await findNotice(db, organisationId, noticeId);
  if (!notice) throw new Trouble("not_found", "There is no such notice; go back to the list of recalls.");
  const scope = siteScope(actor);
  const [wordings, rows, total] = await Promise.all([
    findWordings(db, noticeId),
    findCandidates(db, scope, { noticeId }, { sort: "work", order: "asc", skip: 0, take: appliancesShown }),
    countCandidates(db, scope, { noticeId }),
  ]);
  const names = await findPlaceNames(
    db,
    organisationId,
    rows.map(({ appliance }) => appliance),
  );
  const concerned: CandidateRow[] = rows.map((row) => ({ candidate: toSeen(row), place: placeOf(row.appliance, names) }));
  return { notice, wordings, concerned, total };
}
