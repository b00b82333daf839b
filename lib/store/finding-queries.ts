import { bulkInsert } from "./bulk";
import type { Db } from "./client";
import type { Finding, FindingNote, FindingState, Role } from "./generated/sqlite/client";
import { newId } from "./ids";

/** A finding that was just found out about. */
export interface NewFinding {
  readonly organisationId: string;
  readonly key: string;
  readonly cause: string;
  readonly applianceId: string | null;
  readonly noticeId: string | null;
  readonly siteId: string;
  readonly circuitId: string | null;
  readonly outletId: string | null;
  readonly signalWord: string;
  readonly sentence: string;
  readonly evidence: object;
  readonly timesSeen: number;
  readonly now: Date;
  readonly dueAt: Date;
}

const text = (name: string) => ({ name, type: "text" as const });
const instant = (name: string) => ({ name, type: "timestamp" as const });
const columns = [
  ...["id", "organisationId", "key", "cause", "applianceId", "noticeId", "siteId", "circuitId", "outletId", "signalWord"].map(text),
  { name: "state", type: "text" as const, enumName: "FindingState" },
  text("sentence"),
  { name: "evidence", type: "json" as const },
  ...["openedAt", "refreshedAt", "dueAt"].map(instant),
  { name: "timesSeen", type: "integer" as const },
  { name: "version", type: "integer" as const },
];

/** Stores the finding unless one with its key is there already; two writers at once get one finding. Returns the new id or null. */
export async function insertFinding(tx: Db, fresh: NewFinding): Promise<string | null> {
  const id = newId();
  const { organisationId, key, cause, applianceId, noticeId, siteId, circuitId, outletId, signalWord, sentence, evidence, now } = fresh;
  const row = [id, organisationId, key, cause, applianceId, noticeId, siteId, circuitId, outletId, signalWord, "open", sentence, evidence];
  const inserted = await bulkInsert(tx, {
    table: "Finding",
    columns,
    rows: [[...row, now, now, fresh.dueAt, fresh.timesSeen, 1]],
    onConflict: { key: ["organisationId", "key"] },
  });
  return inserted === 1 ? id : null;
}

/** The finding of this key, if there is one. */
export async function findFindingByKey(db: Db, organisationId: string, key: string): Promise<Finding | null> {
  return db.finding.findUnique({ where: { organisationId_key: { organisationId, key } } });
}

/** Which of these keys have a finding. */
export async function knownFindingKeys(db: Db, organisationId: string, keys: readonly string[]): Promise<Set<string>> {
  const known = new Set<string>();
  for (let at = 0; at < keys.length; at += 500) {
    const where = { organisationId, key: { in: keys.slice(at, at + 500) } };
    for (const { key } of await db.finding.findMany({ where, select: { key: true } })) known.add(key);
  }
  return known;
}

/** A finding of the organisation, if there is one. */
export async function findFinding(db: Db, organisationId: string, id: string): Promise<Finding | null> {
  return db.finding.findFirst({ where: { organisationId, id } });
}

export type FindingChange = Partial<
  Pick<
    Finding,
    | "signalWord"
    | "state"
    | "sentence"
    | "ownerId"
    | "refreshedAt"
    | "timesSeen"
    | "dueAt"
    | "closedAt"
    | "outcome"
    | "outcomeReason"
    | "outcomeEvidence"
    | "reviewAt"
    | "outletId"
    | "circuitId"
    | "siteId"
    | "remedyStage"
    | "escalatedDueAt"
  >
> & { readonly evidence?: object };

/** Changes a finding that is still at `version`; false when somebody changed it meanwhile. */
export async function changeFinding(tx: Db, id: string, version: number, change: FindingChange): Promise<boolean> {
  const { count } = await tx.finding.updateMany({ where: { id, version }, data: { ...change, version: version + 1 } });
  return count === 1;
}

/** Adds a line to a finding's history. */
export async function addFindingNote(tx: Db, note: Omit<FindingNote, "id">): Promise<void> {
  await tx.findingNote.create({ data: { id: newId(), ...note } });
}

/** A finding's history, oldest first. */
export async function findingHistory(db: Db, findingId: string): Promise<FindingNote[]> {
  return db.findingNote.findMany({ where: { findingId }, orderBy: [{ number: "asc" }, { at: "asc" }] });
}

/** Findings of an appliance that are not closed, except one. */
export async function otherLiveFindings(
  db: Db,
  applianceId: string,
  exceptId: string,
): Promise<{ state: FindingState; signalWord: string }[]> {
  return db.finding.findMany({
    where: { applianceId, id: { not: exceptId }, state: { not: "closed" } },
    select: { state: true, signalWord: true },
  });
}

/** Members who may see a site, with these roles: who can own a finding there, or check it. */
export async function membersAt(
  db: Db,
  at: { readonly organisationId: string; readonly siteId: string; readonly roles: readonly Role[] },
): Promise<{ id: string; name: string }[]> {
  const members = await db.membership.findMany({
    where: {
      organisationId: at.organisationId,
      endedAt: null,
      role: { in: [...at.roles] },
      OR: [{ allSites: true }, { sites: { some: { siteId: at.siteId } } }],
    },
    select: { user: { select: { id: true, name: true } } },
    orderBy: { user: { name: "asc" } },
  });
  return members.map(({ user }) => user);
}
