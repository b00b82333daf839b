/** How sure the comparison is. `not_covered` names the fact that rules the pair out. */
export type Grade = "covered" | "likely" | "check_label" | "not_covered";

/** Grades as people read them. */
export const gradeWords: Readonly<Record<Grade, string>> = {
  covered: "covered",
  likely: "likely",
  check_label: "check the label",
  not_covered: "not covered",
};

/** The words of a grade as it is stored. */
export const gradeInWords = (grade: string): string => gradeWords[grade as Grade] ?? grade;

/** The fields a comparison looks at. */
export type ComparedField = "brand" | "model" | "product" | "serial" | "dateCode" | "made" | "upc" | "exclusion";

/** One printed reason. A candidate's score is the sum of its reasons' weights. */
export interface Reason {
  readonly field: ComparedField;
  /** The named level of agreement, a key of the settings table, such as `model.exact`. */
  readonly level: string;
  /** Natural-log-free evidence in bits (log2 likelihood ratio); 0 when the field says nothing. */
  readonly weight: number;
  /** What the appliance says, `null` when not read. */
  readonly onAppliance: string | null;
  /** What the notice says, `null` when it says nothing. */
  readonly inNotice: string | null;
  /** One plain sentence. */
  readonly sentence: string;
}

/** One answer to the settling question and the grade it would lead to. */
export interface Answer {
  readonly label: string;
  readonly leadsTo: Grade;
}

/** The one fact that would settle it. */
export interface Ask {
  readonly field: "brand" | "model" | "serial" | "dateCode" | "made" | "product" | "upc";
  readonly question: string;
  /** Where the notice says the fact is printed, in its own words; null when it does not say. */
  readonly where: string | null;
  readonly answers: readonly Answer[];
}

/** An appliance that a notice may cover. */
export interface Candidate {
  readonly applianceId: string;
  readonly noticeKey: string;
  readonly grade: Grade;
  readonly score: number;
  readonly reasons: readonly Reason[];
  readonly ask: Ask | null;
}
