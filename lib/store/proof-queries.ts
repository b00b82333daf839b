import { placeColumns, plateColumns } from "./appliance-selects";
import type { Db } from "./client";
import { inParts } from "./id-parts";

interface SiteKey {
  readonly organisationId: string;
  readonly siteId: string;
}

/** The appliances of a site that are not retired, by tag, with what a comparison reads of them. */
export function comparedAppliances(db: Db, key: SiteKey) {
  return db.appliance.findMany({
    where: { ...key, state: { not: "retired" } },
    select: { id: true, tag: true, tagKey: true, ...placeColumns, state: true, ...plateColumns, createdAt: true },
    orderBy: [{ tagKey: "asc" }, { id: "asc" }],
  });
}
export type ComparedAppliance = Awaited<ReturnType<typeof comparedAppliances>>[number];

export function countRetired(db: Db, key: SiteKey): Promise<number> {
  return db.appliance.count({ where: { ...key, state: "retired" } });
}

/** The stored candidates of these appliances, also those that a fact rules out. */
export async function storedPairs(db: Db, organisationId: string, applianceIds: readonly string[]) {
  const select = { noticeId: true, applianceId: true, grade: true, standing: true } as const;
  const rows = [];
  for (const part of inParts(applianceIds))
    rows.push(...(await db.candidate.findMany({ where: { organisationId, applianceId: { in: [...part] } }, select })));
  return rows;
}
export type StoredPair = Awaited<ReturnType<typeof storedPairs>>[number];

/** The notices of an organisation without their words, by list and number. */
export function provedNotices(db: Db, organisationId: string) {
  return db.notice.findMany({
    where: { organisationId },
    select: {
      ...{ id: true, source: true, format: true, number: true, date: true, title: true, hasIdentifiers: true, checkedAt: true },
      ...{ goneAt: true, firstLoadedAt: true },
    },
    orderBy: [{ source: "asc" }, { number: "asc" }, { id: "asc" }],
  });
}
export type ProvedNotice = Awaited<ReturnType<typeof provedNotices>>[number];

/** How many records each of these runs set aside. */
export async function setAsideOf(db: Db, runIds: readonly (string | null)[]): Promise<ReadonlyMap<string, number>> {
  const counts = new Map<string, number>();
  for (const part of inParts([...new Set(runIds)].filter((id) => id !== null))) {
    const runs = await db.importRun.findMany({ where: { id: { in: [...part] } }, select: { id: true, setAside: true } });
    for (const { id, setAside } of runs) counts.set(id, setAside);
  }
  return counts;
}

/** What the record says of one appliance, the latest first. */
export function entriesOf(db: Db, organisationId: string, applianceId: string, take: number) {
  return db.recordEntry.findMany({
    where: { organisationId, subjectKind: "appliance", subjectId: applianceId },
    select: { number: true, at: true, what: true },
    orderBy: { number: "desc" },
    take,
  });
}
