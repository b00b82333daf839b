import { placeColumns, plateColumns } from "./appliance-selects";
import type { Db } from "./client";
import type { RecordHead } from "./record-head";

/** The ids asked of the database at once: the embedded one takes a thousand parameters at most. */
const idsAtOnce = 500;

interface SiteKey {
  readonly organisationId: string;
  readonly siteId: string;
}

async function inParts<T>(ids: readonly string[], find: (part: string[]) => Promise<T[]>): Promise<T[]> {
  const all: T[] = [];
  for (let at = 0; at < ids.length; at += idsAtOnce) all.push(...(await find(ids.slice(at, at + idsAtOnce))));
  return all;
}

/** Ids of the appliances that are at a site or once were, in order. */
export async function applianceIdsEverAt(db: Db, { organisationId, siteId }: SiteKey): Promise<string[]> {
  const now = await db.appliance.findMany({ where: { organisationId, siteId }, select: { id: true } });
  const once = await db.placement.findMany({ where: { organisationId, siteId }, distinct: ["applianceId"], select: { applianceId: true } });
  return [...new Set([...now.map(({ id }) => id), ...once.map(({ applianceId }) => applianceId)])].sort();
}

const shown = {
  id: true,
  tag: true,
  ...placeColumns,
  state: true,
  ...plateColumns,
  owner: true,
  createdAt: true,
  updatedAt: true,
  retiredAt: true,
} as const;

/** These appliances as they are now, with what a site's state shows of them. */
export function appliancesNow(db: Db, ids: readonly string[]) {
  return inParts(ids, (part) => db.appliance.findMany({ where: { id: { in: part } }, select: shown }));
}
export type ApplianceNow = Awaited<ReturnType<typeof appliancesNow>>[number];

/** Every stay of these appliances, wherever it was. */
export function placementsOf(db: Db, ids: readonly string[]) {
  const select = { applianceId: true, siteId: true, unitId: true, outletId: true, receptacle: true, fromAt: true, toAt: true } as const;
  return inParts(ids, (part) =>
    db.placement.findMany({ where: { applianceId: { in: part } }, select, orderBy: [{ fromAt: "asc" }, { id: "asc" }] }),
  );
}
export type Stay = Awaited<ReturnType<typeof placementsOf>>[number];

/** What the record says was changed of one thing. */
export interface RecordedChange {
  readonly number: number;
  readonly at: Date;
  readonly what: string;
  readonly subjectId: string;
  readonly before: Readonly<Record<string, unknown>> | null;
  readonly after: Readonly<Record<string, unknown>> | null;
}

const change = { number: true, at: true, what: true, subjectId: true, before: true, after: true } as const;

/** The record's entries about one kind of thing that were written after an instant, the newest first. */
export async function changesAfter(db: Db, organisationId: string, kind: string, at: Date): Promise<RecordedChange[]> {
  const where = { organisationId, subjectKind: kind, at: { gt: at } };
  const rows = await db.recordEntry.findMany({ where, select: change, orderBy: { number: "desc" } });
  return rows as unknown as RecordedChange[];
}

/** The record's end at an instant: the last entry written by then. */
export async function headAt(db: Db, organisationId: string, at: Date): Promise<RecordHead | null> {
  const where = { organisationId, at: { lte: at } };
  return db.recordEntry.findFirst({ where, orderBy: { number: "desc" }, select: { number: true, hash: true } });
}

/** Findings of a site that were opened by an instant, whatever became of them. */
export function findingsOpenedBy(db: Db, { organisationId, siteId }: SiteKey, at: Date) {
  return db.finding.findMany({
    where: { organisationId, siteId, openedAt: { lte: at } },
    select: {
      ...{ id: true, cause: true, signalWord: true, state: true, sentence: true, openedAt: true, dueAt: true, closedAt: true },
      ...{ applianceId: true, noticeId: true, outletId: true, circuitId: true, ownerId: true, outcome: true, outcomeReason: true },
      remedyStage: true,
    },
    orderBy: [{ openedAt: "asc" }, { id: "asc" }],
  });
}
export type FindingNow = Awaited<ReturnType<typeof findingsOpenedBy>>[number];

/** Candidates of these appliances that were raised by an instant. */
export function candidatesRaisedBy(db: Db, ids: readonly string[], at: Date) {
  const select = { noticeId: true, applianceId: true, grade: true, ask: true, raisedAt: true, standing: true } as const;
  return inParts(ids, (part) => db.candidate.findMany({ where: { applianceId: { in: part }, raisedAt: { lte: at } }, select }));
}

/** Decisions about these appliances that were taken by an instant, the earliest first. */
export function decisionsBy(db: Db, ids: readonly string[], at: Date) {
  const select = {
    ...{ noticeId: true, applianceId: true, verdict: true, reason: true, byUserId: true, at: true, noticeHash: true, grade: true },
    reopenedAt: true,
  } as const;
  return inParts(ids, (part) =>
    db.decision.findMany({ where: { applianceId: { in: part }, at: { lte: at } }, select, orderBy: [{ at: "asc" }, { id: "asc" }] }),
  );
}
export type DecisionRow = Awaited<ReturnType<typeof decisionsBy>>[number];

/** The notices of the organisation that were loaded by an instant, without their words. */
export function noticesLoadedBy(db: Db, organisationId: string, at: Date) {
  return db.notice.findMany({
    where: { organisationId, firstLoadedAt: { lte: at } },
    select: {
      ...{ id: true, source: true, number: true, date: true, title: true, contentHash: true, hasIdentifiers: true },
      ...{ firstLoadedAt: true, amendedAt: true, goneAt: true, checkedAt: true },
    },
    orderBy: [{ source: "asc" }, { number: "asc" }, { id: "asc" }],
  });
}
export type NoticeNow = Awaited<ReturnType<typeof noticesLoadedBy>>[number];

/** The earlier wordings of these notices that stood until after an instant, the first replaced first. */
export async function wordingsReplacedAfter(db: Db, ids: readonly string[], at: Date) {
  const rows = await inParts(ids, (part) =>
    db.noticeWording.findMany({
      where: { noticeId: { in: part }, replacedAt: { gt: at } },
      select: { noticeId: true, contentHash: true, body: true, replacedAt: true },
      orderBy: [{ replacedAt: "asc" }, { contentHash: "asc" }],
    }),
  );
  return rows.map(({ body, ...row }) => ({ ...row, title: (body as { title?: string } | null)?.title ?? "" }));
}

/** Names of the places of a site, and of the people of an organisation, by id. */
export async function namesAt(db: Db, { organisationId, siteId }: SiteKey) {
  const select = { id: true, name: true } as const;
  const [units, circuits, outlets, members] = await Promise.all([
    db.unit.findMany({ where: { siteId }, select }),
    db.circuit.findMany({ where: { siteId }, select: { ...select, unitId: true, deviceAmps: true, volts: true } }),
    db.outlet.findMany({ where: { siteId }, select: { ...select, circuitId: true } }),
    db.membership.findMany({
      where: { organisationId },
      select: {
        ...{ id: true, userId: true, role: true, allSites: true, createdAt: true, endedAt: true },
        sites: { select: { siteId: true } },
        user: { select: { name: true } },
      },
    }),
  ]);
  return { units, circuits, outlets, members };
}
export type SiteNames = Awaited<ReturnType<typeof namesAt>>;
