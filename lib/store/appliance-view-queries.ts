import type { Reason } from "@/lib/matching/candidate";
import { countIdentical } from "./appliance-queries";
import type { Db } from "./client";
import type { Appliance, Finding, Observation, Placement, RecordEntry } from "./generated/sqlite/client";

export interface ViewedCandidate {
  readonly id: string;
  readonly grade: string;
  readonly standing: string;
  readonly reasons: readonly Reason[];
  readonly notice: { readonly id: string; readonly number: string; readonly title: string };
  readonly decision: { readonly verdict: string; readonly at: Date; readonly by: string | null } | null;
}

const mostObservations = 2000;

/** Candidates of an appliance, nearest first, each with the decision that stands. */
export async function candidatesOf(db: Db, appliance: Appliance): Promise<ViewedCandidate[]> {
  const rows = await db.candidate.findMany({
    where: { organisationId: appliance.organisationId, applianceId: appliance.id },
    include: { notice: { select: { id: true, number: true, title: true } } },
    orderBy: [{ rank: "asc" }, { score: "desc" }, { id: "asc" }],
    take: 50,
  });
  const decisions = await db.decision.findMany({
    where: { organisationId: appliance.organisationId, applianceId: appliance.id, replacedAt: null },
    orderBy: { at: "desc" },
  });
  const names = await namesOf(
    db,
    decisions.map((row) => row.byUserId),
  );
  return rows.map(({ id, grade, standing, reasons, notice }) => {
    const decision = decisions.find((row) => row.noticeId === notice.id);
    const by = decision?.byUserId ? (names.get(decision.byUserId) ?? null) : null;
    return {
      id,
      grade,
      standing,
      reasons: reasons as unknown as Reason[],
      notice,
      decision: decision ? { verdict: decision.verdict, at: decision.at, by } : null,
    };
  });
}

/** Names of people by id; whoever is erased is left out. */
export async function namesOf(db: Db, ids: readonly (string | null)[]): Promise<Map<string, string>> {
  const wanted = [...new Set(ids)].filter((id) => id !== null);
  const rows = await db.user.findMany({ where: { id: { in: wanted } }, select: { id: true, name: true } });
  return new Map(rows.map((row) => [row.id, row.name]));
}

export interface PlaceNames {
  readonly units: ReadonlyMap<string, string>;
  readonly outlets: ReadonlyMap<string, { readonly name: string; readonly receptacles: number }>;
  readonly sites: ReadonlyMap<string, string>;
}

async function placeNames(db: Db, rows: readonly Pick<Placement, "siteId" | "unitId" | "outletId">[]): Promise<PlaceNames> {
  const wanted = (ids: (string | null)[]) => ({ where: { id: { in: [...new Set(ids)].filter((id) => id !== null) } } });
  const [units, outlets, sites] = await Promise.all([
    db.unit.findMany(wanted(rows.map((row) => row.unitId))),
    db.outlet.findMany(wanted(rows.map((row) => row.outletId))),
    db.site.findMany(wanted(rows.map((row) => row.siteId))),
  ]);
  const named = <T extends { id: string; name: string }>(list: readonly T[]) => new Map(list.map((row) => [row.id, row.name]));
  return { units: named(units), outlets: new Map(outlets.map((row) => [row.id, row])), sites: named(sites) };
}

/** All that the page of one appliance shows besides the appliance. */
export interface ApplianceSurroundings {
  readonly placements: readonly Placement[];
  /** The latest ones, in time order. */
  readonly observations: readonly Observation[];
  readonly names: PlaceNames;
  readonly circuit: { readonly name: string; readonly deviceAmps: number | null; readonly volts: number | null } | null;
  readonly site: { readonly name: string; readonly timeZone: string | null; readonly nominalVolts: number | null } | null;
  readonly findings: readonly (Finding & { readonly owner: string | null })[];
  readonly candidates: readonly ViewedCandidate[];
  readonly record: readonly (RecordEntry & { readonly who: string })[];
  readonly recordCount: number;
  readonly identical: number;
}

async function circuitOf(db: Db, outletId: string | null): Promise<ApplianceSurroundings["circuit"]> {
  if (outletId === null) return null;
  const outlet = await db.outlet.findUnique({ where: { id: outletId }, include: { circuit: true } });
  return outlet?.circuit ?? null;
}

async function findingsOf(db: Db, appliance: Appliance): Promise<ApplianceSurroundings["findings"]> {
  const findings = await db.finding.findMany({
    where: { organisationId: appliance.organisationId, applianceId: appliance.id },
    orderBy: [{ openedAt: "desc" }, { id: "asc" }],
    take: 50,
  });
  const names = await namesOf(
    db,
    findings.map((row) => row.ownerId),
  );
  return findings.map((row) => ({ ...row, owner: row.ownerId === null ? null : (names.get(row.ownerId) ?? null) }));
}

async function recordOf(db: Db, appliance: Appliance): Promise<Pick<ApplianceSurroundings, "record" | "recordCount">> {
  const where = { organisationId: appliance.organisationId, subjectKind: "appliance", subjectId: appliance.id };
  const [rows, recordCount] = await Promise.all([
    db.recordEntry.findMany({ where, orderBy: { number: "desc" }, take: 12 }),
    db.recordEntry.count({ where }),
  ]);
  const names = await namesOf(
    db,
    rows.map((row) => row.actor),
  );
  return { record: rows.map((row) => ({ ...row, who: names.get(row.actor) ?? row.actor })), recordCount };
}

export async function surroundingsOf(db: Db, appliance: Appliance): Promise<ApplianceSurroundings> {
  const { id, organisationId, brandKey, modelKey } = appliance;
  const named = brandKey !== "" && modelKey !== "";
  const [placements, latest, circuit, site, findings, candidates, record, identical] = await Promise.all([
    db.placement.findMany({ where: { organisationId, applianceId: id }, orderBy: [{ fromAt: "asc" }, { toAt: "asc" }] }),
    db.observation.findMany({ where: { organisationId, applianceId: id }, orderBy: { at: "desc" }, take: mostObservations }),
    circuitOf(db, appliance.outletId),
    db.site.findUnique({ where: { id: appliance.siteId } }),
    findingsOf(db, appliance),
    candidatesOf(db, appliance),
    recordOf(db, appliance),
    named ? countIdentical(db, { organisationId, brandKey, modelKey, id: { not: id }, state: { not: "retired" } }) : 0,
  ]);
  const observations = latest.reverse();
  return {
    placements,
    observations,
    names: await placeNames(db, [...placements, appliance]),
    circuit,
    site,
    findings,
    candidates,
    ...record,
    identical,
  };
}
