import type { ProtectionClass } from "./rating";

/** How well a figure is vouched for. */
export type LimitBasis = "read in a secondary source" | "from memory" | "common practice, no source";

/** The most ohms of a protective conductor, in one of the ways in which the standards state it. */
export type ConductorRule =
  /**
   * A table of steps by the length of the cord: the first row that reaches it counts, `beyond` after the last. It holds for conductors up
   * to `upToSquareMillimetres`; of thicker ones the limit is `thickerOhms` and the resistance of the cord's own conductor.
   */
  | {
      readonly how: "by length";
      readonly rows: readonly { readonly upToMetres: number; readonly ohms: number }[];
      readonly beyond: number;
      readonly upToSquareMillimetres: number;
      readonly thickerOhms: number;
    }
  /** A fixed part and the resistance of the cord's own conductor. */
  | { readonly how: "fixed and cord"; readonly ohms: number }
  | { readonly how: "fixed"; readonly ohms: number };

/** A limit with where it stands and how it is known. */
export interface Sourced<T> {
  readonly limit: T;
  readonly clause: string;
  readonly basis: LimitBasis;
}

/** Currents in mA. `perKilowatt` holds above `fromKilowatts` for heating, up to `most`. */
export interface CurrentRule {
  readonly milliamps: number;
  readonly handHeldMilliamps?: number;
  readonly heating?: { readonly aboveKilowatts: number; readonly perKilowatt: number; readonly most: number };
}

/** The limits of one standard. A table that a standard does not have is null: then the inspector judges. */
export interface InspectionStandard {
  readonly words: string;
  readonly conductor: Sourced<ConductorRule>;
  /** The least Mohm at 500 V DC by protection class. */
  readonly insulation: Sourced<Readonly<Record<ProtectionClass, number>>>;
  /** The least Mohm of a Class I appliance with its heating switched on; null where the standard has no such figure. */
  readonly insulationHeating: Sourced<number> | null;
  readonly conductorCurrent: Sourced<CurrentRule>;
  readonly touchCurrent: Sourced<CurrentRule>;
}

const read = "read in a secondary source";
const memory = "from memory";
const practice = "common practice, no source";

/**
 * Limits of the standards for inspection in service, by the set a site goes by. None replaces the maker's instructions or what the
 * local code asks. What was read stands in published summaries of the tester trade; the standards themselves were not at hand.
 */
export const inspectionStandards = {
  "EN 50699": {
    words: "EN 50699 / EN 50678 (before: DIN VDE 0701-0702)",
    conductor: {
      limit: {
        how: "by length",
        rows: [
          { upToMetres: 5, ohms: 0.3 },
          { upToMetres: 12.5, ohms: 0.4 },
          { upToMetres: 20, ohms: 0.5 },
          { upToMetres: 27.5, ohms: 0.6 },
          { upToMetres: 35, ohms: 0.7 },
          { upToMetres: 42.5, ohms: 0.8 },
          { upToMetres: 50, ohms: 0.9 },
        ],
        beyond: 1,
        upToSquareMillimetres: 1.5,
        thickerOhms: 0.1,
      },
      clause: "DIN VDE 0701-0702, protective conductor up to 16 A, cord up to 1.5 mm2; thicker by EN 50678",
      basis: read,
    },
    insulation: { limit: { I: 1, II: 2, III: 0.25 }, clause: "DIN VDE 0701-0702, insulation resistance at 500 V DC", basis: read },
    insulationHeating: { limit: 0.3, clause: "DIN VDE 0701-0702, Class I with heating elements switched on", basis: read },
    conductorCurrent: {
      limit: { milliamps: 3.5, heating: { aboveKilowatts: 3.5, perKilowatt: 1, most: 10 } },
      clause: "DIN VDE 0701-0702, protective conductor current",
      basis: read,
    },
    touchCurrent: { limit: { milliamps: 0.5 }, clause: "DIN VDE 0701-0702, touch current", basis: read },
  },
  "IET code of practice": {
    words: "IET Code of Practice for In-service Inspection and Testing of Electrical Equipment",
    conductor: { limit: { how: "fixed and cord", ohms: 0.1 }, clause: "earth continuity: 0.1 ohm and the cord", basis: memory },
    insulation: { limit: { I: 1, II: 2, III: 0.25 }, clause: "insulation resistance at 500 V DC", basis: memory },
    insulationHeating: { limit: 0.3, clause: "heating and cooking equipment up to 3 kW", basis: memory },
    conductorCurrent: {
      limit: { milliamps: 3.5, handHeldMilliamps: 0.75 },
      clause: "protective conductor current, Class I",
      basis: memory,
    },
    touchCurrent: { limit: { milliamps: 0.25 }, clause: "touch current, Class II", basis: memory },
  },
  "AS/NZS 3760": {
    words: "AS/NZS 3760 In-service safety inspection and testing",
    conductor: { limit: { how: "fixed", ohms: 1 }, clause: "earth continuity", basis: memory },
    insulation: { limit: { I: 1, II: 1, III: 1 }, clause: "insulation resistance at 500 V DC", basis: memory },
    insulationHeating: null,
    conductorCurrent: { limit: { milliamps: 5 }, clause: "leakage current, Class I", basis: memory },
    touchCurrent: { limit: { milliamps: 1 }, clause: "leakage current, Class II", basis: memory },
  },
  "North America": {
    words: "29 CFR 1910.334 (visual, continuity) with the leakage limits of UL 101",
    conductor: {
      limit: { how: "fixed", ohms: 1 },
      clause: "29 CFR 1926.404(b)(1)(iii) asks for continuity and names no ohms",
      basis: practice,
    },
    insulation: { limit: { I: 1, II: 1, III: 1 }, clause: "no figure in the rules", basis: practice },
    insulationHeating: null,
    conductorCurrent: { limit: { milliamps: 0.75 }, clause: "UL 101, stationary cord-connected appliances", basis: memory },
    touchCurrent: { limit: { milliamps: 0.5 }, clause: "UL 101, portable cord-connected appliances", basis: memory },
  },
} as const satisfies Readonly<Record<string, InspectionStandard>>;

export type InspectionStandardName = keyof typeof inspectionStandards;
export const inspectionStandardNames = Object.keys(inspectionStandards) as readonly InspectionStandardName[];

/** Ohms of one metre of a flexible copper conductor at 20 degrees C by cross-section in mm2 (IEC 60228, Class 5, from memory). */
export const flexibleOhmsPerMetre: Readonly<Record<string, number>> = {
  "0.5": 0.039,
  "0.75": 0.026,
  "1": 0.0195,
  "1.5": 0.0133,
  "2.5": 0.00798,
  "4": 0.00495,
};
