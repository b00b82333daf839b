import { type Actor, recordName } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import type { ListedCandidate } from "@/lib/store/candidate-list-queries";
import type { Db, Store } from "@/lib/store/client";
import { insertGroupAnswer } from "@/lib/store/group-answer-queries";
import { appendRecord, holdRecord } from "@/lib/store/record";
import { checkedReason, takeDecisions } from "./decision-taking";
import { askingOf, type FoundGroup, getGroup } from "./unidentified-groups";

export interface GroupAnswerInput {
  readonly groupId: string;
  /** `none`: we have none of these. `look`: the chosen appliances may be meant and are looked at one by one. */
  readonly answer: "none" | "look";
  /** For `look`: the appliances that may be meant; the others are not. */
  readonly applianceIds?: readonly string[];
  readonly reason: string;
  /** What the person had before them (`GroupReview.seen`). */
  readonly seen: string;
  readonly now: Date;
}

export interface GroupAnswered {
  readonly notAffected: number;
  readonly toLookAt: number;
  readonly findingIds: readonly string[];
}

function chosenOf({ answer, applianceIds = [] }: GroupAnswerInput, asking: readonly ListedCandidate[]): ReadonlySet<string> {
  if (answer === "none") return new Set();
  const known = new Set(asking.map(({ applianceId }) => applianceId));
  const chosen = new Set(applianceIds);
  const sentence = "Choose the appliances that may be meant, or answer that we have none of these.";
  if (chosen.size === 0) throw new Trouble("not_valid", sentence, { applianceIds: sentence });
  if ([...chosen].some((id) => !known.has(id)))
    throw new Trouble("not_valid", "Some of the chosen appliances do not wait for this answer; choose them again from the list.");
  return chosen;
}

function refuseWhatWasNotSeen(group: FoundGroup, asking: readonly ListedCandidate[], actor: Actor, input: GroupAnswerInput): void {
  if (group.seen !== input.seen)
    throw new Trouble(
      "changed_meanwhile",
      "A notice was amended or an appliance came in while you looked; look at the group again, then answer.",
    );
  if (asking.length === 0 && actor.siteIds !== "all")
    throw new Trouble(
      "not_allowed_now",
      "Nothing at your sites waits for this answer; somebody who sees all sites can answer it beforehand.",
    );
}

async function keepAnswer(
  tx: Db,
  actor: Actor,
  group: FoundGroup,
  input: GroupAnswerInput & { readonly appliances: number },
): Promise<string> {
  const { organisationId, userId } = actor;
  const { key: groupKey, maker, kind, notices } = group;
  const { answer, reason, appliances, now } = input;
  const wordings = notices.map(({ id, contentHash }) => [id, contentHash] as const);
  const id = await insertGroupAnswer(tx, {
    ...{ organisationId, groupKey, maker, kind, answer, reason, appliances },
    notices: wordings,
    byUserId: userId,
    at: now,
  });
  const entry = { organisationId, at: now, actor: recordName(actor), what: "answered for notices without identifiers" };
  await appendRecord(tx, [
    {
      ...entry,
      subjectKind: "notice group",
      subjectId: group.id,
      after: { groupAnswerId: id, maker, kind, answer, reason, appliances, notices: wordings },
    },
  ]);
  return id;
}

/**
 * Answers once for all notices without identifiers of a maker and kind: none of the appliances that wait is meant, or the chosen ones
 * may be and each gets a finding to be looked at. The answer stays until a notice changes; an appliance that comes in later asks alone.
 * Refuses what changed while the person looked. Permission: `decide candidates`.
 */
export async function answerGroup(db: Store, actor: Actor, input: GroupAnswerInput): Promise<GroupAnswered> {
  requirePermission(actor, "decide candidates");
  const reason = checkedReason(input.reason);
  return db.$transaction(async (tx) => {
    await holdRecord(tx, actor.organisationId);
    const group = await getGroup(tx, actor, input.groupId);
    const asking = askingOf(group);
    refuseWhatWasNotSeen(group, asking, actor, input);
    const chosen = chosenOf(input, asking);
    const groupAnswerId = await keepAnswer(tx, actor, group, {
      ...input,
      reason,
      appliances: new Set(asking.map((row) => row.applianceId)).size,
    });
    const taken = { reason, now: input.now, groupAnswerId };
    const others = asking.filter(({ applianceId }) => !chosen.has(applianceId));
    const meant = asking.filter(({ applianceId }) => chosen.has(applianceId));
    await takeDecisions(tx, actor, others, { ...taken, verdict: "not_affected" });
    const { findingIds } = await takeDecisions(tx, actor, meant, { ...taken, verdict: "unsure" });
    return { notAffected: others.length, toLookAt: meant.length, findingIds };
  });
}
