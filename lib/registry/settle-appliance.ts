import { type Actor, recordName } from "@/lib/access/actor";
import { Trouble } from "@/lib/access/trouble";
import type { applianceAfter } from "@/lib/casework/outcome";
import type { Step } from "@/lib/casework/step";
import { applianceState, setApplianceState } from "@/lib/store/appliance-state-queries";
import type { Db } from "@/lib/store/client";
import { otherLiveFindings } from "@/lib/store/finding-queries";
import { appendRecord } from "@/lib/store/record";
import type { ApplianceState, Finding } from "@/lib/store/rows";

interface Settling {
  readonly actor: Actor;
  readonly finding: Finding;
  readonly step: Step;
  /** What closing does to it; null for other steps. */
  readonly after: ReturnType<typeof applianceAfter> | null;
  readonly now: Date;
}

/**
 * What a step does to the finding's appliance: out of use, back in use, retired. It goes back in use only when no other finding keeps it
 * out: asked for by name that is refused, at closing it just stays out.
 */
export async function settleAppliance(tx: Db, settling: Settling): Promise<void> {
  const { finding } = settling;
  if (finding.applianceId === null) return;
  const before = await applianceState(tx, finding.applianceId);
  if (before === null) return;
  const held = (await otherLiveFindings(tx, finding.applianceId, finding.id)).some(keepsOut);
  const after = stateFor(settling, before, held);
  if (after === before) return;
  await setApplianceState(tx, finding.applianceId, after, settling.now);
  await appendRecord(tx, [
    {
      organisationId: finding.organisationId,
      at: settling.now,
      actor: recordName(settling.actor),
      what: `appliance ${after.replaceAll("_", " ")}`,
      subjectKind: "appliance",
      subjectId: finding.applianceId,
      before: { state: before },
      after: { state: after, findingId: finding.id },
    },
  ]);
}

function keepsOut(other: { state: Finding["state"]; signalWord: string }): boolean {
  return other.state === "out_of_use" || other.state === "remedy_awaited" || other.signalWord === "DANGER";
}

function stateFor({ step, after }: Settling, before: ApplianceState, held: boolean): ApplianceState {
  if (before === "retired") return before;
  if (step === "take_out_of_use") return "out_of_use";
  if (step === "put_back_in_use") {
    if (held) throw new Trouble("not_allowed_now", "Another finding keeps this appliance out of use: settle that one first.");
    return "in_use";
  }
  if (after === "retired") return "retired";
  return after === "may be used again" && !held ? "in_use" : before;
}
