import type { ReconnectionPlan } from "./reconnection";
import { type AmpsStretch, sumOverTime } from "./reconnection-curve";

/** A circuit of the service with its plan. */
export interface ServiceCircuit {
  /** `1` or `2` as the places say; null where they do not. */
  readonly leg: string | null;
  /** Its voltage is that between the two legs, so it draws from both. */
  readonly isAcross: boolean;
  readonly plan: Pick<ReconnectionPlan, "steps" | "endSeconds" | "runningAmps">;
}

/** What the circuits of one leg draw together. Amperes. */
export interface LegSum {
  /** Null for the circuits whose leg is not known. */
  readonly leg: string | null;
  readonly circuits: number;
  readonly runningAmps: number;
  /** Highest when every circuit's plan begins at the same moment, and when each begins after the one before has ended. */
  readonly atOncePeak: number;
  readonly inTurnPeak: number;
}

/** How a leg stands against the rating of the service's device. */
export type LegVerdict = "too much" | "in turn" | "continuous" | "fits";

const highest = (stretches: readonly AmpsStretch[]) => stretches.reduce((most, { amps }) => Math.max(most, amps), 0);

function peaksOf(circuits: readonly ServiceCircuit[]): Pick<LegSum, "atOncePeak" | "inTurnPeak"> {
  const end = circuits.reduce((most, { plan }) => Math.max(most, plan.endSeconds), 0);
  const all = circuits.flatMap(({ plan }) => plan.steps);
  let [before, inTurnPeak] = [0, 0];
  for (const { plan } of circuits) {
    inTurnPeak = Math.max(inTurnPeak, before + highest(sumOverTime(plan.steps, plan.endSeconds)));
    before += plan.runningAmps;
  }
  return { atOncePeak: highest(sumOverTime(all, end)), inTurnPeak };
}

/** The sums of each leg of a split-phase service; a circuit across the legs counts on both, one whose leg is not known by itself. */
export function sumLegs(circuits: readonly ServiceCircuit[]): LegSum[] {
  const busy = circuits.filter(({ plan }) => plan.steps.length > 0);
  const legs = [...new Set(busy.flatMap(({ leg, isAcross }) => (isAcross ? [] : [leg])))];
  const named = legs.filter((leg) => leg !== null).sort();
  const known = named.length === 0 && busy.some(({ isAcross }) => isAcross) ? ["1", "2"] : named;
  return [...known, ...(legs.includes(null) ? [null] : [])].map((leg) => {
    const own = busy.filter((circuit) => (circuit.isAcross ? leg !== null : circuit.leg === leg));
    return { leg, circuits: own.length, runningAmps: own.reduce((sum, { plan }) => sum + plan.runningAmps, 0), ...peaksOf(own) };
  });
}

/**
 * Whether a leg's sum fits the service's device: too much runs together; the starts fit only one circuit after the other; more than the
 * continuous share runs, too much for three hours; or it fits. `continuousShare` is the site's, NEC 210.20(A) unless stated.
 */
export function legVerdict(sum: LegSum, serviceAmps: number, continuousShare: number): LegVerdict {
  if (sum.runningAmps > serviceAmps) return "too much";
  if (sum.runningAmps > continuousShare * serviceAmps) return "continuous";
  return sum.atOncePeak > serviceAmps ? "in turn" : "fits";
}
