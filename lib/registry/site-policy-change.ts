import { z } from "zod";
import { type Actor, recordName } from "@/lib/access/actor";
import { ChangedMeanwhile } from "@/lib/access/changed-meanwhile";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { refreshDerivedColumns } from "@/lib/store/appliance-queries";
import type { Store } from "@/lib/store/client";
import { findSite } from "@/lib/store/place-queries";
import { appendRecord } from "@/lib/store/record";
import { findSitePolicy, type StatedPolicy, writeSitePolicy } from "@/lib/store/site-policy-queries";
import { figureOf, figureProblem, figureText, policyFields } from "@/lib/watch/policy-fields";
import { standardsWith } from "@/lib/watch/policy-standards";
import { applianceColumns } from "./appliance-columns";

const standardFields = ["deviation", "device", "plugs"] as const;

const typed = z.string().max(40).default("");

/** What the policy page sends: every figure as typed, empty for the default, and the chosen sets, empty for the usual ones. */
export const sitePolicyForm = z
  .object({
    siteId: z.string().max(64),
    version: z.coerce.number().int().min(0),
    deviation: typed,
    device: typed,
    plugs: typed,
    ...Object.fromEntries(policyFields.map(({ name }) => [name, typed])),
  })
  .transform((form, context) => {
    const texts = form as unknown as Readonly<Record<string, string>>;
    const figures: Record<string, number> = {};
    for (const field of policyFields) {
      const text = texts[field.name]?.trim() ?? "";
      if (text === "") continue;
      const value = figureOf(field, text);
      const problem = figureProblem(field, value);
      if (problem === null) figures[field.name] = value;
      else context.addIssue({ code: "custom", path: [field.name], message: `${field.label}: ${problem}` });
    }
    const named = { deviation: form.deviation, device: form.device, plugs: form.plugs };
    const standards = Object.fromEntries(Object.entries(named).filter(([, name]) => name !== ""));
    return { siteId: form.siteId, version: form.version, figures, standards };
  });
export type SitePolicyInput = z.output<typeof sitePolicyForm>;

/** What a site states, by the fields of its form; empty is the default. */
function fieldsOf({ figures, standards }: StatedPolicy): Record<string, string> {
  const fields: Record<string, string> = {};
  for (const field of policyFields) {
    const value = figures[field.name];
    fields[field.name] = value === undefined ? "" : figureText(field, value);
  }
  for (const name of standardFields) fields[name] = standards[name] ?? "";
  return fields;
}

/**
 * Keeps what a site states, works the limits of its appliances out again and records the change. The readings kept are screened
 * anew by the caller. Permission: `set site policy`. Throws `Trouble` when somebody changed it meanwhile.
 */
export async function saveSitePolicy(db: Store, actor: Actor, input: SitePolicyInput & { readonly now: Date }): Promise<void> {
  requirePermission(actor, "set site policy", input.siteId);
  const { organisationId } = actor;
  const { siteId, version, figures, standards, now } = input;
  await db.$transaction(async (tx) => {
    const site = await findSite(tx, organisationId, siteId);
    if (!site) throw new Trouble("not_found", "This site is not there any more: choose it again under Building.");
    const before = await findSitePolicy(tx, siteId);
    if (!(await writeSitePolicy(tx, { organisationId, siteId }, { figures, standards, version }, now)))
      throw new ChangedMeanwhile("the policy of this site", {
        mark: { name: "version", value: String(before.version) },
        theirs: fieldsOf(before),
      });
    const set = standardsWith(standards, site.nominalVolts).deviation;
    if (set !== standardsWith(before.standards, site.nominalVolts).deviation)
      await refreshDerivedColumns(tx, siteId, (row) => applianceColumns(row.tag, row, { volts: site.nominalVolts, deviation: set }));
    const entry = {
      organisationId,
      at: now,
      actor: recordName(actor),
      what: "site policy changed",
      subjectKind: "site",
      subjectId: siteId,
    };
    const shown = { figures: before.figures, standards: before.standards };
    await appendRecord(tx, [{ ...entry, before: shown, after: { figures, standards } }]);
  });
}
