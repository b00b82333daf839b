import { type Actor, recordName } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { findingKey } from "@/lib/casework/cause";
import { openOrRefreshFinding } from "@/lib/casework/findings.run";
import { setApplianceState } from "@/lib/store/appliance-state-queries";
import type { Db, Store } from "@/lib/store/client";
import { findFindingByKey } from "@/lib/store/finding-queries";
import { wasMade } from "@/lib/store/form-id-queries";
import { insertIncident } from "@/lib/store/hold-queries";
import { newId } from "@/lib/store/ids";
import { appendRecord } from "@/lib/store/record";
import type { Appliance } from "@/lib/store/rows";
import { getAppliance } from "./appliance";
import { writeHold } from "./hold";

/** What happened, worst first, with the words of the finding. */
export const incidentKinds = {
  fire: "fire or flame",
  shock: "electric shock",
  smoke: "smoke or a burning smell",
  burn: "burn by a hot surface",
  near_miss: "a near miss",
} as const;
export type IncidentKind = keyof typeof incidentKinds;

export interface IncidentReport {
  readonly applianceId: string;
  readonly kind: IncidentKind;
  readonly at: Date;
  readonly text: string;
  readonly injured: boolean;
  /** Who was told: fire service, authority, insurer, maker. */
  readonly reportedTo: string;
  /** The id it will have, made with the form, so that a form that is sent twice reports one incident. */
  readonly formId?: string | undefined;
  readonly now: Date;
}

function requireTold({ text, at, now }: IncidentReport): void {
  const fields: Record<string, string> = {};
  if (text.trim() === "") fields["text"] = "Write what happened, in the order in which it happened.";
  if (at > now) fields["at"] = "It cannot have happened after now.";
  const first = Object.values(fields)[0];
  if (first) throw new Trouble("not_valid", first, fields);
}

/** The appliance and what is known around it, as it is now: it stays readable whatever changes later. */
async function frozenFacts(tx: Db, appliance: Appliance): Promise<object> {
  const where = { organisationId: appliance.organisationId, applianceId: appliance.id };
  const [placements, findings, decisions, candidates, files] = await Promise.all([
    tx.placement.findMany({ where, orderBy: { fromAt: "asc" } }),
    tx.finding.findMany({ where, orderBy: { openedAt: "asc" } }),
    tx.decision.findMany({ where, orderBy: { at: "asc" } }),
    tx.candidate.findMany({ where, orderBy: { raisedAt: "asc" } }),
    tx.attachment.findMany({ where: { organisationId: where.organisationId, subjectKind: "appliance", subjectId: appliance.id } }),
  ]);
  return JSON.parse(JSON.stringify({ appliance, placements, findings, decisions, candidates, files })) as object;
}

/**
 * Reports an incident: the appliance is out of use, everything about it is frozen under a hold with a copy as it is now, and a DANGER
 * is open, all at once. Permission: `report incidents` at its site. Returns the finding's id.
 */
export async function reportIncident(db: Store, actor: Actor, report: IncidentReport): Promise<{ id: string; findingId: string }> {
  requirePermission(actor, "report incidents");
  requireTold(report);
  return db.$transaction(async (tx) => {
    const appliance = await getAppliance(tx, actor, report.applianceId);
    requirePermission(actor, "report incidents", appliance.siteId);
    const { organisationId, siteId, outletId } = appliance;
    const id = report.formId ?? newId();
    const key = `${findingKey("by hand", "appliance", appliance.id)}:incident:${id}`;
    if (await wasMade(tx, "incident", { id: report.formId, organisationId }))
      return { id, findingId: (await findFindingByKey(tx, organisationId, key))?.id ?? id };
    const { kind, at, injured, now } = report;
    const text = report.text.trim();
    const reportedTo = report.reportedTo.trim() || null;
    const row = {
      id,
      organisationId,
      siteId,
      applianceId: appliance.id,
      kind,
      at,
      text,
      injured,
      reportedTo,
      byUserId: actor.userId,
      createdAt: now,
    };
    await insertIncident(tx, { ...row, frozen: await frozenFacts(tx, appliance) });
    const entry = { organisationId, at: now, actor: recordName(actor), subjectKind: "appliance", subjectId: appliance.id };
    await appendRecord(tx, [{ ...entry, what: "incident reported", after: { id, kind, at, text, injured, reportedTo } }]);
    if (appliance.state === "in_use") {
      await setApplianceState(tx, appliance.id, "out_of_use", now);
      await appendRecord(tx, [
        { ...entry, what: "appliance out of use", before: { state: appliance.state }, after: { state: "out_of_use", incident: id } },
      ]);
    }
    await writeHold(tx, actor, {
      kind: "appliance",
      id: appliance.id,
      why: `incident of ${at.toISOString().slice(0, 10)}: ${incidentKinds[kind]}`,
      now,
    });
    const finding = await openOrRefreshFinding(tx, {
      organisationId,
      key,
      cause: "by hand",
      applianceId: appliance.id,
      siteId,
      outletId,
      signalWord: "DANGER",
      sentence: `Incident: ${incidentKinds[kind]}${injured ? ", somebody was hurt" : ""}. ${text}`.slice(0, 1000),
      evidence: { figures: [], reasons: [`Happened ${at.toISOString()}.`, ...(reportedTo ? [`Reported to ${reportedTo}.`] : [])] },
      now,
      actor,
    });
    return { id, findingId: finding.id };
  });
}
