import { type ComparedFacts, comparedFacts, type FactChange, factChanges } from "@/lib/identity/facts-change";
import type { Grade } from "@/lib/matching/candidate";
import type { Coverage } from "@/lib/notices/coverage";
import type { Notice } from "@/lib/notices/notice";
import { type Statement, statementKey, statementsOf } from "@/lib/notices/statement";
import { type WordingChange, wordingChanges } from "@/lib/notices/wording-diff";
import type { ListedCandidate } from "@/lib/store/candidate-list-queries";
import type { Db } from "@/lib/store/client";
import { findCoverageVersion } from "@/lib/store/coverage-correction-queries";
import type { findDecisions } from "@/lib/store/decision-queries";
import { findWordings } from "@/lib/store/notice-queries";

/** What is otherwise than it was when a pair was decided on. */
export interface SinceDecision {
  readonly facts: readonly FactChange[];
  readonly wording: readonly WordingChange[];
  readonly coverage: { readonly added: readonly Statement[]; readonly removed: readonly Statement[] };
  readonly grade: { readonly before: Grade; readonly after: Grade };
  /** False where the decision is older than this keeping, so that label and coverage cannot be told. */
  readonly isKnown: boolean;
}

type Decision = Awaited<ReturnType<typeof findDecisions>>[number];

interface Present {
  readonly candidate: ListedCandidate;
  readonly notice: { readonly body: Notice; readonly coverage: Coverage; readonly contentHash: string; readonly coverageHash: string };
}

function coverageChanges(before: Coverage, after: Coverage): SinceDecision["coverage"] {
  const keys = (coverage: Coverage) => new Set(statementsOf(coverage).map(statementKey));
  const [was, is] = [keys(before), keys(after)];
  return {
    added: statementsOf(after).filter((statement) => !was.has(statementKey(statement))),
    removed: statementsOf(before).filter((statement) => !is.has(statementKey(statement))),
  };
}

async function coverageThen(db: Db, decision: Decision, { notice }: Present): Promise<Coverage | null> {
  if (decision.coverageHash === notice.coverageHash) return notice.coverage;
  return decision.coverageHash === null ? null : findCoverageVersion(db, decision.noticeId, decision.coverageHash);
}

async function wordsThen(db: Db, decision: Decision, { notice }: Present): Promise<Notice | null> {
  if (decision.noticeHash === notice.contentHash) return notice.body;
  const wordings = await findWordings(db, decision.noticeId);
  return wordings.find(({ contentHash }) => contentHash === decision.noticeHash)?.body ?? null;
}

/** What changed of label, words, coverage and grade since a decision; null where all of it is as it was. */
export async function changesSince(db: Db, decision: Decision, present: Present): Promise<SinceDecision | null> {
  const { candidate, notice } = present;
  const [coverage, words] = await Promise.all([coverageThen(db, decision, present), wordsThen(db, decision, present)]);
  const since: SinceDecision = {
    facts: decision.facts === null ? [] : factChanges(decision.facts as unknown as ComparedFacts, comparedFacts(candidate.appliance)),
    wording: words === null ? [] : wordingChanges(words, notice.body),
    coverage: coverage === null ? { added: [], removed: [] } : coverageChanges(coverage, notice.coverage),
    grade: { before: decision.grade as Grade, after: candidate.grade as Grade },
    isKnown: decision.facts !== null && coverage !== null,
  };
  const { facts, wording, coverage: covered, grade } = since;
  const isSame = facts.length + wording.length + covered.added.length + covered.removed.length === 0 && grade.before === grade.after;
  return isSame ? null : since;
}
