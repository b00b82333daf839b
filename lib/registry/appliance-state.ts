import { type Actor, recordName } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { checkAppliances } from "@/lib/matching/cross-check.run";
import { setApplianceState } from "@/lib/store/appliance-state-queries";
import type { Db, Store } from "@/lib/store/client";
import { otherLiveFindings } from "@/lib/store/finding-queries";
import { appendRecord } from "@/lib/store/record";
import type { ApplianceState } from "@/lib/store/rows";
import { getAppliance } from "./appliance";
import { requireNotHeld } from "./hold";

export const applianceStates = ["in_use", "out_of_use", "retired"] as const satisfies readonly ApplianceState[];
export const stateWords: Readonly<Record<ApplianceState, string>> = {
  in_use: "in use",
  out_of_use: "out of use",
  retired: "retired",
};

export interface StateWork {
  readonly id: string;
  readonly state: ApplianceState;
  readonly reason: string | null;
  readonly now: Date;
}

/** An open danger, or a finding that took it out of use, keeps an appliance out until that finding is settled. */
async function requireNothingOpen(tx: Db, applianceId: string): Promise<void> {
  const live = await otherLiveFindings(tx, applianceId, "");
  if (live.some((finding) => finding.state !== "open" || finding.signalWord === "DANGER")) {
    throw new Trouble("not_allowed_now", "An open finding keeps this appliance out of use: settle the finding first.");
  }
}

/** Takes an appliance out of use, puts it back, or retires it. It is never deleted: a retired one keeps its tag and its history. */
export async function changeState(db: Store, actor: Actor, work: StateWork): Promise<void> {
  const { id, state, reason, now } = work;
  await db.$transaction(async (tx) => {
    const appliance = await getAppliance(tx, actor, id);
    requirePermission(actor, "edit appliances", appliance.siteId);
    if (appliance.state === state) return;
    if (state !== "out_of_use") await requireNotHeld(tx, appliance);
    if (state === "in_use") await requireNothingOpen(tx, id);
    await setApplianceState(tx, id, state, now);
    const entry = { organisationId: actor.organisationId, at: now, actor: recordName(actor), subjectKind: "appliance", subjectId: id };
    const after = reason === null ? { state } : { state, reason };
    await appendRecord(tx, [{ ...entry, what: `appliance ${stateWords[state]}`, before: { state: appliance.state }, after }]);
  });
  // A retired one was left out of the comparisons meanwhile.
  if (state !== "retired") await checkAppliances(db, actor, [id], now);
}
