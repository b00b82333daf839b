import type { Actor } from "@/lib/access/actor";
import { mayDo, requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { tagKey } from "@/lib/identity/tag-code";
import { type Appliance, findApplianceByTag } from "@/lib/store/appliance-queries";
import { namesOf } from "@/lib/store/appliance-view-queries";
import type { Db } from "@/lib/store/client";
import { findInspection, type Inspection, inspectionsOf } from "@/lib/store/inspection-queries";
import { findCompetences } from "@/lib/store/instrument-queries";
import { findSite } from "@/lib/store/place-queries";
import { getAppliance } from "./appliance";
import { ratingOf } from "./appliance-columns";
import { type ApplianceView, viewAppliance } from "./appliance-view";
import { standing } from "./inspection";
import { inspectionPolicyOf, type SiteInspectionPolicy } from "./inspection-policy";
import { listInstruments } from "./instrument";

/** An inspection as a list shows it. */
export interface ListedInspection extends Inspection {
  /** A later inspection corrects it. */
  readonly correctedById: string | null;
  readonly who: string | null;
}

/** Everything an inspector needs beside the appliance. */
export interface InspectionSheet {
  readonly view: ApplianceView;
  readonly policy: SiteInspectionPolicy;
  readonly protectionClass: "I" | "II" | "III" | null;
  readonly instruments: Awaited<ReturnType<typeof listInstruments>>;
  readonly competences: Awaited<ReturnType<typeof findCompetences>>;
  readonly inspections: readonly ListedInspection[];
  /** The latest that stands. */
  readonly last: ListedInspection | null;
}

/** The appliance of a typed or scanned tag, or the address that a tag's code holds. Throws `Trouble` where there is none. */
export async function findByTag(db: Db, actor: Actor, text: string): Promise<Appliance> {
  requirePermission(actor, "see inspections");
  const tag = (
    text
      .trim()
      .split(/[/?#=]/)
      .at(-1) ?? ""
  ).trim();
  const appliance = tagKey(tag) === "" ? null : await findApplianceByTag(db, actor.organisationId, tagKey(tag));
  if (!appliance || !mayDo(actor, "see inspections", appliance.siteId)) {
    const sentence = `No appliance has the tag "${tag.slice(0, 40)}": look at the tag again, or search for the appliance in the list.`;
    throw new Trouble("not_found", sentence, { tag: sentence });
  }
  return appliance;
}

/** The inspections of an appliance, the latest first. Permission: `see inspections` at its site. */
export async function inspectionsOfAppliance(db: Db, actor: Actor, applianceId: string): Promise<ListedInspection[]> {
  const appliance = await getAppliance(db, actor, applianceId);
  requirePermission(actor, "see inspections", appliance.siteId);
  const rows = await inspectionsOf(db, actor.organisationId, applianceId);
  const names = await namesOf(
    db,
    rows.map(({ byUserId }) => byUserId),
  );
  const corrected = new Map(rows.flatMap(({ id, correctsId }) => (correctsId === null ? [] : [[correctsId, id] as const])));
  return rows.map((row) => ({
    ...row,
    correctedById: corrected.get(row.id) ?? null,
    who: row.byUserId === null ? null : (names.get(row.byUserId) ?? null),
  }));
}

/** What the inspection page shows of an appliance. Permission: `see inspections` at its site. */
export async function inspectionSheet(
  db: Db,
  actor: Actor,
  { applianceId, now }: { readonly applianceId: string; readonly now: Date },
): Promise<InspectionSheet> {
  const inspections = await inspectionsOfAppliance(db, actor, applianceId);
  const view = await viewAppliance(db, actor, { id: applianceId, now });
  const site = { id: view.appliance.siteId, nominalVolts: view.site?.nominalVolts ?? null };
  const last = standing(inspections)[0] ?? null;
  const known = last?.protectionClass ?? ratingOf(view.appliance).protectionClass;
  return {
    view,
    policy: await inspectionPolicyOf(db, site),
    protectionClass: known === "I" || known === "II" || known === "III" ? known : null,
    instruments: await listInstruments(db, actor),
    competences: await findCompetences(db, actor.organisationId, actor.userId ?? ""),
    inspections,
    last,
  };
}

/** One inspection with the tag it was made of and the zone in which its times are said. */
export interface ShownInspection {
  readonly one: ListedInspection;
  readonly tag: string;
  readonly timeZone: string | null;
}

/** One inspection. Permission: `see inspections` at its appliance's site. Throws `Trouble` where there is none. */
export async function getInspection(db: Db, actor: Actor, id: string): Promise<ShownInspection> {
  requirePermission(actor, "see inspections");
  const row = await findInspection(db, actor.organisationId, id);
  const all = row ? await inspectionsOfAppliance(db, actor, row.applianceId) : [];
  const one = all.find((listed) => listed.id === id);
  if (!one) throw new Trouble("not_found", "There is no such inspection here.");
  const { tag } = await getAppliance(db, actor, one.applianceId);
  const site = await findSite(db, actor.organisationId, one.siteId);
  return { one, tag, timeZone: site?.timeZone ?? null };
}
