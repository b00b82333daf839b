/** One outlet of a site's plan, as the places file gives it. `null` is unknown. */
export interface PlannedOutlet {
  readonly site: string;
  /** IANA zone of the site; a log time without an offset is read in it. */
  readonly timeZone: string | null;
  readonly unit: string | null;
  readonly circuit: string | null;
  readonly deviceAmps: number | null;
  /** Nominal volts of the circuit. */
  readonly volts: number | null;
  readonly leg: string | null;
  /** Unique within an organisation. */
  readonly outlet: string;
  readonly outletAmps: number | null;
  readonly receptacles: number;
}

/** Name of an outlet's leg, however it is written; empty where none is known. */
export function legName(plan: PlannedOutlet): string {
  return plan.leg?.trim().toUpperCase() ?? "";
}
