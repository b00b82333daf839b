import { noEdition, type RuleSource, unnamedEdition } from "./rule-source";

/** The instantaneous band of an overcurrent device, in multiples of its rating: below `holds` it does not trip at once, from `trips` on it does. */
export interface InstantBand {
  readonly name: string;
  readonly holds: number;
  /** Null where no standard fixes it. */
  readonly trips: number | null;
  readonly source: RuleSource;
}

const iec = (name: string, holds: number, trips: number): InstantBand => ({
  name,
  holds,
  trips,
  source: {
    standard: "IEC 60898-1",
    edition: unnamedEdition,
    clause: `time-current tests d and e, type ${name}: no trip within 0.1 s, trip within 0.1 s`,
    confirmed: true,
  },
});

/** Bands by type. UL 489 fixes no lower edge; five times the rating is common practice, no source. */
export const instantBands = {
  B: iec("B", 3, 5),
  C: iec("C", 5, 10),
  D: iec("D", 10, 20),
  "UL 489": {
    name: "UL 489",
    holds: 5,
    trips: null,
    source: {
      standard: "common practice, no source",
      edition: noEdition,
      clause: "lower edge of a moulded-case breaker's magnetic trip",
      confirmed: false,
    },
  },
} as const satisfies Readonly<Record<string, InstantBand>>;

export type InstantBandName = keyof typeof instantBands;
