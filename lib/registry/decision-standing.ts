import { type Grade, gradeWords } from "@/lib/matching/candidate";

/** Where its latest decision leaves a candidate; `reopened` is a decision that no longer stands. */
export type Standing = "undecided" | "reopened" | "unsure" | "affected" | "not_affected";
export type Verdict = "affected" | "not_affected" | "unsure";

/** Decisions as people read them. */
export const verdictWords: Readonly<Record<Verdict, string>> = { affected: "affected", not_affected: "not affected", unsure: "unsure" };

/** The words of a decision as it is stored. */
export const verdictInWords = (verdict: string): string => verdictWords[verdict as Verdict] ?? verdict;

export const verdicts: readonly Verdict[] = ["affected", "not_affected", "unsure"];
export const openStandings: readonly Standing[] = ["undecided", "reopened"];

const gradeOrder: Readonly<Record<Grade, number>> = { covered: 0, likely: 1, check_label: 2, not_covered: 3 };
const standingOrder: Readonly<Record<Standing, number>> = { undecided: 0, reopened: 0, unsure: 1, affected: 2, not_affected: 3 };
const nothingToDo = 20;

/** The order of the work: open ones by grade, then the unsure, then the decided; what is ruled out and never was decided comes last. */
export function workRank(standing: Standing, grade: Grade): number {
  if (standing === "undecided" && grade === "not_covered") return nothingToDo;
  return standingOrder[standing] * 4 + gradeOrder[grade];
}

/** Grades under which a verdict still says the same as the comparison. */
const agreeing: Readonly<Record<Verdict, readonly Grade[]>> = {
  affected: ["covered", "likely"],
  not_affected: ["not_covered"],
  unsure: ["check_label"],
};

/** Why a decision no longer stands after a new comparison, or null where it does. */
export function reopeningReason(decision: { readonly verdict: Verdict; readonly grade: Grade }, grade: Grade): string | null {
  if (grade === decision.grade || agreeing[decision.verdict].includes(grade)) return null;
  return `When it was decided the comparison said “${gradeWords[decision.grade]}”; it now says “${gradeWords[grade]}”.`;
}
