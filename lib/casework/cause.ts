import type { ScreeningKind } from "@/lib/watch/screening-result";

/** What a finding comes from: a kind of screening result, a confirmed recall match, a use limit, readings of what is out of use, or a person who saw something. */
export type FindingCause = ScreeningKind | "recall" | "use_limit" | "drawing_out_of_use" | "by hand";

/** What a finding is about. Wiring faults are not an appliance's. */
export type FindingThing = "appliance" | "outlet" | "circuit" | "site";

/** Causes in the order a list offers them, with the words a page uses. */
export const causeWords: Readonly<Record<FindingCause, string>> = {
  recall: "Recalled",
  over_rating: "Above its rating",
  repeated_trips: "Repeated trips",
  outlet_overload: "Outlet overloaded",
  circuit_overload: "Circuit overloaded",
  lost_neutral: "Signature of a lost neutral",
  high_voltage: "High voltage",
  low_voltage: "Low voltage",
  lamp_too_strong: "Lamp too strong for its fixture",
  drift: "Drifting from its own past",
  use_limit: "Above a use limit",
  drawing_out_of_use: "Used while out of use",
  "by hand": "Reported by a person",
};

export const findingCauses = Object.keys(causeWords) as readonly FindingCause[];

/** Narrows stored text to a cause. */
export function isFindingCause(text: string): text is FindingCause {
  return Object.hasOwn(causeWords, text);
}

/** The one key of a cause and the thing it concerns; a recall's thing is the notice and the appliance together. */
export function findingKey(cause: FindingCause, thing: FindingThing, thingId: string, noticeId?: string): string {
  return [cause, ...(noticeId === undefined ? [] : [noticeId]), thing, thingId].join(":");
}
