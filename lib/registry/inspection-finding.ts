import { type Actor, recordName } from "@/lib/access/actor";
import { findingKey } from "@/lib/casework/cause";
import { openOrRefreshFinding } from "@/lib/casework/findings.run";
import type { Judgement } from "@/lib/casework/inspection-judging";
import { signalWordFor } from "@/lib/casework/signal-word";
import { mayTake, stateAfter } from "@/lib/casework/step";
import type { Appliance } from "@/lib/store/appliance-queries";
import type { Db } from "@/lib/store/client";
import { addFindingNote, changeFinding, findFinding, findFindingByKey } from "@/lib/store/finding-queries";
import { appendRecord } from "@/lib/store/record";
import type { Finding } from "@/lib/store/rows";
import { settleAppliance } from "./settle-appliance";
import { caseFacts } from "./take-step";

interface Seen {
  readonly actor: Actor;
  readonly appliance: Appliance;
  readonly inspectionId: string;
  readonly judgement: Judgement;
  readonly takeOutOfUse: boolean;
  readonly now: Date;
}

/** One finding of failed inspections an appliance: the next fail refreshes it. */
const keyOf = (applianceId: string) => `${findingKey("by hand", "appliance", applianceId)}:inspection`;

/** Opens or refreshes the finding of a failed inspection and, where asked, takes the appliance out of use. Returns the finding's id. */
export async function findingOfFail(tx: Db, seen: Seen): Promise<{ findingId: string; tookOutOfUse: boolean }> {
  const { actor, appliance, judgement, now } = seen;
  const exposure = appliance.state === "in_use" ? "in use" : "out of use";
  const { id: findingId } = await openOrRefreshFinding(tx, {
    organisationId: appliance.organisationId,
    key: keyOf(appliance.id),
    cause: "by hand",
    applianceId: appliance.id,
    siteId: appliance.siteId,
    outletId: appliance.outletId,
    signalWord: signalWordFor(judgement.severity ?? "serious", exposure),
    sentence: `Failed its inspection. ${judgement.reasons[0] ?? ""}`.trim().slice(0, 1000),
    evidence: { figures: [], reasons: [...judgement.reasons, `Inspection ${seen.inspectionId}.`] },
    now,
    actor,
  });
  const finding = await findFinding(tx, appliance.organisationId, findingId);
  if (!finding || !seen.takeOutOfUse || appliance.state !== "in_use") return { findingId, tookOutOfUse: false };
  await takeOut(tx, finding, seen);
  return { findingId, tookOutOfUse: true };
}

async function takeOut(tx: Db, finding: Finding, seen: Seen): Promise<void> {
  const { actor, now } = seen;
  const facts = caseFacts(finding);
  if (mayTake("take_out_of_use", facts, actor.role))
    await writeLine(tx, finding, {
      ...seen,
      step: "take_out_of_use",
      text: "Taken out of use at the inspection.",
      state: stateAfter("take_out_of_use", facts.state),
    });
  await settleAppliance(tx, { actor, finding, step: "take_out_of_use", after: null, now });
}

type Line = Pick<Seen, "actor" | "now"> & { readonly step: string; readonly text: string; readonly state?: Finding["state"] };

async function writeLine(tx: Db, finding: Finding, { actor, now, step, text, state }: Line): Promise<void> {
  if (!(await changeFinding(tx, finding.id, finding.version, state === undefined ? {} : { state })))
    throw new Error(`The finding ${finding.id} was changed in the transaction that holds it.`);
  await addFindingNote(tx, { findingId: finding.id, number: finding.version + 1, at: now, byUserId: actor.userId, step, text });
  const entry = { organisationId: finding.organisationId, at: now, actor: recordName(actor), subjectKind: "finding" };
  await appendRecord(tx, [{ ...entry, subjectId: finding.id, what: `finding ${step.replaceAll("_", " ")}`, after: { text } }]);
}

/** Tells the open finding of an earlier fail that the appliance passed since; it stays open until a person closes it. */
export async function tellOfPass(tx: Db, seen: Pick<Seen, "actor" | "appliance" | "now" | "inspectionId">): Promise<void> {
  const { organisationId, id } = seen.appliance;
  const finding = await findFindingByKey(tx, organisationId, keyOf(id));
  if (!finding || finding.state === "closed") return;
  await writeLine(tx, finding, { ...seen, step: "retest", text: `Passed an inspection since (${seen.inspectionId}).` });
}
