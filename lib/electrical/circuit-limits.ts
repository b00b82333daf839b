import { type RuleSource, unnamedEdition } from "./rule-source";

const nec = (clause: string, confirmed: boolean, edition: string = unnamedEdition): RuleSource => ({
  standard: "NEC (NFPA 70)",
  edition,
  clause,
  confirmed,
});

/** Most amperes that one cord-and-plug load may take at one receptacle of a circuit with two or more (NEC Table 210.21(B)(2)). */
export interface ReceptacleLoad {
  readonly circuitAmps: readonly number[];
  readonly receptacleAmps: number;
  readonly maxLoadAmps: number;
}

/** The rows of NEC Table 210.21(B)(2); see `receptacleLoadSource`. */
export const receptacleLoads: readonly ReceptacleLoad[] = [
  { circuitAmps: [15, 20], receptacleAmps: 15, maxLoadAmps: 12 },
  { circuitAmps: [20], receptacleAmps: 20, maxLoadAmps: 16 },
  { circuitAmps: [30], receptacleAmps: 30, maxLoadAmps: 24 },
];
export const receptacleLoadSource = nec("Table 210.21(B)(2)", true, "2023 edition");

/** Receptacle ratings that a circuit may have (NEC Table 210.21(B)(3)); `confirmed` per row. */
export const receptacleRatings: readonly {
  readonly circuitAmps: number;
  readonly receptacleAmps: readonly number[];
  readonly source: RuleSource;
}[] = [
  { circuitAmps: 15, receptacleAmps: [15], source: nec("Table 210.21(B)(3)", false) },
  { circuitAmps: 20, receptacleAmps: [15, 20], source: nec("Table 210.21(B)(3)", true, "2023 edition") },
  { circuitAmps: 30, receptacleAmps: [30], source: nec("Table 210.21(B)(3)", false) },
  { circuitAmps: 40, receptacleAmps: [40, 50], source: nec("Table 210.21(B)(3)", true, "2023 edition") },
  { circuitAmps: 50, receptacleAmps: [50], source: nec("Table 210.21(B)(3)", false) },
];

/** The most one cord-and-plug load may take at a receptacle of a circuit, amperes; null where the table has no row. */
export function maxReceptacleLoad(circuitAmps: number, receptacleAmps: number): number | null {
  const row = receptacleLoads.find(
    (candidate) => candidate.receptacleAmps === receptacleAmps && candidate.circuitAmps.includes(circuitAmps),
  );
  return row?.maxLoadAmps ?? null;
}

/** Share of a standard device that a continuous load may take, and how long "continuous" is (seconds). */
export const continuousLoad = {
  share: 0.8,
  seconds: 10_800,
  sources: [nec("Article 100, continuous load", true), nec("210.19(A)(1), 210.20(A)", true)],
} as const;

/** The device rating that a continuous load asks for at least: 125 % of it (NEC 210.20(A)). Amperes. */
export function deviceForContinuous(amps: number): number {
  return Math.round(amps * 1.25 * 1e6) / 1e6;
}

/** Share of a circuit that one item not fastened in place, and all fastened in place together, may take (NEC 210.23(A); 2023: 210.23(B)). */
export const circuitShares = {
  oneItem: 0.8,
  fastenedInPlace: 0.5,
  source: nec("210.23(A)(1) and (2); in the 2023 edition 210.23(B)(1) and (2)", true, "2014 edition"),
} as const;

/** Amperes of cords with two current-carrying conductors by AWG size (NEC Table 400.5(A), column B). */
export const cordAmps: Readonly<Record<number, number>> = { 18: 10, 17: 12, 16: 13, 14: 18, 12: 25 };
export const cordSource = nec("Table 400.5(A), column B", true);

/** Highest overcurrent device of copper conductors by AWG size, amperes (NEC 240.4(D), from memory; CEC 14-104(2) has the same). */
export const conductorCaps: Readonly<Record<number, number>> = { 14: 15, 12: 20, 10: 30 };
export const conductorCapSource = nec("240.4(D)", false);

/** Amperes of copper conductors by AWG size at 60, 75 and 90 C (NEC Table 310.16, from memory). */
export const conductorAmps: Readonly<Record<number, readonly [at60: number, at75: number, at90: number]>> = {
  14: [15, 20, 25],
  12: [20, 25, 30],
  10: [30, 35, 40],
};
export const conductorSource = nec("Table 310.16", false);

/** Ratings of cord sets by AWG size: up to 50 ft, and beyond (UL 817, as quoted); null where the quotation gives none. */
const cordSets: Readonly<Record<number, readonly [upTo50: number | null, beyond: number | null]>> = {
  16: [13, 10],
  14: [15, null],
  12: [20, 15],
  10: [null, 20],
};
export const cordSetSource: RuleSource = {
  standard: "UL 817",
  edition: unnamedEdition,
  clause: "Tables 114 and 115, as quoted",
  confirmed: true,
};

/** Amperes that a cord set (extension cord) of this size and length may carry; null where the table has no row. */
export function cordSetAmps(awg: number, feet: number): number | null {
  const row = cordSets[awg];
  return row === undefined ? null : row[feet <= 50 ? 0 : 1];
}

/** Amperes of flexible cords by conductor area in mm2 (IET Code of Practice, Table VII.1, as quoted). */
export const flexAmps: Readonly<Record<number, number>> = { 0.5: 3, 0.75: 6, 1: 10, 1.25: 13, 1.5: 15 };
export const flexSource: RuleSource = {
  standard: "IET Code of Practice for In-Service Inspection and Testing",
  edition: unnamedEdition,
  clause: "Table VII.1, as quoted",
  confirmed: true,
};
