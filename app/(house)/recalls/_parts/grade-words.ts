import type { Grade } from "@/lib/matching/candidate";
import type { Standing } from "@/lib/registry/decision-standing";

/** What a grade says, in one sentence. */
export const gradeSentences: Readonly<Record<Grade, string>> = {
  covered: "All that the notice asks for agrees with what is known of the appliance.",
  likely: "What is known fits, but not all of it names the product beyond doubt.",
  check_label: "Everything that is known fits; one fact, not yet read, would settle it.",
  not_covered: "A fact rules it out.",
};

export const standingWords: Readonly<Record<Standing, string>> = {
  undecided: "undecided",
  reopened: "decide again",
  unsure: "unsure",
  affected: "affected",
  not_affected: "not affected",
};

/** A day as a person writes it, in UTC, as the lists are dated. */
export function dayWords(at: Date | string): string {
  const day = typeof at === "string" ? new Date(`${at}T00:00:00Z`) : at;
  return day.toLocaleDateString("en-GB", { day: "numeric", month: "short", year: "numeric", timeZone: "UTC" });
}
