import type { Db } from "./client";
import type { Inspection, InspectionDue, InspectionPolicy } from "./generated/sqlite/client";

export type { Inspection, InspectionDue, InspectionPolicy };

type Plain = "checklist" | "measurements" | "instruments" | "competence" | "reasons";
export type NewInspection = Omit<Inspection, Plain> & Readonly<Record<Plain, object>>;

export async function insertInspection(tx: Db, row: NewInspection): Promise<void> {
  await tx.inspection.create({ data: row });
}

export function findInspection(db: Db, organisationId: string, id: string): Promise<Inspection | null> {
  return db.inspection.findFirst({ where: { id, organisationId } });
}

/** The inspection that came from a form, whoever sent it. */
export function findInspectionByForm(db: Db, organisationId: string, formId: string): Promise<Inspection | null> {
  return db.inspection.findFirst({ where: { organisationId, formId } });
}

/** Those of an appliance, the latest first; corrected ones are among them. */
export function inspectionsOf(db: Db, organisationId: string, applianceId: string): Promise<Inspection[]> {
  return db.inspection.findMany({ where: { organisationId, applianceId }, orderBy: [{ at: "desc" }, { receivedAt: "desc" }] });
}

/** The correction of an inspection, if there is one. */
export function findCorrection(db: Db, correctsId: string): Promise<Inspection | null> {
  return db.inspection.findFirst({ where: { correctsId } });
}

/** Writes which inspection of an appliance stands now. */
export async function writeInspectionDue(tx: Db, due: InspectionDue): Promise<void> {
  const { applianceId, ...data } = due;
  await tx.inspectionDue.upsert({ where: { applianceId }, create: due, update: data });
}

/** What a site states for its inspections, if it states anything. */
export function findInspectionPolicy(db: Db, siteId: string): Promise<InspectionPolicy | null> {
  return db.inspectionPolicy.findUnique({ where: { siteId } });
}

export function findInspectionPolicies(db: Db, organisationId: string): Promise<InspectionPolicy[]> {
  return db.inspectionPolicy.findMany({ where: { organisationId } });
}

/** Writes what a site states while it is still at `version` (0: nothing yet); false when somebody changed it meanwhile. */
export async function writeInspectionPolicy(tx: Db, policy: InspectionPolicy): Promise<boolean> {
  const { siteId, organisationId, version } = policy;
  const data = { ...policy, version: version + 1 };
  if (version > 0) return (await tx.inspectionPolicy.updateMany({ where: { siteId, organisationId, version }, data })).count === 1;
  if (await findInspectionPolicy(tx, siteId)) return false;
  await tx.inspectionPolicy.create({ data });
  return true;
}

/** What a round needs of each appliance of a site. */
export async function roundAppliances(db: Db, organisationId: string, siteId: string) {
  return db.appliance.findMany({
    where: { organisationId, siteId, state: { not: "retired" } },
    select: {
      id: true,
      tag: true,
      category: true,
      brand: true,
      model: true,
      searchText: true,
      state: true,
      unitId: true,
      outletId: true,
      receptacle: true,
      createdAt: true,
      inspectionDue: { select: { lastAt: true, lastResult: true, dueAt: true } },
    },
  });
}
export type RoundAppliance = Awaited<ReturnType<typeof roundAppliances>>[number];

/** Names of a site's units and outlets by id. */
export async function roundNames(db: Db, organisationId: string, siteId: string): Promise<Map<string, string>> {
  const find = { where: { organisationId, siteId }, select: { id: true, name: true } };
  const rows = [...(await db.unit.findMany(find)), ...(await db.outlet.findMany(find))];
  return new Map(rows.map(({ id, name }) => [id, name]));
}

/** Inspections of the given sites (null is all) in pages, the oldest first, with the tag. */
export async function* inspectionPages(db: Db, at: { organisationId: string; siteIds: readonly string[] | null }) {
  const where = { organisationId: at.organisationId, ...(at.siteIds === null ? {} : { siteId: { in: [...at.siteIds] } }) };
  for (let skip = 0; ; skip += 500) {
    const rows = await db.inspection.findMany({ where, orderBy: [{ at: "asc" }, { id: "asc" }], skip, take: 500 });
    if (rows.length === 0) return;
    const ids = [...new Set(rows.map(({ applianceId }) => applianceId))];
    const tags = await db.appliance.findMany({ where: { id: { in: ids } }, select: { id: true, tag: true } });
    const sites = await db.site.findMany({ where: { id: { in: [...new Set(rows.map(({ siteId }) => siteId))] } } });
    const names = new Map([...tags.map(({ id, tag }) => [id, tag] as const), ...sites.map(({ id, name }) => [id, name] as const)]);
    yield rows.map((row) => ({ row, tag: names.get(row.applianceId) ?? "", site: names.get(row.siteId) ?? "" }));
  }
}
