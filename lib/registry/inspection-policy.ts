import { z } from "zod";
import { type Actor, recordName } from "@/lib/access/actor";
import { ChangedMeanwhile } from "@/lib/access/changed-meanwhile";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { type InspectionEnvironment, inspectionEnvironments } from "@/lib/casework/inspection-due";
import { type InspectionStandardName, inspectionStandardNames } from "@/lib/electrical/inspection-limit-tables";
import { usualInspectionStandard } from "@/lib/electrical/inspection-limits";
import type { Db, Store } from "@/lib/store/client";
import { findInspectionPolicy, writeInspectionPolicy } from "@/lib/store/inspection-queries";
import { findSite, findSites } from "@/lib/store/place-queries";
import { appendRecord } from "@/lib/store/record";
import type { Site } from "@/lib/store/rows";

/** By what a site inspects. */
export interface SiteInspectionPolicy {
  readonly standard: InspectionStandardName;
  readonly environment: InspectionEnvironment;
  /** Months that the site states of its own; null goes by the table. */
  readonly months: number | null;
  /** Days that a newly entered appliance may wait for its first inspection. */
  readonly firstDays: number;
  /** 0 where the site states nothing yet. */
  readonly version: number;
}

/** What holds where a site states nothing: the usual standard of its voltage, the calm row, first inspection at once. Own policy. */
function usualPolicy(nominalVolts: number | null): SiteInspectionPolicy {
  return { standard: usualInspectionStandard(nominalVolts), environment: "calm", months: null, firstDays: 0, version: 0 };
}

const known = <T extends string>(names: readonly T[], text: string | undefined, usual: T): T =>
  names.find((name) => name === text) ?? usual;

/** The policy by which a site inspects. */
export async function inspectionPolicyOf(db: Db, site: Pick<Site, "id" | "nominalVolts">): Promise<SiteInspectionPolicy> {
  const usual = usualPolicy(site.nominalVolts);
  const stated = await findInspectionPolicy(db, site.id);
  if (!stated) return usual;
  const { months, firstDays, version } = stated;
  return {
    standard: known(inspectionStandardNames, stated.standard, usual.standard),
    environment: known(inspectionEnvironments, stated.environment, usual.environment),
    months,
    firstDays,
    version,
  };
}

/** The sites that the actor may see, each with by what it inspects. Permission: `see inspections`. */
export async function listInspectionPolicies(
  db: Db,
  actor: Actor,
): Promise<{ readonly site: { readonly id: string; readonly name: string }; readonly policy: SiteInspectionPolicy }[]> {
  requirePermission(actor, "see inspections");
  const mine = actor.siteIds === "all" ? {} : { id: { in: [...actor.siteIds] } };
  const sites = await findSites(db, { organisationId: actor.organisationId, retiredAt: null, ...mine });
  return Promise.all(sites.map(async (site) => ({ site: { id: site.id, name: site.name }, policy: await inspectionPolicyOf(db, site) })));
}

const days = z.coerce.number({ error: "Write whole days." }).int("Write whole days.").min(0).max(365, "At most a year.");

export const inspectionPolicyForm = z.object({
  siteId: z.uuid(),
  version: z.coerce.number().int().min(0),
  standard: z.enum(inspectionStandardNames as [InspectionStandardName, ...InspectionStandardName[]]),
  environment: z.enum(inspectionEnvironments as [InspectionEnvironment, ...InspectionEnvironment[]]),
  months: z.preprocess(
    (given) => (given === "" ? null : given),
    z.coerce.number({ error: "Write whole months, or nothing." }).int().min(1).max(120, "At most ten years.").nullable(),
  ),
  firstDays: days,
});

/** By what a site inspects, by the fields of its form; empty is the usual. */
function fieldsOf({ standard, environment, months, firstDays }: SiteInspectionPolicy): Record<string, string> {
  return { standard, environment, months: months === null ? "" : String(months), firstDays: String(firstDays) };
}

/** Keeps by what a site inspects. Permission: `keep inspection means`. Throws `Trouble` when somebody changed it meanwhile. */
export async function saveInspectionPolicy(
  db: Store,
  actor: Actor,
  { siteId, now, ...policy }: z.output<typeof inspectionPolicyForm> & { readonly now: Date },
): Promise<void> {
  requirePermission(actor, "keep inspection means", siteId);
  const { organisationId } = actor;
  await db.$transaction(async (tx) => {
    const site = await findSite(tx, organisationId, siteId);
    if (!site) throw new Trouble("not_found", "This site is not there any more: choose it again under Building.");
    const before = await inspectionPolicyOf(tx, site);
    if (!(await writeInspectionPolicy(tx, { siteId, organisationId, ...policy, changedAt: now })))
      throw new ChangedMeanwhile("the rules by which this site inspects", {
        mark: { name: "version", value: String(before.version) },
        theirs: fieldsOf(before),
      });
    const entry = { organisationId, at: now, actor: recordName(actor), subjectKind: "site", subjectId: siteId };
    await appendRecord(tx, [{ ...entry, what: "inspection policy changed", before, after: { ...policy, version: policy.version + 1 } }]);
  });
}
