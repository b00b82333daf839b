import { createHash } from "node:crypto";
import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { siteScope } from "@/lib/access/site-scope";
import { Trouble } from "@/lib/access/trouble";
import { makerKey } from "@/lib/identity/maker";
import { findGroupCandidates, type ListedCandidate } from "@/lib/store/candidate-list-queries";
import type { Db } from "@/lib/store/client";
import {
  countUnidentifiedPairs,
  findGroupAnswers,
  findUnidentifiedNotices,
  type UnidentifiedNotice,
} from "@/lib/store/group-answer-queries";
import { findPersonNames, findPlaceNames } from "@/lib/store/place-name-queries";
import { openStandings, type Standing } from "./decision-standing";
import type { CandidateRow } from "./recall-overview";
import { placeOf, toSeen } from "./review";

/**
 * `asks`: an appliance that maker and kind point at waits for an answer. `amended`: it was answered, and its notices changed since.
 * `answered`: nothing of it waits. `silent`: nothing in the registry is of that maker and kind.
 */
export type GroupState = "asks" | "amended" | "answered" | "silent";

/** The notices of one maker and product kind that give nothing else to compare. */
export interface UnidentifiedGroup {
  readonly id: string;
  readonly maker: string;
  readonly kind: string;
  readonly notices: readonly UnidentifiedNotice[];
  /** Appliances and notices that maker and kind alone pair, in all and those that wait for an answer. */
  readonly pairs: number;
  readonly open: number;
  readonly state: GroupState;
  readonly answer: ShownGroupAnswer | null;
}

export interface ShownGroupAnswer {
  readonly answer: "none" | "look";
  readonly reason: string;
  readonly by: string;
  readonly at: Date;
  readonly appliances: number;
}

type StoredAnswer = Awaited<ReturnType<typeof findGroupAnswers>>[number];

const noMaker = "no maker named";
const noKind = "no product named";

function nameOf({ coverage }: UnidentifiedNotice): { id: string; key: string; maker: string; kind: string } {
  const maker = coverage.brands[0] ?? noMaker;
  const kind = coverage.products[0] ?? noKind;
  const key = `${makerKey(maker)}\n${kind.toLowerCase().replace(/\s+/g, " ").trim()}`;
  return { id: createHash("sha256").update(key).digest("hex").slice(0, 16), key, maker, kind };
}

async function shownAnswersOf(db: Db, answers: readonly StoredAnswer[]): Promise<ReadonlyMap<string, ShownGroupAnswer>> {
  const names = await findPersonNames(
    db,
    answers.map(({ byUserId }) => byUserId),
  );
  const shown = ({ answer, reason, byUserId, at, appliances }: StoredAnswer): ShownGroupAnswer => ({
    ...{ reason, at, appliances },
    answer: answer === "look" ? "look" : "none",
    by: byUserId === null ? "the command line" : (names.get(byUserId) ?? "someone who left"),
  });
  return new Map(answers.map((answer) => [answer.id, shown(answer)]));
}

function wordingsOf(notices: readonly (readonly [string, string])[]): string {
  return notices
    .map((pair) => pair.join(" "))
    .sort()
    .join();
}

interface Counted {
  readonly notices: readonly UnidentifiedNotice[];
  readonly answer: StoredAnswer | undefined;
  readonly pairs: number;
  readonly open: number;
}

function stateOf({ notices, answer, pairs, open }: Counted): GroupState {
  if (open > 0) return "asks";
  if (answer)
    return wordingsOf(answer.notices) === wordingsOf(notices.map(({ id, contentHash }) => [id, contentHash])) ? "answered" : "amended";
  return pairs > 0 ? "answered" : "silent";
}

/** The notices without identifiers by maker and product kind, those that ask first. Permission: `see recalls`. */
export async function findUnidentified(db: Db, actor: Actor): Promise<UnidentifiedGroup[]> {
  requirePermission(actor, "see recalls");
  const { organisationId } = actor;
  const [notices, counts, answers] = await Promise.all([
    findUnidentifiedNotices(db, organisationId),
    countUnidentifiedPairs(db, siteScope(actor)),
    findGroupAnswers(db, organisationId),
  ]);
  const shown = await shownAnswersOf(db, answers);
  const byKey = new Map<string, UnidentifiedNotice[]>();
  for (const notice of notices) byKey.set(nameOf(notice).key, [...(byKey.get(nameOf(notice).key) ?? []), notice]);
  const groups = [...byKey.values()].map((own): UnidentifiedGroup => {
    const { id, key, maker, kind } = nameOf(own[0] as UnidentifiedNotice);
    const ids = new Set(own.map((notice) => notice.id));
    const mine = counts.filter(({ noticeId }) => ids.has(noticeId));
    const sum = (of: typeof mine) => of.reduce((total, { count }) => total + count, 0);
    const answer = answers.find(({ groupKey }) => groupKey === key);
    const counted = {
      notices: own,
      answer,
      pairs: sum(mine),
      open: sum(mine.filter(({ standing }) => openStandings.includes(standing as Standing))),
    };
    return {
      ...{ id, maker, kind, notices: own, pairs: counted.pairs, open: counted.open },
      state: stateOf(counted),
      answer: shown.get(answer?.id ?? "") ?? null,
    };
  });
  const order: readonly GroupState[] = ["asks", "amended", "answered", "silent"];
  const words = ({ maker, kind }: UnidentifiedGroup) => `${maker} ${kind}`.toLowerCase();
  return groups.sort((a, b) => order.indexOf(a.state) - order.indexOf(b.state) || b.open - a.open || (words(a) < words(b) ? -1 : 1));
}

/** One group as it is answered: its notices, the appliances that ask and those that were answered, and earlier answers. */
export interface GroupReview {
  readonly group: Pick<UnidentifiedGroup, "id" | "maker" | "kind" | "notices">;
  readonly key: string;
  readonly asking: readonly CandidateRow[];
  readonly answered: readonly CandidateRow[];
  readonly answers: readonly ShownGroupAnswer[];
  readonly state: GroupState;
  /** Stands for what is shown: an answer to something else is refused. */
  readonly seen: string;
}

export interface FoundGroup {
  readonly id: string;
  readonly key: string;
  readonly maker: string;
  readonly kind: string;
  readonly notices: readonly UnidentifiedNotice[];
  readonly candidates: readonly ListedCandidate[];
  readonly seen: string;
}

const isAsking = ({ standing }: Pick<ListedCandidate, "standing">) => openStandings.includes(standing as Standing);

/** The pairs of a group that wait for an answer. */
export function askingOf({ candidates }: FoundGroup): ListedCandidate[] {
  return candidates.filter(isAsking);
}

/** A group with its pairs. Throws `Trouble` where no notice belongs to it any more. */
export async function getGroup(db: Db, actor: Actor, groupId: string): Promise<FoundGroup> {
  const all = await findUnidentifiedNotices(db, actor.organisationId);
  const notices = all.filter((notice) => nameOf(notice).id === groupId);
  const [first] = notices;
  if (!first) throw new Trouble("not_found", "There is no such group of notices any more; go back to the notices without identifiers.");
  const candidates = await findGroupCandidates(
    db,
    siteScope(actor),
    notices.map(({ id }) => id),
  );
  const open = candidates.filter(isAsking).map(({ id }) => id);
  const words = wordingsOf(notices.map(({ id, contentHash }) => [id, contentHash]));
  const seen = createHash("sha256").update(`${words}\n${open.sort().join()}`).digest("hex").slice(0, 32);
  return { ...nameOf(first), notices, candidates, seen };
}

/** Throws `Trouble` where there is no such group. Permission: `see recalls`. */
export async function getGroupReview(db: Db, actor: Actor, { groupId }: { readonly groupId: string }): Promise<GroupReview> {
  requirePermission(actor, "see recalls");
  const { organisationId } = actor;
  const found = await getGroup(db, actor, groupId);
  const { key, notices, candidates, seen } = found;
  const [names, answers] = await Promise.all([
    findPlaceNames(
      db,
      organisationId,
      candidates.map(({ appliance }) => appliance),
    ),
    findGroupAnswers(db, organisationId, key),
  ]);
  const shown = await shownAnswersOf(db, answers);
  const toRow = (row: ListedCandidate): CandidateRow => ({ candidate: toSeen(row), place: placeOf(row.appliance, names) });
  const asking = askingOf(found);
  const counted = { notices, answer: answers.find(({ replacedAt }) => replacedAt === null), pairs: candidates.length, open: asking.length };
  return {
    group: { id: found.id, maker: found.maker, kind: found.kind, notices },
    ...{ key, seen },
    asking: asking.map(toRow),
    answered: candidates.filter((row) => !isAsking(row)).map(toRow),
    answers: answers.flatMap(({ id }) => shown.get(id) ?? []),
    state: stateOf(counted),
  };
}
