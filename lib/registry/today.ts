import type { Actor } from "@/lib/access/actor";
import { mayDo, requirePermission } from "@/lib/access/permissions";
import { mayTake, type Step } from "@/lib/casework/step";
import { firstStep, groupOf, orderGroups, type Ranked, type TodayGroup } from "@/lib/casework/today-group";
import type { Db } from "@/lib/store/client";
import { findFindings, findingCounts } from "@/lib/store/finding-list-queries";
import { keptUntil } from "@/lib/store/kept-log-queries";
import { countAppliances, lastNoticeLoad } from "@/lib/store/today-queries";
import { undecidedCandidates, type WaitingCandidate } from "./decision-list";
import { type ShownFinding, showFindings } from "./shown-finding";

/** A finding among the day's work, with the step that its one button offers. */
export interface FindingTask extends Ranked {
  readonly kind: "finding";
  readonly shown: ShownFinding;
  /** Null where the actor's role can only look. */
  readonly step: Step | null;
}

/** An appliance that a notice may cover, and how many more are identical: one decision holds for all of them. */
export interface CandidateTask extends Ranked {
  readonly kind: "candidate";
  readonly candidate: WaitingCandidate;
  readonly identical: number;
}

export type Task = FindingTask | CandidateTask;

/** The day's work. */
export interface Today {
  readonly groups: readonly {
    readonly name: TodayGroup;
    readonly tasks: readonly Task[];
    readonly total: number;
    readonly works: number;
  }[];
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

/** Candidates looked at for a day's work; the rest stand under Recalls. */
const mostCandidates = 300;

/** Candidates of the same notice, maker, model and question are one piece of work. */
function sameWork({ noticeId, ask, appliance }: WaitingCandidate): string {
  return [noticeId, appliance.brandKey, appliance.modelKey, ask?.field ?? ""].join(" ");
}

async function candidateTasks(
  db: Db,
  actor: Actor,
  grades: readonly ("covered" | "likely" | "check_label")[],
): Promise<{ tasks: CandidateTask[]; total: number }> {
  if (!mayDo(actor, "see recalls")) return { tasks: [], total: 0 };
  const { rows, total } = await undecidedCandidates(db, actor, { grades, take: mostCandidates });
  const works = new Map<string, WaitingCandidate[]>();
  for (const row of rows) works.set(sameWork(row), [...(works.get(sameWork(row)) ?? []), row]);
  const tasks = [...works.values()].map((same): CandidateTask => {
    const oldest = same.reduce((least, row) => (row.raisedAt < least.raisedAt ? row : least));
    return { kind: "candidate", candidate: oldest, identical: same.length - 1, signalWord: "WARNING", since: oldest.raisedAt };
  });
  return { tasks, total };
}

/** Everything that waits for somebody today, grouped by what can be done. Permission: `see findings`. */
export async function getToday(db: Db, actor: Actor): Promise<Today> {
  requirePermission(actor, "see findings");
  const { organisationId } = actor;
  const siteIds = actor.siteIds === "all" ? null : actor.siteIds;
  const [findings, toRead, toDecide] = await Promise.all([
    findingTasks(db, actor),
    candidateTasks(db, actor, ["check_label"]),
    candidateTasks(db, actor, ["covered", "likely"]),
  ]);
  const rows = new Map<TodayGroup, Task[]>([
    ["read_label", [...toRead.tasks]],
    ["decide", [...toDecide.tasks]],
  ]);
  for (const task of findings) {
    const name = groupOf(task.shown.facts);
    rows.set(name, [...(rows.get(name) ?? []), task]);
  }
  const candidates: Partial<Record<TodayGroup, number>> = { read_label: toRead.total, decide: toDecide.total };
  const countOf = (name: TodayGroup, tasks: readonly Task[]) =>
    tasks.filter(({ kind }) => kind === "finding").length + (candidates[name] ?? 0);
  const counts = await findingCounts(db, { organisationId, siteIds, states: ["open", "out_of_use", "remedy_awaited"] });
  return {
    groups: orderGroups(rows).map(([name, tasks]) => ({
      name,
      tasks: shownTasks(tasks),
      works: tasks.length,
      total: countOf(name, tasks),
    })),
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
