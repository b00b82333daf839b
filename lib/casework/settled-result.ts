import { type ScreeningPolicy, screeningPolicy } from "@/lib/watch/policy";
import type { ScreeningKind, ScreeningResult } from "@/lib/watch/screening-result";

const daySeconds = 86_400;

/** How long an excess must have been read, without holding the last reading on, before more readings cannot take it back. */
function certainAfterSeconds(kind: ScreeningKind, policy: ScreeningPolicy): number {
  const table: Readonly<Record<ScreeningKind, number>> = {
    over_rating: policy.startSeconds,
    lamp_too_strong: policy.startSeconds,
    outlet_overload: policy.startSeconds,
    circuit_overload: policy.circuitSeconds,
    high_voltage: policy.voltageSecondsNorthAmerica,
    low_voltage: policy.voltageSecondsNorthAmerica,
    lost_neutral: 0,
    repeated_trips: 0,
    drift: policy.driftDays * daySeconds,
  };
  return table[kind];
}

/** How long after its end a result can still be changed by what comes. */
function openForSeconds(kind: ScreeningKind, policy: ScreeningPolicy): number {
  if (kind === "lost_neutral") return 0;
  if (kind === "repeated_trips") return policy.supplyTripSeconds;
  return kind === "drift" ? daySeconds : policy.holdSeconds + policy.joinSeconds;
}

/**
 * Whether a result may open a finding. One at the very end of the readings that rests on holding the last of them, such as a start-up
 * cut off in the middle, waits for the next readings; anything longer is settled at once. `newestMs` is the time of the newest reading,
 * `policy` that of the site.
 */
export function isSettled(
  result: Pick<ScreeningResult, "kind" | "fromMs" | "toMs" | "value" | "limit">,
  newestMs: number,
  policy: ScreeningPolicy = screeningPolicy,
): boolean {
  const { kind, fromMs, toMs, value, limit } = result;
  if (newestMs - toMs >= openForSeconds(kind, policy) * 1000) return true;
  if (kind === "repeated_trips") return value > limit;
  return Math.min(toMs, newestMs) - fromMs >= certainAfterSeconds(kind, policy) * 1000;
}
