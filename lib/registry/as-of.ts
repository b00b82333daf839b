import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { signalWords } from "@/lib/casework/signal-word";
import {
  applianceIdsEverAt,
  appliancesNow,
  candidatesRaisedBy,
  changesAfter,
  type DecisionRow,
  decisionsBy,
  findingsOpenedBy,
  headAt,
  type NoticeNow,
  namesAt,
  noticesLoadedBy,
  placementsOf,
  type RecordedChange,
  type SiteNames,
  type Stay,
  wordingsReplacedAfter,
} from "@/lib/store/as-of-queries";
import type { Db } from "@/lib/store/client";
import type { RecordHead } from "@/lib/store/record-head";
import { localDay } from "@/lib/watch/energy-hour";
import { grouped } from "@/lib/watch/grouped";
import { endOfLocalDay } from "@/lib/watch/zone-time";
import { type ApplianceThen, applianceThen, decisionsThen, type FindingThen, findingThen, importedChanges } from "./as-of-fold";
import { dayStart } from "./energy-view";
import { getSite } from "./place-building";

export interface NoticeThen extends NoticeNow {
  /** True where it was in its list then. */
  readonly isListed: boolean;
}

export interface CandidateThen {
  readonly noticeId: string;
  readonly applianceId: string;
  /** As the last comparison graded it. */
  readonly grade: string;
  readonly question: string | null;
  readonly raisedAt: Date;
}

/** What was known of a site at an instant. */
export interface SiteAsOf {
  readonly site: { readonly id: string; readonly name: string; readonly timeZone: string | null };
  readonly at: Date;
  /** The record's end then; null where nothing was recorded yet. */
  readonly head: RecordHead | null;
  readonly appliances: readonly ApplianceThen[];
  /** Every finding opened by then, also the closed ones. */
  readonly findings: readonly FindingThen[];
  /** Raised, and without a decision that stood. */
  readonly open: readonly CandidateThen[];
  readonly decisions: readonly (DecisionRow & { readonly stood: boolean })[];
  readonly notices: ReadonlyMap<string, NoticeThen>;
  readonly names: SiteNames;
}

/** The end of a day of the site's calendar, but not after now: nothing is known of what is still to come. */
export function endOfDay(timeZone: string | null, day: string, now: Date): Date {
  const start = dayStart(timeZone ?? "UTC", day);
  if (start === null || Number.isNaN(start))
    throw new Trouble("not_valid", `"${day}" is no day; write it as 2026-03-31.`, { day: "Write it as 2026-03-31." });
  if (start > now.getTime())
    throw new Trouble("not_valid", `${day} is still to come: choose a day up to today.`, { day: "Choose a day up to today." });
  return new Date(endOfLocalDay(timeZone ?? "UTC", start) - 1);
}

/** Today at a site. */
export function siteDay(timeZone: string | null, now: Date): string {
  return localDay(timeZone ?? "UTC", now.getTime());
}

const byText =
  <Row>(key: (row: Row) => string) =>
  (a: Row, b: Row) =>
    key(a) < key(b) ? -1 : key(a) > key(b) ? 1 : 0;

async function appliancesAt(db: Db, key: { organisationId: string; siteId: string }, at: Date): Promise<ApplianceThen[]> {
  const ids = await applianceIdsEverAt(db, key);
  const [rows, stays, told, runs] = await Promise.all([
    appliancesNow(db, ids),
    placementsOf(db, ids),
    changesAfter(db, key.organisationId, "appliance", at),
    changesAfter(db, key.organisationId, "import run", at),
  ]);
  const later = grouped(
    [...told, ...importedChanges(runs)].sort((a, b) => b.number - a.number),
    ({ subjectId }) => subjectId,
  );
  const staysOf = new Map<string, Stay[]>();
  for (const stay of stays) staysOf.set(stay.applianceId, [...(staysOf.get(stay.applianceId) ?? []), stay]);
  return rows
    .flatMap((row) => applianceThen(row, { stays: staysOf.get(row.id) ?? [], later: later.get(row.id) ?? [], at }) ?? [])
    .filter(({ siteId }) => siteId === key.siteId)
    .sort(byText(({ tag, id }) => `${tag} ${id}`));
}

/** What each finding's entries say, from the whole record of findings: later ones are taken back, earlier ones fill what those leave out. */
async function findingsAt(db: Db, key: { organisationId: string; siteId: string }, at: Date): Promise<FindingThen[]> {
  const rows = await findingsOpenedBy(db, key, at);
  const all = grouped(
    rows.length === 0 ? [] : await changesAfter(db, key.organisationId, "finding", new Date(0)),
    ({ subjectId }) => subjectId,
  );
  const rank = new Map(signalWords.map((word, i) => [word as string, i]));
  const isLater = (change: RecordedChange) => change.at > at;
  return rows
    .map((row) => {
      const entries = all.get(row.id) ?? [];
      return findingThen(row, { later: entries.filter(isLater), earlier: entries.filter((entry) => !isLater(entry)) });
    })
    .sort((a, b) => (rank.get(a.signalWord) ?? 9) - (rank.get(b.signalWord) ?? 9) || +a.openedAt - +b.openedAt || (a.id < b.id ? -1 : 1));
}

async function noticesAt(db: Db, organisationId: string, at: Date): Promise<Map<string, NoticeThen>> {
  const rows = await noticesLoadedBy(db, organisationId, at);
  const amended = rows.filter(({ amendedAt }) => amendedAt !== null && amendedAt > at).map(({ id }) => id);
  const wordings = new Map<string, { contentHash: string; title: string }>();
  for (const wording of await wordingsReplacedAfter(db, amended, at))
    if (!wordings.has(wording.noticeId)) wordings.set(wording.noticeId, wording);
  return new Map(
    rows.map((row) => {
      const { contentHash = row.contentHash, title = row.title } = wordings.get(row.id) ?? {};
      return [row.id, { ...row, contentHash, title, isListed: row.goneAt === null || row.goneAt > at }];
    }),
  );
}

/**
 * The state of a site as it was known at an instant: what was there, the labels as they were, what was open, decided and published.
 * Places are by the time at which an appliance was there, also where that was learnt later. Permission: `see places`, `see appliances`,
 * `see findings` and `see recalls`.
 */
export async function siteAsOf(db: Db, actor: Actor, asked: { readonly siteId: string; readonly at: Date }): Promise<SiteAsOf> {
  const { siteId, at } = asked;
  const { id, name, timeZone } = await getSite(db, actor, siteId);
  for (const permission of ["see appliances", "see findings", "see recalls"] as const) requirePermission(actor, permission, siteId);
  const key = { organisationId: actor.organisationId, siteId };
  const appliances = await appliancesAt(db, key, at);
  const ids = appliances.map((appliance) => appliance.id);
  const [findings, decided, raised, notices, head, names] = await Promise.all([
    findingsAt(db, key, at),
    decisionsBy(db, ids, at),
    candidatesRaisedBy(db, ids, at),
    noticesAt(db, actor.organisationId, at),
    headAt(db, actor.organisationId, at),
    namesAt(db, key),
  ]);
  const tags = new Map(appliances.map((appliance) => [appliance.id, appliance.tag]));
  const pairKey = (row: { applianceId: string; noticeId: string }) =>
    `${tags.get(row.applianceId)} ${notices.get(row.noticeId)?.number} ${row.applianceId} ${row.noticeId}`;
  const decisions = decisionsThen(decided, at).sort(byText(pairKey));
  const standing = new Set(decisions.filter(({ stood }) => stood).map((row) => `${row.noticeId} ${row.applianceId}`));
  const open = raised
    .filter(({ noticeId, applianceId, grade }) => grade !== "not_covered" && !standing.has(`${noticeId} ${applianceId}`))
    .map(({ ask, standing: _, ...row }) => ({ ...row, question: (ask as { question?: string } | null)?.question ?? null }))
    .sort(byText(pairKey));
  return { site: { id, name, timeZone }, at, head, appliances, findings, open, decisions, notices, names };
}
