import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { siteScope } from "@/lib/access/site-scope";
import { Trouble } from "@/lib/access/trouble";
import { findCandidate, findIdentical, type ListedCandidate } from "@/lib/store/candidate-list-queries";
import type { Db, Store } from "@/lib/store/client";
import type { Verdict } from "./decision-standing";
import { checkedReason, type Decided, takeDecisions } from "./decision-taking";

export interface DecideInput {
  readonly candidateId: string;
  readonly verdict: Verdict;
  /** What the person saw, for the record; never empty. */
  readonly reason: string;
  /** The identical appliances it is for; the candidate's own where none are given. */
  readonly applianceIds?: readonly string[];
  /** The wording the person had before them; a newer one refuses the decision. */
  readonly noticeHash?: string;
  readonly now: Date;
}

/** The candidates that the decision is for: all of the same notice, maker and model as the one that was looked at. */
async function getDecided(tx: Db, actor: Actor, input: DecideInput): Promise<ListedCandidate[]> {
  const scope = siteScope(actor);
  const looked = await findCandidate(tx, scope, input.candidateId);
  if (!looked) throw new Trouble("not_found", "There is no such candidate any more; go back to the list of recalls.");
  if (input.noticeHash !== undefined && input.noticeHash !== looked.notice.contentHash)
    throw new Trouble("changed_meanwhile", "The notice was amended while you looked at it; read the new wording and decide again.");
  const wanted = new Set(input.applianceIds ?? [looked.applianceId]);
  if (wanted.size === 0) throw new Trouble("not_valid", "Choose at least one appliance.", { applianceIds: "Choose at least one." });
  const identical = await findIdentical(tx, scope, looked);
  const chosen = [looked, ...identical.filter(({ id }) => id !== looked.id)].filter(({ applianceId }) => wanted.has(applianceId));
  if (chosen.length < wanted.size)
    throw new Trouble("not_valid", "Some of the chosen appliances are not identical to this one; choose them again from the list.");
  return chosen;
}

/**
 * Decides for one candidate or some identical ones. The decision is bound to the notice's wording: it survives loading the same list
 * again and is reopened when the notice is amended. It keeps the label and the coverage that it was taken on. `affected` opens or
 * refreshes one finding an appliance, `unsure` one of the weakest word, and `not_affected` settles what an earlier decision had raised.
 * Earlier decisions are kept. Permission: `decide candidates`.
 */
export async function decide(db: Store, actor: Actor, input: DecideInput): Promise<Decided> {
  requirePermission(actor, "decide candidates");
  const reason = checkedReason(input.reason);
  return db.$transaction(async (tx) => {
    const candidates = await getDecided(tx, actor, input);
    return takeDecisions(tx, actor, candidates, { verdict: input.verdict, reason, now: input.now });
  });
}
