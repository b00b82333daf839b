import type { RemedyStage } from "./step";

/** A person's decision on a pair of notice and appliance, and until when it stood; null is still. */
export interface RemedyDecision {
  readonly verdict: "affected" | "not_affected" | "unsure";
  readonly at: Date;
  readonly until: Date | null;
}

/** The finding of a pair that a person confirmed. */
export interface RemedyFinding {
  readonly isClosed: boolean;
  readonly closedAt: Date | null;
  readonly outcome: string | null;
  readonly stage: RemedyStage | null;
}

/** One appliance that a notice was found to fit. */
export interface RemedyCase {
  readonly noticeId: string;
  readonly siteId: string;
  readonly raisedAt: Date;
  /** In time order. */
  readonly decisions: readonly RemedyDecision[];
  readonly finding: RemedyFinding | null;
}

/**
 * Where a case is: nobody decided; a person could not settle it; confirmed and nothing claimed yet; a claim registered, sent in or received;
 * settled; left as it is with a reason; or found not affected.
 */
export type RemedyPlace = "undecided" | "unsure" | "found" | RemedyStage | "settled" | "accepted" | "not_affected";

/** The outcomes after which the hazard of a confirmed appliance is gone. */
const settling: ReadonlySet<string> = new Set(["repaired", "replaced", "removed", "remedy_received"]);

function verdictAt({ decisions }: RemedyCase, at: Date): RemedyDecision["verdict"] | null {
  return decisions.findLast((decision) => decision.at <= at && (decision.until === null || decision.until > at))?.verdict ?? null;
}

function placeOfConfirmed(finding: RemedyFinding | null, at: Date): RemedyPlace {
  if (finding === null) return "found";
  const { isClosed, closedAt, outcome, stage } = finding;
  if (!isClosed || closedAt === null || closedAt > at) return stage ?? "found";
  if (outcome === "found_not_affected") return "not_affected";
  return settling.has(outcome ?? "") ? "settled" : "accepted";
}

/** Where a case is at an instant; null before it was raised. How far a claim is, is known as of now only. */
export function remedyPlace(one: RemedyCase, at: Date): RemedyPlace | null {
  if (one.raisedAt > at) return null;
  const verdict = verdictAt(one, at);
  if (verdict === null) return "undecided";
  return verdict === "affected" ? placeOfConfirmed(one.finding, at) : verdict;
}

/**
 * How many appliances we have that a notice fits, how many of them a person found to be covered, and how many of those are settled:
 * have = undecided + unsure + found; found = waiting + claims in progress + settled + accepted.
 */
export interface RemedyCounts {
  readonly have: number;
  readonly undecided: number;
  readonly unsure: number;
  readonly found: number;
  /** Found, and nothing is claimed or done yet. */
  readonly waiting: number;
  readonly registered: number;
  readonly sent: number;
  readonly received: number;
  readonly settled: number;
  /** Closed with a reason and a review date, the appliance as it was. */
  readonly accepted: number;
  /** Fitted a notice, and found not affected; not among those we have. */
  readonly notAffected: number;
}

/** Counts cases at an instant. */
export function countRemedies(cases: readonly RemedyCase[], at: Date): RemedyCounts {
  const sums: Record<RemedyPlace, number> = {
    ...{ undecided: 0, unsure: 0, found: 0, registered: 0, sent: 0, received: 0, settled: 0, accepted: 0, not_affected: 0 },
  };
  for (const one of cases) {
    const place = remedyPlace(one, at);
    if (place !== null) sums[place]++;
  }
  const { undecided, unsure, found: waiting, registered, sent, received, settled, accepted } = sums;
  const found = waiting + registered + sent + received + settled + accepted;
  return {
    ...{ undecided, unsure, found, waiting, registered, sent, received, settled, accepted },
    have: undecided + unsure + found,
    notAffected: sums.not_affected,
  };
}

/** Of those we have the share that is settled; null where we have none. */
export function settledShare({ have, settled }: Pick<RemedyCounts, "have" | "settled">): number | null {
  return have === 0 ? null : settled / have;
}

const dayMs = 86_400_000;
const steps = [1, 7, 28, 91, 364].map((days) => days * dayMs);
const mostInstants = 13;

/** Instants from the first case to now, evenly apart, now the last; at most 13, days, weeks, four weeks, quarters or years apart. */
export function effectInstants(from: Date, to: Date): Date[] {
  const span = Math.max(0, to.getTime() - from.getTime());
  const step = steps.find((size) => span / size <= mostInstants - 2) ?? Math.ceil(span / (mostInstants - 2) / dayMs) * dayMs;
  const count = Math.ceil(span / step) + 1;
  return Array.from({ length: count }, (_, at) => new Date(to.getTime() - (count - 1 - at) * step));
}
