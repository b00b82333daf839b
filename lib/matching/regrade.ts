import type { ApplianceFacts } from "@/lib/identity/appliance-facts";
import { readAppliance } from "./appliance-reading";
import type { Ask, Candidate } from "./candidate";
import { comparePair } from "./cross-check";
import type { RecallIndex } from "./recall-index";

/** A fact read off the appliance in answer to a settling question. */
export interface GivenAnswer {
  readonly field: Ask["field"];
  readonly value: string;
  /** An occupant's answer may raise a grade, never clear a pair; a person of the staff may do both. */
  readonly by: "staff" | "occupant";
}

const factOf: Readonly<Record<Ask["field"], keyof ApplianceFacts>> = {
  brand: "brand",
  model: "model",
  serial: "serial",
  dateCode: "dateCode",
  made: "made",
  product: "category",
  upc: "upc",
};

const gradeRank = { not_covered: 0, check_label: 1, likely: 2, covered: 3 } as const;

/** The appliance's facts with the answer in place of what was known of that field. */
function withAnswer(facts: ApplianceFacts, { field, value }: GivenAnswer): ApplianceFacts {
  const answered = value.trim();
  return answered === "" ? facts : { ...facts, [factOf[field]]: answered };
}

/**
 * Grades one pair again with an answer, by the same rules as the cross-check. `null` when the list no longer has the notice.
 * An occupant's answer that would lower the grade leaves the pair as it stood.
 */
export function regradeWithAnswer(
  index: RecallIndex,
  pair: { readonly appliance: ApplianceFacts; readonly noticeKey: string },
  answer: GivenAnswer,
): Candidate | null {
  const notice = index.notices.find(({ key }) => key === pair.noticeKey);
  if (!notice) return null;
  const before = comparePair(index, readAppliance(pair.appliance), notice);
  const after = comparePair(index, readAppliance(withAnswer(pair.appliance, answer)), notice);
  return answer.by === "occupant" && gradeRank[after.grade] < gradeRank[before.grade] ? before : after;
}
