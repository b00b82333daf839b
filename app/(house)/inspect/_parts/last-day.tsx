import { holdsOn } from "@/lib/casework/inspection-papers";
import { dueDay } from "./due-day";

/** The last day of a paper, marked when it is over. `none` is said where there is no date. */
export function LastDay({ at, none, now }: { at: Date | null; none: string; now: Date }) {
  if (at === null) return none;
  if (holdsOn(at, now)) return dueDay(at);
  return <b className="over">{dueDay(at)}, expired</b>;
}
