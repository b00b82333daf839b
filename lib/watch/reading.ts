/** Events of an outlet log. */
export type OutletEvent = "trip" | "restore" | "off" | "on" | "plugged" | "unplugged";

/** One row of an outlet log: a reading (`event` null) or an event. Units in names; null means not measured. */
export interface Reading {
  /** Milliseconds since the epoch, UTC. */
  readonly atMs: number;
  readonly outlet: string;
  /** Canonical receptacle: a name in lower case, or a 1-based number as text; `upper` is `1`, `lower` is `2`. Null when the row names none. */
  readonly receptacle: string | null;
  readonly tag: string | null;
  readonly watts: number | null;
  readonly amps: number | null;
  readonly volts: number | null;
  readonly powerFactor: number | null;
  readonly event: OutletEvent | null;
  /** Free text of the log. */
  readonly cause: string | null;
}
