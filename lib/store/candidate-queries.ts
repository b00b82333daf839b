import type { ApplianceFacts } from "@/lib/identity/appliance-facts";
import type { Ask, Candidate, Grade, Reason } from "@/lib/matching/candidate";
import { type BulkColumn, bulkInsert, bulkUpdate } from "./bulk";
import type { Db } from "./client";
import { idsAtOnce, inParts } from "./id-parts";
import { newId } from "./ids";

/** A stored candidate as far as a new comparison needs it. */
export interface StoredCandidate {
  readonly id: string;
  readonly noticeId: string;
  readonly applianceId: string;
  readonly grade: Grade;
  readonly score: number;
  readonly reasons: readonly Reason[];
  readonly ask: Ask | null;
  readonly noticeHash: string;
  readonly standing: string;
}

export interface CandidateWrite {
  /** Null for a pair that is not stored yet. */
  readonly id: string | null;
  readonly candidate: Candidate;
  readonly noticeHash: string;
  readonly standing: string;
  readonly rank: number;
}

const compared: readonly BulkColumn[] = [
  { name: "grade", type: "text" },
  { name: "score", type: "real" },
  { name: "reasons", type: "json" },
  { name: "ask", type: "json" },
  { name: "noticeHash", type: "text" },
  { name: "checkedAt", type: "timestamp" },
  { name: "standing", type: "text" },
  { name: "rank", type: "integer" },
];
const comparedValues = ({ candidate, noticeHash, standing, rank }: CandidateWrite, at: Date) => [
  candidate.grade,
  candidate.score,
  candidate.reasons as object,
  candidate.ask,
  noticeHash,
  at,
  standing,
  rank,
];

/** Writes changed and new candidates. `candidate.noticeKey` is the notice's row id. */
export async function writeCandidates(tx: Db, organisationId: string, writes: readonly CandidateWrite[], at: Date): Promise<void> {
  const fresh = writes.filter(({ id }) => id === null);
  await bulkInsert(tx, {
    table: "Candidate",
    columns: [
      { name: "id", type: "text" },
      { name: "organisationId", type: "text" },
      { name: "noticeId", type: "text" },
      { name: "applianceId", type: "text" },
      { name: "raisedAt", type: "timestamp" },
      ...compared,
    ],
    rows: fresh.map((write) => [
      newId(),
      organisationId,
      write.candidate.noticeKey,
      write.candidate.applianceId,
      at,
      ...comparedValues(write, at),
    ]),
    onConflict: { key: ["organisationId", "noticeId", "applianceId"], update: compared.map(({ name }) => name) },
  });
  await bulkUpdate(tx, {
    table: "Candidate",
    columns: [{ name: "id", type: "text" }, ...compared],
    rows: writes.flatMap((write) => (write.id === null ? [] : [[write.id, ...comparedValues(write, at)]])),
  });
}

export async function deleteCandidates(tx: Db, ids: readonly string[]): Promise<void> {
  for (const part of inParts(ids)) await tx.candidate.deleteMany({ where: { id: { in: [...part] } } });
}

export async function setStandings(tx: Db, rows: readonly { id: string; standing: string; rank: number }[]): Promise<void> {
  await bulkUpdate(tx, {
    table: "Candidate",
    columns: [
      { name: "id", type: "text" },
      { name: "standing", type: "text" },
      { name: "rank", type: "integer" },
    ],
    rows: rows.map(({ id, standing, rank }) => [id, standing, rank]),
  });
}

const storedCandidate = {
  id: true,
  noticeId: true,
  applianceId: true,
  grade: true,
  score: true,
  reasons: true,
  ask: true,
  noticeHash: true,
  standing: true,
} as const;

const applianceFacts = {
  id: true,
  brand: true,
  model: true,
  serial: true,
  dateCode: true,
  made: true,
  category: true,
  upc: true,
  labelText: true,
  foldedModel: true,
} as const;

/** An appliance's facts with the folded model that is kept of it; see `foldedModelOf`. */
export type ApplianceToCheck = ApplianceFacts & { readonly foldedModel: string | null };

/** Keeps folded models; the appliance is not changed by it. */
export async function writeFoldedModels(tx: Db, rows: readonly Pick<ApplianceToCheck, "id" | "foldedModel">[]): Promise<void> {
  await bulkUpdate(tx, {
    table: "Appliance",
    columns: [
      { name: "id", type: "text" },
      { name: "foldedModel", type: "text" },
    ],
    rows: rows.map(({ id, foldedModel }) => [id, foldedModel]),
  });
}

/** The appliances not retired, in the order of their ids, after a given one; only `ids`, or those changed `since`, where given. */
export async function findAppliancesToCheck(
  db: Db,
  organisationId: string,
  page: { readonly after: string; readonly take: number; readonly ids?: readonly string[]; readonly since?: Date },
): Promise<ApplianceToCheck[]> {
  const { after, take, ids, since } = page;
  const find = (part: readonly string[] | null) =>
    db.appliance.findMany({
      where: {
        organisationId,
        state: { not: "retired" },
        id: { gt: after, ...(part === null ? {} : { in: [...part] }) },
        ...(since ? { updatedAt: { gte: since } } : {}),
      },
      select: applianceFacts,
      orderBy: { id: "asc" },
      take,
    });
  if (!ids) return find(null);
  const found: ApplianceToCheck[] = [];
  for (const part of inParts(ids)) found.push(...(await find(part)));
  return found;
}

/** Up to this many notices are named in the question; of more, every pair of the appliances is read. */
const mostNamedNotices = idsAtOnce;

/** The stored candidates of some appliances, and of some notices only where few are given. */
export async function findCandidatesOf(
  db: Db,
  organisationId: string,
  applianceIds: readonly string[],
  noticeIds: readonly string[] | null = null,
): Promise<StoredCandidate[]> {
  const few = noticeIds !== null && noticeIds.length <= mostNamedNotices ? { noticeId: { in: [...noticeIds] } } : {};
  const found: StoredCandidate[] = [];
  for (const part of inParts(applianceIds)) {
    const rows = await db.candidate.findMany({
      where: { organisationId, applianceId: { in: [...part] }, ...few },
      select: storedCandidate,
    });
    found.push(...(rows as unknown as StoredCandidate[]));
  }
  return found;
}

/** The decided candidates of some notices. */
export async function findDecidedCandidates(db: Db, organisationId: string, noticeIds: readonly string[]): Promise<StoredCandidate[]> {
  const rows = await db.candidate.findMany({
    where: { organisationId, noticeId: { in: [...noticeIds] }, standing: { notIn: ["undecided", "reopened"] } },
    select: storedCandidate,
  });
  return rows as unknown as StoredCandidate[];
}

/**
 * From when on appliances may not have been compared yet when a labels run ends: since the run before it that was done, so that
 * what a broken-off run left in the registry is compared too.
 */
export async function findUncomparedSince(db: Db, organisationId: string, runId: string): Promise<Date> {
  const run = await db.importRun.findUniqueOrThrow({ where: { id: runId }, select: { startedAt: true } });
  const before = await db.importRun.findFirst({
    where: { organisationId, kind: "labels", state: "done", id: { not: runId } },
    orderBy: { finishedAt: "desc" },
    select: { finishedAt: true },
  });
  const done = before?.finishedAt ?? new Date(0);
  return new Date(Math.min(done.getTime(), run.startedAt.getTime()));
}
