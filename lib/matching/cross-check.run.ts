import { type Actor, recordName } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import type { ApplianceFacts } from "@/lib/identity/appliance-facts";
import { candidateChanges, isKept } from "@/lib/registry/candidate-changes";
import { refreshCoverages } from "@/lib/registry/coverage-refresh";
import { type Reopening, reopen } from "@/lib/registry/decision-reopen";
import { reopeningReason } from "@/lib/registry/decision-standing";
import { findTouchedAppliances } from "@/lib/registry/notice-reach-find";
import { getRecallIndex, type IndexedList, indexNotices } from "@/lib/registry/recall-list-index";
import {
  type ApplianceToCheck,
  type CandidateWrite,
  deleteCandidates,
  findAppliancesToCheck,
  findCandidatesOf,
  findUncomparedSince,
  writeCandidates,
  writeFoldedModels,
} from "@/lib/store/candidate-queries";
import type { Db, Store } from "@/lib/store/client";
import { findStandingDecisions } from "@/lib/store/decision-queries";
import { markChecked } from "@/lib/store/notice-queries";
import { appendRecord } from "@/lib/store/record";
import { foldedModelOf } from "./appliance-reading";
import type { Candidate, Grade } from "./candidate";
import { crossCheck } from "./cross-check";

export interface CrossCheckAccount {
  readonly notices: number;
  /** How many appliances were looked at; a few notices look only at what they can touch. */
  readonly appliances: number;
  /** Candidates raised, by grade. */
  readonly grades: Readonly<Record<Grade, number>>;
  readonly added: number;
  readonly changed: number;
  readonly removed: number;
  readonly unchanged: number;
  /** Decisions that no longer stand because the comparison says otherwise now. */
  readonly reopened: number;
}

export interface CrossCheckProgress {
  readonly appliances: number;
}

export interface CrossCheckScope {
  readonly now: Date;
  /** Compare some notices, or some appliances or those changed since, only; without it the whole registry with all notices, read afresh. */
  readonly only?: { readonly noticeIds?: readonly string[]; readonly applianceIds?: readonly string[]; readonly changedSince?: Date };
  /** What led to it, one sentence, kept with the decisions that it reopens. */
  readonly because?: string;
  readonly onProgress?: (progress: CrossCheckProgress) => void;
}

/** The decisions that the changed candidates contradict. */
async function findReopenings(tx: Db, { organisationId, because }: PageWork, writes: readonly CandidateWrite[]): Promise<Reopening[]> {
  const decided = writes.filter(({ standing }) => standing !== "undecided" && standing !== "reopened");
  if (decided.length === 0) return [];
  const decisions = await findStandingDecisions(tx, organisationId, {
    noticeIds: [...new Set(decided.map(({ candidate }) => candidate.noticeKey))],
    applianceIds: [...new Set(decided.map(({ candidate }) => candidate.applianceId))],
  });
  const byPair = new Map(decisions.map((decision) => [`${decision.noticeId} ${decision.applianceId}`, decision]));
  return decided.flatMap(({ id, candidate }) => {
    const { noticeKey: noticeId, applianceId, grade } = candidate;
    const decision = byPair.get(`${noticeId} ${applianceId}`);
    const why = decision ? reopeningReason({ verdict: decision.verdict, grade: decision.grade as Grade }, grade) : null;
    if (why === null || id === null) return [];
    return [{ candidateId: id, noticeId, applianceId, grade, why: because === undefined ? why : `${because} ${why}` }];
  });
}

interface Tally {
  appliances: number;
  grades: Record<Grade, number>;
  added: number;
  changed: number;
  removed: number;
  unchanged: number;
  reopened: number;
}

interface PageWork {
  readonly organisationId: string;
  readonly list: Pick<IndexedList, "index" | "hashes">;
  readonly notices: ReadonlySet<string> | null;
  readonly actor: string;
  readonly because?: string;
  readonly now: Date;
}

function compare(appliances: readonly ApplianceFacts[], { list, notices }: PageWork): Candidate[] {
  return appliances.flatMap((appliance) =>
    crossCheck(list.index, appliance, { ruledOut: true }).filter(
      (candidate) => isKept(candidate) && (notices === null || notices.has(candidate.noticeKey)),
    ),
  );
}

/** Compares one page of appliances and stores what changed, in one transaction. */
async function checkPage(tx: Db, appliances: readonly ApplianceFacts[], work: PageWork, tally: Tally): Promise<void> {
  const { organisationId, list, notices, now } = work;
  const raised = compare(appliances, work);
  const all = await findCandidatesOf(
    tx,
    organisationId,
    appliances.map(({ id }) => id),
    notices === null ? null : [...notices],
  );
  const stored = notices === null ? all : all.filter(({ noticeId }) => notices.has(noticeId));
  const { writes, deletions, unchanged } = candidateChanges(raised, stored, list.hashes);
  await writeCandidates(tx, organisationId, writes, now);
  await deleteCandidates(tx, deletions);
  tally.reopened += await reopen(tx, work, await findReopenings(tx, work, writes));
  tally.appliances += appliances.length;
  tally.added += writes.filter(({ id }) => id === null).length;
  tally.changed += writes.filter(({ id }) => id !== null).length;
  tally.removed += deletions.length;
  tally.unchanged += unchanged;
  for (const { grade } of raised) tally.grades[grade]++;
}

/** Keeps the folded models that come out otherwise than they are kept, as they do once plates are read better. */
async function refreshFoldedModels(tx: Db, appliances: readonly ApplianceToCheck[]): Promise<void> {
  const folded = appliances.map((appliance) => ({ id: appliance.id, foldedModel: foldedModelOf(appliance) }));
  await writeFoldedModels(
    tx,
    folded.filter(({ foldedModel }, at) => foldedModel !== appliances[at]?.foldedModel),
  );
}

const pageOfAppliances = 1000;
type Only = NonNullable<CrossCheckScope["only"]>;

/** Hands the wanted appliances to `work` a page at a time, each page read and worked on in one transaction. */
async function eachPage(
  db: Store,
  organisationId: string,
  { applianceIds, changedSince }: Only,
  work: (tx: Db, page: readonly ApplianceToCheck[]) => Promise<void>,
): Promise<void> {
  const ids = applianceIds && [...new Set(applianceIds)].sort();
  const since = changedSince ? { since: changedSince } : {};
  const one = (page: Parameters<typeof findAppliancesToCheck>[2]) =>
    db.$transaction(async (tx) => {
      const appliances = await findAppliancesToCheck(tx, organisationId, { ...page, ...since });
      if (appliances.length > 0) await work(tx, appliances);
      return appliances;
    });
  if (ids) {
    for (let at = 0; at < ids.length; at += pageOfAppliances)
      await one({ after: "", take: pageOfAppliances, ids: ids.slice(at, at + pageOfAppliances) });
    return;
  }
  let page = await one({ after: "", take: pageOfAppliances });
  while (page.length === pageOfAppliances) page = await one({ after: page.at(-1)?.id ?? "", take: pageOfAppliances });
}

/** Up to this many notices are compared with what they can touch; more touch most of a registry. */
const fewNotices = 200;

interface Plan {
  readonly list: PageWork["list"];
  /** The notices in question; `null` is all of the list. */
  readonly notices: ReadonlySet<string> | null;
  readonly only: Only;
}

/** Which index to compare with, and which appliances. */
async function planCheck(db: Store, organisationId: string, only: Only): Promise<Plan> {
  const { noticeIds } = only;
  if (!noticeIds) return { list: await getRecallIndex(db, organisationId), notices: null, only };
  const notices = new Set(noticeIds);
  if (notices.size > fewNotices) return { list: await getRecallIndex(db, organisationId), notices, only };
  const list = await indexNotices(db, organisationId, [...notices]);
  const applianceIds = only.applianceIds ?? (await findTouchedAppliances(db, organisationId, list));
  return { list, notices, only: applianceIds === null ? only : { ...only, applianceIds } };
}

/** Compares without asking for permission: for use cases that have asked for their own. */
export async function checkAgain(
  db: Store,
  actor: Actor,
  { now, only = {}, because, onProgress }: CrossCheckScope,
): Promise<CrossCheckAccount> {
  const { organisationId } = actor;
  const plan = await planCheck(db, organisationId, only);
  const { list, notices } = plan;
  const work: PageWork = { organisationId, list, notices, actor: recordName(actor), now, ...(because === undefined ? {} : { because }) };
  const grades = { covered: 0, likely: 0, check_label: 0, not_covered: 0 };
  const tally: Tally = { appliances: 0, grades, added: 0, changed: 0, removed: 0, unchanged: 0, reopened: 0 };
  const count = notices?.size ?? list.hashes.size;
  const isWhole = !only.applianceIds && !only.changedSince;
  if (count > 0) {
    await eachPage(db, organisationId, plan.only, async (tx, page) => {
      if (isWhole && notices === null) await refreshFoldedModels(tx, page);
      await checkPage(tx, page, work, tally);
      onProgress?.({ appliances: tally.appliances });
    });
  }
  if (isWhole) await db.$transaction((tx) => markChecked(tx, only.noticeIds ?? [...list.hashes.keys()], now));
  return { notices: count, ...tally };
}

/**
 * Compares the registry with its loaded recall lists and stores the candidates: changed pairs are written, pairs no longer raised
 * are removed unless a person decided on them. Without `only` every notice is read afresh first, so that a better reading takes
 * effect; the result is the same as that of the small checks that loads and edits make. Permission: `cross-check`.
 */
export async function crossCheckRegistry(db: Store, actor: Actor, scope: CrossCheckScope): Promise<CrossCheckAccount> {
  requirePermission(actor, "cross-check");
  if (!scope.only) await refreshCoverages(db, actor.organisationId);
  const account = await checkAgain(db, actor, scope);
  const { organisationId } = actor;
  const entry = { organisationId, at: scope.now, actor: recordName(actor), what: "compared the registry with the recall lists" };
  await db.$transaction((tx) => appendRecord(tx, [{ ...entry, subjectKind: "organisation", subjectId: organisationId, after: account }]));
  return account;
}

/**
 * Compares new or edited appliances with every loaded notice. Call it after the transaction that wrote them; it asks for no
 * permission of its own, the write has.
 */
export async function checkAppliances(db: Store, actor: Actor, ids: readonly string[], now: Date): Promise<CrossCheckAccount> {
  return checkAgain(db, actor, { now, only: { applianceIds: ids }, because: "What is known of the appliance changed." });
}

/** Compares the appliances that a finished labels run wrote, and those that a run which broke off before it left uncompared. */
export async function checkAfterLabels(db: Store, actor: Actor, runId: string, now: Date): Promise<CrossCheckAccount> {
  const changedSince = await findUncomparedSince(db, actor.organisationId, runId);
  return checkAgain(db, actor, { now, only: { changedSince } });
}
