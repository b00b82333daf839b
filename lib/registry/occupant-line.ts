import { Trouble } from "@/lib/access/trouble";
import type { Db } from "@/lib/store/client";
import { addFindingNote, changeFinding } from "@/lib/store/finding-queries";
import { appendRecord } from "@/lib/store/record";
import type { Finding } from "@/lib/store/rows";

/** A line of a finding's history about its occupant. It names nobody: the tenancy's id stands in the record. */
export interface OccupantLine {
  readonly step: "tell_occupant" | "occupant_unplugged" | "occupant_photo" | "occupant_answered";
  readonly text: string;
  readonly byUserId: string | null;
  readonly actor: string;
  readonly after?: object;
  readonly now: Date;
}

/** Writes it into history and record alike. Throws `Trouble` when the finding is not as it was read any more. */
export async function writeOccupantLine(
  tx: Db,
  finding: Pick<Finding, "id" | "version" | "organisationId">,
  { step, text, byUserId, actor, after, now }: OccupantLine,
): Promise<void> {
  if (!(await changeFinding(tx, finding.id, finding.version, {})))
    throw new Trouble("changed_meanwhile", "Somebody changed this finding while you were looking at it: read it again, then send it.");
  await addFindingNote(tx, { findingId: finding.id, number: finding.version + 1, at: now, byUserId, step, text });
  const entry = { organisationId: finding.organisationId, at: now, actor, subjectKind: "finding", subjectId: finding.id };
  await appendRecord(tx, [{ ...entry, what: `finding ${step.replaceAll("_", " ")}`, after: { text, ...after } }]);
}
