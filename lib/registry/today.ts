import type { Actor } from "@/lib/access/actor";
import { mayDo, requirePermission } from "@/lib/access/permissions";
import { mayTake, type Step } from "@/lib/casework/step";
import { firstStep, groupOf, orderGroups, type Ranked, type TodayGroup } from "@/lib/casework/today-group";
import type { Db } from "@/lib/store/client";
import { findFindings, findingCounts } from "@/lib/store/finding-list-queries";
import { keptUntil } from "@/lib/store/kept-log-queries";
import { countAppliances, lastNoticeLoad } from "@/lib/store/today-queries";
import type { SignalWord } from "@/lib/watch/screening-result";
import { undecidedCandidates, type WaitingCandidate } from "./decision-list";
import { type ShownFinding, showFindings } from "./shown-finding";

/** A finding among the day's work, with the step that its one button offers. */
export interface FindingTask extends Ranked {
  readonly kind: "finding";
  readonly shown: ShownFinding;
  /** Null where the actor's role can only look. */
  readonly step: Step | null;
}

/** An appliance that a notice may cover. */
export interface CandidateTask extends Ranked {
  readonly kind: "candidate";
  readonly candidate: WaitingCandidate;
}

export type Task = FindingTask | CandidateTask;

/** The day's work. */
export interface Today {
  readonly groups: readonly { readonly name: TodayGroup; readonly tasks: readonly Task[]; readonly total: number }[];
  /** Dangerous appliances that are still in use, and since when the oldest waits. */
  readonly dangers: { readonly count: number; readonly oldest: Date | null };
  readonly open: number;
  readonly appliances: number;
  readonly noticesLoadedAt: Date | null;
  readonly readingsUntil: Date | null;
}

/** More are on the list of findings; a day has no room for them. */
const mostFindings = 400;
const rowsAGroup = 8;
const rowsOfDanger = 25;

async function findingTasks(db: Db, actor: Actor): Promise<FindingTask[]> {
  const filter = {
    organisationId: actor.organisationId,
    siteIds: actor.siteIds === "all" ? null : actor.siteIds,
    states: ["open", "out_of_use", "remedy_awaited"] as const,
  };
  const { rows } = await findFindings(db, filter, { sort: "word", order: "asc", skip: 0, take: mostFindings });
  return (await showFindings(db, rows)).map((shown) => ({
    kind: "finding",
    shown,
    step: stepOf(shown, actor),
    signalWord: shown.facts.signalWord,
    since: shown.finding.openedAt,
  }));
}

function stepOf({ facts, finding }: ShownFinding, actor: Actor): Step | null {
  const group = groupOf(facts);
  const first = group === "read_label" ? null : firstStep[group];
  const wanted = finding.ownerId === null && group === "decide" ? "give_owner" : first;
  if (wanted !== null && mayTake(wanted, facts, actor.role)) return wanted;
  return mayTake("note", facts, actor.role) ? "note" : null;
}

async function candidateTasks(
  db: Db,
  actor: Actor,
  grades: Parameters<typeof undecidedCandidates>[2],
): Promise<{ tasks: CandidateTask[]; total: number }> {
  if (!mayDo(actor, "see recalls")) return { tasks: [], total: 0 };
  const { rows, total } = await undecidedCandidates(db, actor, grades);
  const word: SignalWord = "WARNING";
  return { tasks: rows.map((candidate) => ({ kind: "candidate", candidate, signalWord: word, since: candidate.raisedAt })), total };
}

/** Everything that waits for somebody today, grouped by what can be done. Permission: `see findings`. */
export async function getToday(db: Db, actor: Actor): Promise<Today> {
  requirePermission(actor, "see findings");
  const { organisationId } = actor;
  const siteIds = actor.siteIds === "all" ? null : actor.siteIds;
  const [findings, toRead, toDecide] = await Promise.all([
    findingTasks(db, actor),
    candidateTasks(db, actor, { grades: ["check_label"], take: rowsAGroup }),
    candidateTasks(db, actor, { grades: ["covered", "likely"], take: rowsAGroup }),
  ]);
  const rows = new Map<TodayGroup, Task[]>([
    ["read_label", [...toRead.tasks]],
    ["decide", [...toDecide.tasks]],
  ]);
  for (const task of findings) {
    const name = groupOf(task.shown.facts);
    rows.set(name, [...(rows.get(name) ?? []), task]);
  }
  const hidden: Partial<Record<TodayGroup, number>> = {
    read_label: toRead.total - toRead.tasks.length,
    decide: toDecide.total - toDecide.tasks.length,
  };
  const counts = await findingCounts(db, { organisationId, siteIds, states: ["open", "out_of_use", "remedy_awaited"] });
  return {
    groups: orderGroups(rows).map(([name, tasks]) => ({ name, tasks: shownTasks(tasks), total: tasks.length + (hidden[name] ?? 0) })),
    dangers: dangersOf(rows.get("take_out_of_use") ?? []),
    open: [...counts.values()].reduce((sum, count) => sum + count, 0),
    appliances: await countAppliances(db, organisationId, siteIds),
    noticesLoadedAt: await lastNoticeLoad(db, organisationId),
    readingsUntil: await keptUntil(db, organisationId),
  };
}

/** No danger is folded away while there is room for any; of the rest the first few. */
function shownTasks(tasks: readonly Task[]): Task[] {
  const dangers = tasks.filter(({ signalWord }) => signalWord === "DANGER").length;
  return tasks.slice(0, Math.max(rowsAGroup, Math.min(dangers, rowsOfDanger)));
}

function dangersOf(tasks: readonly Task[]): Today["dangers"] {
  const dangers = tasks.filter(({ signalWord }) => signalWord === "DANGER");
  const oldest = dangers.reduce<Date | null>((least, { since }) => (least === null || since < least ? since : least), null);
  return { count: dangers.length, oldest };
}
