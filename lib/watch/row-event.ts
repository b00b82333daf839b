import type { OutletEvent } from "./reading";
import { type TripCause, tripCauseOf } from "./trip";

const events: readonly OutletEvent[] = ["trip", "restore", "off", "on", "plugged", "unplugged"];
const causes: readonly TripCause[] = ["unknown", "fault", "commanded", "supply"];

/** An event and what its cause says, as one small number; 0 for a reading without an event. */
export function eventNumber(event: OutletEvent | null, cause: string | null): number {
  if (event === null) return 0;
  return 1 + events.indexOf(event) + (event === "trip" ? events.length * causes.indexOf(tripCauseOf(cause)) : 0);
}

/** The event of a number; null for a reading. */
export function eventOf(number: number): OutletEvent | null {
  return number === 0 ? null : events[(number - 1) % events.length]!;
}

/** What the cause of a trip's number says. */
export function causeOf(number: number): TripCause {
  return causes[Math.floor((number - 1) / events.length)] ?? "unknown";
}

/** Whether the event ends what was drawn. */
export function endsDraw(number: number): boolean {
  const event = eventOf(number);
  return event === "trip" || event === "off" || event === "unplugged";
}
