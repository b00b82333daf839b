import type { ApplianceFacts } from "@/lib/identity/appliance-facts";
import type { Grade } from "./candidate";
import { gradeAppliance } from "./cross-check";
import type { RecallIndex } from "./recall-index";

const gradeRank: Readonly<Record<Grade, number>> = { not_covered: 0, check_label: 1, likely: 2, covered: 3 };

function gradesOf(index: RecallIndex, facts: ApplianceFacts): Map<string, Grade> {
  const grades = new Map<string, Grade>();
  gradeAppliance(index, facts, { ruledOut: true }, (noticeKey, grade) => grades.set(noticeKey, grade));
  return grades;
}

/** The notices against which an appliance would be graded lower with other facts than with those it has: what an occupant's word must not do. */
export function loweredPairs(index: RecallIndex, before: ApplianceFacts, after: ApplianceFacts): string[] {
  const later = gradesOf(index, after);
  return [...gradesOf(index, before)].flatMap(([noticeKey, grade]) =>
    gradeRank[later.get(noticeKey) ?? "not_covered"] < gradeRank[grade] ? [noticeKey] : [],
  );
}
