import type { DeviationTableName } from "./deviation-tables";
import { type RuleSource, unnamedEdition } from "./rule-source";

/** Which deviation table holds for which kind of load, in watts and in amps; chosen for a site. */
export interface DeviationSet {
  readonly words: string;
  readonly heating: readonly [watts: DeviationTableName, amps: DeviationTableName];
  readonly motor: readonly [watts: DeviationTableName, amps: DeviationTableName];
  readonly electronics: readonly [watts: DeviationTableName, amps: DeviationTableName];
  readonly source: RuleSource;
}

/** Sets by standard and edition. Editions that differ in no figure known to us are still named apart, so that a later change has its place. */
export const deviationSets = {
  "IEC 60335-1, 5th edition": {
    words: "IEC 60335-1 (5th edition), Tables 1 and 2; IEC 62368-1 for electronics",
    heating: ["heatingWatts", "heatingAmps"],
    motor: ["motorWatts", "motorAmps"],
    electronics: ["electronics", "electronics"],
    source: { standard: "IEC 60335-1", edition: "5th edition", clause: "10.1 and 10.2", confirmed: false },
  },
  "IEC 60335-1, 4th edition": {
    words: "IEC 60335-1 (4th edition), the same tables from memory; IEC 60950-1 for electronics",
    heating: ["heatingWatts4", "heatingAmps4"],
    motor: ["motorWatts4", "motorAmps4"],
    electronics: ["electronics60950", "electronics60950"],
    source: { standard: "IEC 60335-1", edition: "4th edition", clause: "10.1 and 10.2", confirmed: false },
  },
  "UL 1026": {
    words: "UL 1026 for heating and cooking (105 % of the marking), IEC 60335-1 tables for motors, IEC 62368-1 for electronics",
    heating: ["householdCooking", "householdCooking"],
    motor: ["motorWatts", "motorAmps"],
    electronics: ["electronics", "electronics"],
    source: { standard: "UL 1026", edition: unnamedEdition, clause: "31.1", confirmed: true },
  },
} as const satisfies Readonly<Record<string, DeviationSet>>;
export type DeviationSetName = keyof typeof deviationSets;

/** The set used unless a site states another. */
export const usualDeviationSet: DeviationSetName = "IEC 60335-1, 5th edition";
