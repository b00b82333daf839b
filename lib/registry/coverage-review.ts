import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { type CorrectionEffect, effectOf } from "@/lib/notices/correction";
import { type Statement, statementKey, statementsOf } from "@/lib/notices/statement";
import type { Db } from "@/lib/store/client";
import { findCorrections, type StoredCorrection } from "@/lib/store/coverage-correction-queries";
import { findNotice } from "@/lib/store/notice-queries";
import { findPersonNames } from "@/lib/store/place-name-queries";

/** A correction as pages show it: who, when, why, and what it does under the present reading. */
export interface ShownCorrection extends Pick<StoredCorrection, "id" | "correction" | "reason" | "at" | "withdrawnAt" | "withdrawnWhy"> {
  readonly by: string;
  readonly withdrawnBy: string | null;
  readonly effect: CorrectionEffect;
  /** The notice was amended after it was made. */
  readonly isOfOlderWords: boolean;
}

/** A statement of the present coverage, and the correction that added it. */
export interface CoveredStatement {
  readonly statement: Statement;
  readonly key: string;
  readonly added: ShownCorrection | null;
}

export interface CoverageReview {
  readonly statements: readonly CoveredStatement[];
  /** Those that stand, the oldest first. */
  readonly corrections: readonly ShownCorrection[];
  readonly withdrawn: readonly ShownCorrection[];
}

const unknown = "someone who left";

/** What a notice is taken to cover, statement by statement, with people's corrections. Permission: `see recalls`. */
export async function findCoverageReview(db: Db, actor: Actor, { noticeId }: { readonly noticeId: string }): Promise<CoverageReview> {
  requirePermission(actor, "see recalls");
  const { organisationId } = actor;
  const notice = await findNotice(db, organisationId, noticeId);
  if (!notice) throw new Trouble("not_found", "There is no such notice; go back to the list of recalls.");
  const rows = await findCorrections(db, organisationId, noticeId, { withdrawn: true });
  const names = await findPersonNames(
    db,
    rows.flatMap(({ byUserId, withdrawnByUserId }) => [byUserId, withdrawnByUserId]),
  );
  const nameOf = (id: string | null) => (id === null ? "the command line" : (names.get(id) ?? unknown));
  const shown = rows.map(
    ({ byUserId, withdrawnByUserId, noticeHash, ...row }): ShownCorrection => ({
      ...row,
      by: nameOf(byUserId),
      withdrawnBy: row.withdrawnAt === null ? null : nameOf(withdrawnByUserId),
      effect: effectOf(notice.body, notice.reading, row.correction),
      isOfOlderWords: noticeHash !== notice.contentHash,
    }),
  );
  const corrections = shown.filter(({ withdrawnAt }) => withdrawnAt === null);
  const addedBy = new Map(
    corrections.flatMap((one) =>
      one.correction.act === "add" && one.effect === "in force" ? [[statementKey(one.correction.statement), one] as const] : [],
    ),
  );
  const statements = statementsOf(notice.coverage).map((statement) => {
    const key = statementKey(statement);
    return { statement, key, added: addedBy.get(key) ?? null };
  });
  return { statements, corrections, withdrawn: shown.filter(({ withdrawnAt }) => withdrawnAt !== null) };
}
