import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { tagKey } from "@/lib/identity/tag-code";
import { crossCheck } from "@/lib/matching/cross-check";
import {
  type Extent,
  extentOf,
  type LabelGap,
  type NoticeGap,
  noticeGaps,
  outcomeOf,
  type PairStanding,
  type ProofOutcome,
  proofOutcomes,
} from "@/lib/matching/negative-proof";
import type { RecallIndex } from "@/lib/matching/recall-index";
import type { Db } from "@/lib/store/client";
import { findPlaceNames } from "@/lib/store/place-name-queries";
import {
  type ComparedAppliance,
  comparedAppliances,
  countRetired,
  type ProvedNotice,
  provedNotices,
  type StoredPair,
  storedPairs,
} from "@/lib/store/proof-queries";
import { grouped } from "@/lib/watch/grouped";
import { addressChoice, addressPage, addressText } from "./address-fields";
import { isKept } from "./candidate-changes";
import { openStandings, type Standing } from "./decision-standing";
import { mySites } from "./finding-list";
import { type ProofList, proofLists } from "./proof-lists";
import { getRecallIndex } from "./recall-list-index";

/** The proof's state in its address. */
export const proofQuery = z.object({
  site: addressText,
  tag: addressText,
  outcome: addressChoice(proofOutcomes as [ProofOutcome, ...ProofOutcome[]]),
  page: addressPage,
  notices: addressPage,
});
export type ProofQuery = z.output<typeof proofQuery>;

/** A notice that an appliance was paired with. */
export interface ProofNotice {
  readonly notice: ProvedNotice;
  readonly grade: string;
  readonly standing: PairStanding;
}

/** One appliance: how far it could be compared, and what came of it. */
export interface ProofRow {
  readonly appliance: ComparedAppliance;
  readonly where: string | null;
  readonly extent: Extent;
  readonly gaps: readonly LabelGap[];
  readonly outcome: ProofOutcome;
  readonly pairs: readonly ProofNotice[];
  /** False where the stored comparison says otherwise than the one made now. */
  readonly agrees: boolean;
}

export interface UnprovedNotice {
  readonly notice: ProvedNotice;
  readonly gaps: readonly NoticeGap[];
}

/** Which lists were compared with which appliances, and what came of it. */
export interface NegativeProof {
  readonly site: { readonly id: string; readonly name: string; readonly timeZone: string | null };
  readonly sites: readonly { readonly id: string; readonly name: string }[];
  /** When it was compared. */
  readonly at: Date;
  /** The one appliance that was asked for. */
  readonly one: ComparedAppliance | null;
  readonly lists: readonly ProofList[];
  readonly rows: readonly ProofRow[];
  readonly counts: Readonly<Record<ProofOutcome, number>>;
  readonly retired: number;
  /** How many notices were compared, gone ones included. */
  readonly notices: number;
  readonly unproved: readonly UnprovedNotice[];
  /** Appliances whose stored comparison says otherwise than the one made now. */
  readonly differing: number;
}

const standingOf = (standing: string): PairStanding =>
  openStandings.includes(standing as Standing) ? "open" : (standing as Exclude<PairStanding, "open">);

interface Compared {
  readonly index: RecallIndex;
  readonly notices: ReadonlyMap<string, ProvedNotice>;
  readonly stored: ReadonlyMap<string, readonly StoredPair[]>;
}

/** Compares an appliance afresh and lays its stored pairs beside it. */
function proveOne(appliance: ComparedAppliance, where: string | null, { index, notices, stored }: Compared): ProofRow {
  const fresh = crossCheck(index, appliance, { ruledOut: true }).filter(isKept);
  const kept = stored.get(appliance.id) ?? [];
  const standings = new Map(kept.map((pair) => [pair.noticeId, standingOf(pair.standing)]));
  const keptGrades = new Map(kept.map((pair) => [pair.noticeId, pair.grade]));
  const grades = new Map(fresh.map(({ noticeKey, grade }) => [noticeKey, grade]));
  // A decided pair stays a pair when the comparison no longer raises it.
  for (const { noticeId, standing } of kept)
    if (standingOf(standing) !== "open" && !grades.has(noticeId)) grades.set(noticeId, "not_covered");
  const pairs = [...grades].flatMap(([noticeId, grade]) => {
    const notice = notices.get(noticeId);
    return notice ? [{ notice, grade, standing: standings.get(noticeId) ?? "open" }] : [];
  });
  const agrees = grades.size === kept.length && [...grades].every(([noticeId, grade]) => keptGrades.get(noticeId) === grade);
  const { extent, gaps }: ReturnType<typeof extentOf> = notices.size === 0 ? { extent: "none", gaps: ["no_list"] } : extentOf(appliance);
  const outcome = outcomeOf(
    extent,
    pairs.map(({ notice: { hasIdentifiers }, grade, standing }) => ({ hasIdentifiers, grade, standing })),
  );
  return { appliance, where, extent, gaps, outcome, pairs, agrees };
}

function unprovedOf(notices: readonly ProvedNotice[], { notices: indexed }: RecallIndex): UnprovedNotice[] {
  const unread = new Set(indexed.filter(({ coverage }) => coverage.spans.some(({ kind }) => kind === "unread")).map(({ key }) => key));
  return notices.flatMap((notice) => {
    const { id, hasIdentifiers, checkedAt } = notice;
    const gaps = noticeGaps({ hasIdentifiers, isCompared: checkedAt !== null, hasUnread: unread.has(id) });
    return gaps.length === 0 ? [] : [{ notice, gaps }];
  });
}

async function placesOf(
  db: Db,
  organisationId: string,
  appliances: readonly ComparedAppliance[],
): Promise<(row: ComparedAppliance) => string | null> {
  const names = await findPlaceNames(db, organisationId, appliances);
  return ({ unitId, outletId, receptacle }) => {
    const [unit, outlet] = [names.get(unitId ?? ""), names.get(outletId ?? "")];
    return [unit && `unit ${unit}`, outlet, outlet && receptacle && `receptacle ${receptacle}`].filter(Boolean).join(", ") || null;
  };
}

function narrowed(all: readonly ComparedAppliance[], tag: string | undefined): readonly ComparedAppliance[] {
  if (tag === undefined) return all;
  const one = all.filter((row) => row.tagKey === tagKey(tag));
  if (one.length > 0) return one;
  throw new Trouble(
    "not_valid",
    `No appliance of this site that is not retired has the tag "${tag}": look at the tag again, or choose its site.`,
  );
}

/**
 * What the loaded recall lists say, and do not say, of the appliances of a site or of one of them. Everything is compared afresh, so
 * that it rests on the lists and labels as they are, not on what an earlier comparison left. Null where there is no site. Throws
 * `Trouble` for a tag that is not there. Permission: `see recalls` and `see appliances`.
 */
export async function negativeProof(
  db: Db,
  actor: Actor,
  { query, now }: { readonly query: Pick<ProofQuery, "site" | "tag">; readonly now: Date },
): Promise<NegativeProof | null> {
  for (const permission of ["see recalls", "see appliances"] as const) requirePermission(actor, permission);
  const sites = await mySites(db, actor);
  const site = query.site === undefined ? sites[0] : sites.find(({ id }) => id === query.site);
  if (site === undefined) {
    if (query.site === undefined) return null;
    throw new Trouble("not_found", "There is no such site here: choose it again.");
  }
  const { organisationId } = actor;
  const key = { organisationId, siteId: site.id };
  const appliances = narrowed(await comparedAppliances(db, key), query.tag);
  const ids = appliances.map(({ id }) => id);
  const [{ index }, notices, pairs, lists, retired, where] = await Promise.all([
    getRecallIndex(db, organisationId),
    provedNotices(db, organisationId),
    storedPairs(db, organisationId, ids),
    proofLists(db, organisationId, now),
    countRetired(db, key),
    placesOf(db, organisationId, appliances),
  ]);
  const compared = {
    index,
    notices: new Map(notices.map((notice) => [notice.id, notice])),
    stored: grouped(pairs, ({ applianceId }) => applianceId),
  };
  const rows = appliances.map((appliance) => proveOne(appliance, where(appliance), compared));
  const counts = Object.fromEntries(proofOutcomes.map((outcome) => [outcome, 0])) as Record<ProofOutcome, number>;
  for (const { outcome } of rows) counts[outcome]++;
  return {
    ...{ site, sites, at: now, one: query.tag === undefined ? null : (appliances[0] ?? null), lists, rows, counts, retired },
    notices: notices.length,
    unproved: unprovedOf(notices, index),
    differing: rows.filter(({ agrees }) => !agrees).length,
  };
}
