import { ChangedMeanwhile } from "@/lib/access/changed-meanwhile";
import { stateWords } from "@/lib/casework/step";
import type { Db } from "@/lib/store/client";
import { findingHistory } from "@/lib/store/finding-queries";
import { findPersonNames } from "@/lib/store/place-name-queries";
import type { Finding } from "@/lib/store/rows";

/** What was done to a finding since a version, a sentence each; the step can then be taken over it. */
export async function findingChanged(tx: Db, finding: Pick<Finding, "id" | "state" | "version">, seen: number): Promise<ChangedMeanwhile> {
  const notes = (await findingHistory(tx, finding.id)).filter(({ number }) => number > seen);
  const names = await findPersonNames(
    tx,
    notes.map(({ byUserId }) => byUserId),
  );
  const others = notes.map(({ byUserId, step, text }) => {
    const who = byUserId === null ? "The program" : (names.get(byUserId) ?? "Somebody who has left");
    return [`${who}${step === null ? "" : `, ${step.replaceAll("_", " ")}`}`, text].filter(Boolean).join(": ");
  });
  return new ChangedMeanwhile(`this finding, which is ${stateWords[finding.state]} now,`, {
    mark: { name: "version", value: String(finding.version) },
    others,
  });
}
