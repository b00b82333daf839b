import { screeningPolicy } from "@/lib/watch/policy";
import type { ScreeningKind, ScreeningResult } from "@/lib/watch/screening-result";

const { startSeconds, circuitSeconds, voltageSecondsNorthAmerica, holdSeconds, joinSeconds, supplyTripSeconds, driftDays } =
  screeningPolicy;
const daySeconds = 86_400;

/** How long an excess must have been read, without holding the last reading on, before more readings cannot take it back. */
const certainAfterSeconds: Readonly<Record<ScreeningKind, number>> = {
  over_rating: startSeconds,
  lamp_too_strong: startSeconds,
  outlet_overload: startSeconds,
  circuit_overload: circuitSeconds,
  high_voltage: voltageSecondsNorthAmerica,
  low_voltage: voltageSecondsNorthAmerica,
  lost_neutral: 0,
  repeated_trips: 0,
  drift: driftDays * daySeconds,
};

/** How long after its end a result can still be changed by what comes. */
const openForSeconds: Readonly<Record<ScreeningKind, number>> = {
  over_rating: holdSeconds + joinSeconds,
  lamp_too_strong: holdSeconds + joinSeconds,
  outlet_overload: holdSeconds + joinSeconds,
  circuit_overload: holdSeconds + joinSeconds,
  high_voltage: holdSeconds + joinSeconds,
  low_voltage: holdSeconds + joinSeconds,
  lost_neutral: 0,
  repeated_trips: supplyTripSeconds,
  drift: daySeconds,
};

/**
 * Whether a result may open a finding. One at the very end of the readings that rests on holding the last of them, such as a start-up
 * cut off in the middle, waits for the next readings; anything longer is settled at once. `newestMs` is the time of the newest reading.
 */
export function isSettled(result: Pick<ScreeningResult, "kind" | "fromMs" | "toMs" | "value" | "limit">, newestMs: number): boolean {
  const { kind, fromMs, toMs, value, limit } = result;
  if (newestMs - toMs >= openForSeconds[kind] * 1000) return true;
  if (kind === "repeated_trips") return value > limit;
  return Math.min(toMs, newestMs) - fromMs >= certainAfterSeconds[kind] * 1000;
}
