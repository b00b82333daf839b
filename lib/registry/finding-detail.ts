import type { Actor } from "@/lib/access/actor";
import { permissions, requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { type Outcome, possibleOutcomes } from "@/lib/casework/outcome";
import { allowedSteps, type Step } from "@/lib/casework/step";
import type { Db } from "@/lib/store/client";
import { namesOf } from "@/lib/store/finding-list-queries";
import { findFinding, findingHistory, membersAt } from "@/lib/store/finding-queries";
import type { FindingNote } from "@/lib/store/rows";
import { watchersOf } from "@/lib/store/watcher-queries";
import { othersMayClose, proofsSinceOpened } from "./close-finding";
import { type ShownFinding, showFindings } from "./shown-finding";

/** One finding with all that its page shows. */
export interface FindingDetail extends ShownFinding {
  readonly history: readonly (FindingNote & { readonly by: string })[];
  /** The steps that the actor may take now. */
  readonly steps: readonly Step[];
  readonly outcomes: readonly Outcome[];
  /** Who can own it. */
  readonly people: readonly { readonly id: string; readonly name: string }[];
  /** A danger of which the actor recorded the only proof, while a colleague may close it. */
  readonly needsSecondPerson: boolean;
  /** Whether the actor is told when it is overdue, for having asked so. */
  readonly isWatching: boolean;
}

/** A finding of the actor's sites. Permission: `see findings`; throws `Trouble` ("not_found") where there is none. */
export async function getFinding(db: Db, actor: Actor, { id }: { readonly id: string }): Promise<FindingDetail> {
  requirePermission(actor, "see findings");
  const finding = await findFinding(db, actor.organisationId, id);
  if (finding === null || (actor.siteIds !== "all" && !actor.siteIds.includes(finding.siteId)))
    throw new Trouble("not_found", "There is no such finding here.");
  const [shown] = await showFindings(db, [finding]);
  const history = await findingHistory(db, id);
  const names = await namesOf(
    db,
    history.map(({ byUserId }) => byUserId),
  );
  const proofs = proofsSinceOpened(history);
  const isDanger = finding.signalWord === "DANGER";
  const others = isDanger && (await othersMayClose(db, actor, finding));
  return {
    ...shown!,
    history: history.map((note) => ({
      ...note,
      by: note.byUserId === null ? "the program" : (names.get(note.byUserId) ?? "a former member"),
    })),
    steps: allowedSteps(shown!.facts, actor.role),
    outcomes: possibleOutcomes(shown!.facts.cause, shown!.facts.signalWord),
    people: await membersAt(db, { organisationId: actor.organisationId, siteId: finding.siteId, roles: permissions["work findings"] }),
    isWatching: (await watchersOf(db, id)).some(({ userId }) => userId === actor.userId),
    needsSecondPerson: others && !proofs.some(({ byUserId }) => byUserId !== actor.userId),
  };
}
