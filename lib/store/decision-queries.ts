import type { ComparedFacts } from "@/lib/identity/facts-change";
import { type BulkColumn, bulkInsert, bulkUpdate } from "./bulk";
import type { Db } from "./client";
import { inParts } from "./id-parts";
import { newId } from "./ids";

export interface PairKey {
  readonly noticeId: string;
  readonly applianceId: string;
}

export interface NewDecision extends PairKey {
  readonly verdict: string;
  readonly reason: string;
  readonly noticeHash: string;
  readonly grade: string;
  /** The appliance's label as it was. */
  readonly facts: ComparedFacts;
  readonly coverageHash: string;
  readonly groupAnswerId: string | null;
}

const columns: readonly BulkColumn[] = [
  { name: "id", type: "text" },
  { name: "organisationId", type: "text" },
  { name: "noticeId", type: "text" },
  { name: "applianceId", type: "text" },
  { name: "verdict", type: "text", enumName: "Verdict" },
  { name: "reason", type: "text" },
  { name: "byUserId", type: "text" },
  { name: "at", type: "timestamp" },
  { name: "noticeHash", type: "text" },
  { name: "grade", type: "text" },
  { name: "facts", type: "json" },
  { name: "coverageHash", type: "text" },
  { name: "groupAnswerId", type: "text" },
];

const idsAtOnce = 500;

/** Stores decisions of one person at one time; earlier ones of the same pairs are kept and marked as replaced. */
export async function insertDecisions(
  tx: Db,
  by: { readonly organisationId: string; readonly userId: string | null; readonly at: Date },
  decisions: readonly NewDecision[],
): Promise<void> {
  if (decisions.length === 0) return;
  const { organisationId, userId, at } = by;
  for (const noticeId of new Set(decisions.map((decision) => decision.noticeId))) {
    const applianceIds = decisions.flatMap((decision) => (decision.noticeId === noticeId ? [decision.applianceId] : []));
    for (let from = 0; from < applianceIds.length; from += idsAtOnce) {
      const applianceId = { in: applianceIds.slice(from, from + idsAtOnce) };
      await tx.decision.updateMany({ where: { organisationId, replacedAt: null, noticeId, applianceId }, data: { replacedAt: at } });
    }
  }
  const row = (decision: NewDecision) => [
    newId(),
    organisationId,
    decision.noticeId,
    decision.applianceId,
    decision.verdict,
    decision.reason,
    userId,
    at,
    decision.noticeHash,
    decision.grade,
    decision.facts,
    decision.coverageHash,
    decision.groupAnswerId,
  ];
  await bulkInsert(tx, { table: "Decision", columns, rows: decisions.map(row) });
}

/** The decisions that stand of some notices, for some appliances or all. */
export async function findStandingDecisions(
  db: Db,
  organisationId: string,
  { noticeIds, applianceIds }: { noticeIds: readonly string[]; applianceIds?: readonly string[] },
) {
  const stand = { organisationId, replacedAt: null, reopenedAt: null };
  const found = [];
  for (const notices of inParts(noticeIds)) {
    const of = { ...stand, noticeId: { in: [...notices] } };
    if (!applianceIds) found.push(...(await db.decision.findMany({ where: of })));
    else
      for (const appliances of inParts(applianceIds))
        found.push(...(await db.decision.findMany({ where: { ...of, applianceId: { in: [...appliances] } } })));
  }
  return found;
}

/** Marks decisions as no longer standing; they are kept. */
export function reopenDecisions(tx: Db, rows: readonly { id: string; why: string }[], at: Date): Promise<number> {
  return bulkUpdate(tx, {
    table: "Decision",
    columns: [
      { name: "id", type: "text" },
      { name: "reopenedAt", type: "timestamp" },
      { name: "reopenedWhy", type: "text" },
    ],
    rows: rows.map(({ id, why }) => [id, at, why]),
  });
}

/** Every decision of a pair, the latest first. */
export function findDecisions(db: Db, organisationId: string, pair: PairKey) {
  return db.decision.findMany({ where: { organisationId, ...pair }, orderBy: [{ at: "desc" }, { id: "desc" }] });
}
