import type { Db } from "./client";
import type { Hold, Incident } from "./generated/sqlite/client";

export type { Hold, Incident };

export async function insertHold(tx: Db, hold: Omit<Hold, "releasedAt" | "releasedWhy" | "releasedByUserId">): Promise<void> {
  await tx.hold.create({ data: hold });
}

/** Holds of an organisation that are not released, the latest first. */
export function liveHolds(db: Db, organisationId: string): Promise<Hold[]> {
  return db.hold.findMany({ where: { organisationId, releasedAt: null }, orderBy: [{ at: "desc" }, { id: "asc" }] });
}

/** The live holds on an appliance: its own, and those of its site. */
export function holdsOnAppliance(db: Db, at: { organisationId: string; applianceId: string; siteId: string }): Promise<Hold[]> {
  const { organisationId, applianceId, siteId } = at;
  return db.hold.findMany({
    where: {
      organisationId,
      releasedAt: null,
      OR: [
        { subjectKind: "appliance", subjectId: applianceId },
        { subjectKind: "site", subjectId: siteId },
      ],
    },
    orderBy: { at: "asc" },
  });
}

/** Every hold that was ever placed on a site itself, the latest first. */
export function holdsOnSite(db: Db, organisationId: string, siteId: string): Promise<Hold[]> {
  return db.hold.findMany({ where: { organisationId, subjectKind: "site", subjectId: siteId }, orderBy: [{ at: "desc" }, { id: "asc" }] });
}

/** The live hold that says the same, where there is one: a form that is sent twice places one hold. */
export function sameHold(
  tx: Db,
  hold: Pick<Hold, "organisationId" | "subjectKind" | "subjectId" | "why" | "byUserId">,
): Promise<Hold | null> {
  return tx.hold.findFirst({ where: { ...hold, releasedAt: null } });
}

/** Ids of the appliances and sites on which there is a live hold, for work on many at once. */
export async function heldThings(db: Db, organisationId: string): Promise<{ appliances: Set<string>; sites: Set<string> }> {
  const holds = await liveHolds(db, organisationId);
  const ids = (kind: string) => new Set(holds.filter(({ subjectKind }) => subjectKind === kind).map(({ subjectId }) => subjectId));
  return { appliances: ids("appliance"), sites: ids("site") };
}

export function findHold(db: Db, organisationId: string, id: string): Promise<Hold | null> {
  return db.hold.findFirst({ where: { id, organisationId } });
}

/** False when it was released meanwhile. */
export async function endHold(
  tx: Db,
  id: string,
  end: { releasedAt: Date; releasedWhy: string; releasedByUserId: string | null },
): Promise<boolean> {
  return (await tx.hold.updateMany({ where: { id, releasedAt: null }, data: end })).count === 1;
}

export async function insertIncident(tx: Db, incident: Omit<Incident, "frozen"> & { frozen: object }): Promise<void> {
  await tx.incident.create({ data: incident });
}

export function incidentsOf(db: Db, organisationId: string, applianceId: string): Promise<Incident[]> {
  return db.incident.findMany({ where: { organisationId, applianceId }, orderBy: { at: "desc" } });
}
