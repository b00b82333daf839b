import type { Candidate } from "@/lib/matching/candidate";
import type { CandidateWrite, StoredCandidate } from "@/lib/store/candidate-queries";
import { canonicalJson } from "@/lib/store/record";
import { type Standing, workRank } from "./decision-standing";

const sureLevels = new Set(["model.exact", "model.confusable", "model.pattern", "model.pattern_confusable"]);
const rulingFields = new Set(["exclusion", "serial", "dateCode", "made"]);

/** A pair worth keeping: a candidate, or one whose listed model is ruled out by an exclusion or a window, so that a person can see why. */
export function isKept({ grade, reasons }: Candidate): boolean {
  if (grade !== "not_covered") return true;
  return (
    reasons.some(({ field, level }) => field === "model" && sureLevels.has(level)) &&
    reasons.some(({ field, level }) => field === "brand" && level !== "brand.other") &&
    reasons.some(({ field, weight }) => rulingFields.has(field) && weight < 0)
  );
}

/** What stays of a decided pair that the comparison no longer raises. */
function noLongerRaised({ noticeId, applianceId }: StoredCandidate): Candidate {
  const sentence = "What is known of the appliance no longer fits the notice.";
  const reason = { field: "model", level: "model.different", weight: 0, onAppliance: null, inNotice: null, sentence } as const;
  return { applianceId, noticeKey: noticeId, grade: "not_covered", score: 0, reasons: [reason], ask: null };
}

function signature(candidate: Pick<Candidate, "grade" | "score" | "reasons" | "ask">, noticeHash: string): string {
  const { grade, score, reasons, ask } = candidate;
  return canonicalJson({ grade, score, reasons, ask, noticeHash });
}

export interface CandidateChanges {
  readonly writes: CandidateWrite[];
  readonly deletions: string[];
  unchanged: number;
}

/** What must be written so that the stored candidates of some appliances are the raised ones. `hashes` gives the notices' wordings. */
export function candidateChanges(
  raised: readonly Candidate[],
  stored: readonly StoredCandidate[],
  hashes: ReadonlyMap<string, string>,
): CandidateChanges {
  const result: CandidateChanges = { writes: [], deletions: [], unchanged: 0 };
  const left = new Map(stored.map((old) => [`${old.noticeId} ${old.applianceId}`, old]));
  const consider = (candidate: Candidate, old: StoredCandidate | undefined) => {
    const noticeHash = hashes.get(candidate.noticeKey) ?? "";
    if (old && signature(old, old.noticeHash) === signature(candidate, noticeHash)) {
      result.unchanged++;
      return;
    }
    const standing = (old?.standing ?? "undecided") as Standing;
    result.writes.push({ id: old?.id ?? null, candidate, noticeHash, standing, rank: workRank(standing, candidate.grade) });
  };
  for (const candidate of raised) {
    const pair = `${candidate.noticeKey} ${candidate.applianceId}`;
    consider(candidate, left.get(pair));
    left.delete(pair);
  }
  for (const old of left.values()) {
    if (old.standing === "undecided") result.deletions.push(old.id);
    else consider(noLongerRaised(old), old);
  }
  return result;
}
