import type { SignalWord } from "@/lib/watch/screening-result";
import type { FindingCause } from "./cause";
import { signalWords } from "./signal-word";
import type { CaseFacts, Step } from "./step";

/** What a person can do today, which is how the day's work is grouped. */
export type TodayGroup = "take_out_of_use" | "call_electrician" | "read_label" | "decide" | "bring_proof";

interface GroupWords {
  readonly head: string;
  /** What counts as done, or what not to do. */
  readonly note: string;
}

/** The groups in the order in which they stand when no danger decides. */
export const todayGroups: Readonly<Record<TodayGroup, GroupWords>> = {
  take_out_of_use: {
    head: "Take out of use",
    note: "Go there or phone the occupant. It is done when the plug was seen pulled, and you wrote down who saw it.",
  },
  call_electrician: {
    head: "Call a licensed electrician",
    note: "Do not reset a breaker again and again, and never fit a larger one. Local codes and the authority having jurisdiction come first.",
  },
  read_label: { head: "Read the label", note: "One fact on the plate settles each of these." },
  decide: { head: "Decide", note: "Somebody has to say what is to be done with these." },
  bring_proof: {
    head: "Bring the proof",
    note: "Closed only with evidence: a photograph of the cut plug, a receipt, a reading. A danger is closed by a second person.",
  },
};

export const todayGroupNames = Object.keys(todayGroups) as readonly TodayGroup[];

const wiring: readonly FindingCause[] = ["outlet_overload", "circuit_overload", "lost_neutral", "high_voltage", "low_voltage"];

/** Where a finding that is not closed stands among the day's work. */
export function groupOf(facts: CaseFacts): TodayGroup {
  if (facts.state !== "open") return "bring_proof";
  if (facts.cause === "use_limit") return "decide";
  if (wiring.includes(facts.cause) || (!facts.hasAppliance && facts.cause !== "by hand")) return "call_electrician";
  return facts.hasAppliance && (facts.signalWord === "DANGER" || facts.signalWord === "WARNING") ? "take_out_of_use" : "decide";
}

/** The one step that a row of the group offers first. */
export const firstStep: Readonly<Record<Exclude<TodayGroup, "read_label">, Step>> = {
  take_out_of_use: "take_out_of_use",
  call_electrician: "call_electrician",
  decide: "close",
  bring_proof: "record_proof",
};

/** What a day's order looks at. */
export interface Ranked {
  readonly signalWord: SignalWord;
  readonly since: Date;
}

/** Strongest word first, of one word the oldest. */
export function byDanger(a: Ranked, b: Ranked): number {
  return signalWords.indexOf(a.signalWord) - signalWords.indexOf(b.signalWord) || a.since.getTime() - b.since.getTime();
}

/** The groups that have something to do, the one with the oldest danger first; without dangers in the order of the table. */
export function orderGroups<Row extends Ranked>(rows: ReadonlyMap<TodayGroup, readonly Row[]>): [TodayGroup, Row[]][] {
  const oldest = (group: readonly Row[]) =>
    group.reduce((least, row) => (row.signalWord === "DANGER" ? Math.min(least, row.since.getTime()) : least), Number.POSITIVE_INFINITY);
  return todayGroupNames
    .flatMap((name): [TodayGroup, Row[]][] => {
      const group = rows.get(name) ?? [];
      return group.length === 0 ? [] : [[name, [...group].sort(byDanger)]];
    })
    .sort(([, a], [, b]) => {
      const [left, right] = [oldest(a), oldest(b)];
      return left === right ? 0 : left - right;
    });
}
