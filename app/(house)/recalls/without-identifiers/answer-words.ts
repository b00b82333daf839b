import type { ShownGroupAnswer } from "@/lib/registry/unidentified-groups";
import { dayWords } from "../_parts/grade-words";

/** A group's answer in one line: what, of how many, by whom, when. */
export function answerWords({ answer, by, at, appliances }: ShownGroupAnswer): string {
  const what = answer === "none" ? "none of these here" : "some to be looked at";
  const of = appliances === 0 ? "" : `, of ${appliances} ${appliances === 1 ? "appliance" : "appliances"}`;
  return `${what}${of}; ${by}, ${dayWords(at)}`;
}
