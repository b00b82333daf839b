/** One measured or read fact, as it is printed: `Seen`, `1742 W`. */
export interface EvidenceFigure {
  readonly name: string;
  readonly value: string;
}

/** What was seen against what is allowed, for the bar. */
export interface SeenAgainstLimit {
  readonly value: number;
  readonly limit: number;
  readonly unit: "W" | "A" | "V" | "trips" | "ratio";
}

/** What a finding rests on; kept with it as JSON. Times are ISO 8601 in UTC. */
export interface FindingEvidence {
  readonly figures: readonly EvidenceFigure[];
  /** One plain sentence each. */
  readonly reasons: readonly string[];
  readonly seen?: SeenAgainstLimit;
  readonly fromAt?: string;
  readonly toAt?: string;
}

/** Reads stored evidence; what is not there is empty. */
export function readEvidence(stored: unknown): FindingEvidence {
  const evidence = (stored ?? {}) as Partial<FindingEvidence>;
  return { ...evidence, figures: evidence.figures ?? [], reasons: evidence.reasons ?? [] };
}
