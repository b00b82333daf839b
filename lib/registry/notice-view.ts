import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { siteScope } from "@/lib/access/site-scope";
import { Trouble } from "@/lib/access/trouble";
import { countCandidates, findCandidates } from "@/lib/store/candidate-list-queries";
import type { Db } from "@/lib/store/client";
import { findNotice, findNoticesWithout, findWordings } from "@/lib/store/notice-queries";
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

/** Notices of one maker and product kind that give nothing else to compare. */
export interface UnidentifiedGroup {
  readonly maker: string;
  readonly kind: string;
  readonly notices: readonly { readonly id: string; readonly number: string; readonly date: string | null; readonly title: string }[];
  /** Appliances that maker and kind alone point at. */
  readonly appliances: number;
}

/** The notices without identifiers by maker and product kind, those that point at appliances first. Permission: `see recalls`. */
export async function findUnidentified(db: Db, actor: Actor): Promise<UnidentifiedGroup[]> {
  requirePermission(actor, "see recalls");
  const { organisationId, siteIds } = actor;
  const rows = await findNoticesWithout(db, organisationId, siteIds === "all" ? null : siteIds);
  const groups = new Map<string, UnidentifiedGroup>();
  for (const { id, number, date, title, coverage, appliances } of rows) {
    const maker = coverage.brands[0] ?? "no maker named";
    const kind = coverage.products[0] ?? "no product named";
    const key = `${maker.toLowerCase()}\n${kind.toLowerCase()}`;
    const known = groups.get(key);
    const notice = { id, number, date, title };
    groups.set(key, {
      maker: known?.maker ?? maker,
      kind: known?.kind ?? kind,
      notices: [...(known?.notices ?? []), notice],
      appliances: (known?.appliances ?? 0) + appliances,
    });
  }
  const words = ({ maker, kind }: UnidentifiedGroup) => `${maker} ${kind}`.toLowerCase();
  return [...groups.values()].sort((a, b) => b.appliances - a.appliances || (words(a) < words(b) ? -1 : 1));
}
