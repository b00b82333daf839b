import { type RuleSource, unnamedEdition } from "./rule-source";

/** One row of a deviation table: applies up to and including `upTo` of the rated quantity (`null`: without end). */
export interface DeviationRow {
  readonly upTo: number | null;
  readonly overPercent: number;
  /** The plus limit is at least this much, in the unit of the table. */
  readonly overAtLeast: number;
  /** Minus limit in per cent; `null` where the standard sets none. */
  readonly underPercent: number | null;
}

export type DeviationTableName =
  | "heatingWatts"
  | "motorWatts"
  | "heatingAmps"
  | "motorAmps"
  | "heatingWatts4"
  | "motorWatts4"
  | "heatingAmps4"
  | "motorAmps4"
  | "electronics"
  | "electronics60950"
  | "householdCooking"
  | "filamentLamp";

export interface DeviationTable {
  readonly unit: "W" | "A" | "any";
  readonly rows: readonly DeviationRow[];
  readonly source: RuleSource;
}

const table1: RuleSource = { standard: "IEC 60335-1", edition: "5th edition", clause: "10.1, Table 1", confirmed: false };
const table2: RuleSource = { standard: "IEC 60335-1", edition: "5th edition", clause: "10.2, Table 2", confirmed: false };

/** IEC 60335-1, 10.1 Table 1, heating and combined appliances, from memory. */
const heatingWattRows: readonly DeviationRow[] = [
  { upTo: 25, overPercent: 20, overAtLeast: 0, underPercent: null },
  { upTo: 200, overPercent: 10, overAtLeast: 0, underPercent: 10 },
  { upTo: null, overPercent: 5, overAtLeast: 20, underPercent: 10 },
];
/** The same for motor-operated ones, IEC 60335-1, 10.1 Table 1, from memory. */
const motorWattRows: readonly DeviationRow[] = [
  { upTo: 25, overPercent: 20, overAtLeast: 0, underPercent: null },
  { upTo: 300, overPercent: 20, overAtLeast: 0, underPercent: null },
  { upTo: null, overPercent: 15, overAtLeast: 60, underPercent: null },
];
/** IEC 60335-1, 10.2 Table 2, heating and combined appliances, from memory. */
const heatingAmpRows: readonly DeviationRow[] = [
  { upTo: 0.2, overPercent: 20, overAtLeast: 0, underPercent: null },
  { upTo: 1, overPercent: 10, overAtLeast: 0, underPercent: 10 },
  { upTo: null, overPercent: 5, overAtLeast: 0.1, underPercent: 10 },
];
/** The same for motor-operated ones, IEC 60335-1, 10.2 Table 2, from memory. */
const motorAmpRows: readonly DeviationRow[] = [
  { upTo: 0.2, overPercent: 20, overAtLeast: 0, underPercent: null },
  { upTo: 1.5, overPercent: 20, overAtLeast: 0, underPercent: null },
  { upTo: null, overPercent: 15, overAtLeast: 0.3, underPercent: null },
];
const tenPercent: readonly DeviationRow[] = [{ upTo: null, overPercent: 10, overAtLeast: 0, underPercent: null }];

/** Permitted deviation of the measured from the rated input, at rated voltage and normal operation; a table for each edition. */
export const deviationTables: Readonly<Record<DeviationTableName, DeviationTable>> = {
  heatingWatts: { unit: "W", rows: heatingWattRows, source: table1 },
  motorWatts: { unit: "W", rows: motorWattRows, source: table1 },
  heatingAmps: { unit: "A", rows: heatingAmpRows, source: table2 },
  motorAmps: { unit: "A", rows: motorAmpRows, source: table2 },
  heatingWatts4: { unit: "W", rows: heatingWattRows, source: { ...table1, edition: "4th edition" } },
  motorWatts4: { unit: "W", rows: motorWattRows, source: { ...table1, edition: "4th edition" } },
  heatingAmps4: { unit: "A", rows: heatingAmpRows, source: { ...table2, edition: "4th edition" } },
  motorAmps4: { unit: "A", rows: motorAmpRows, source: { ...table2, edition: "4th edition" } },
  electronics: {
    unit: "any",
    rows: tenPercent,
    source: { standard: "IEC 62368-1", edition: unnamedEdition, clause: "B.2.5", confirmed: false },
  },
  electronics60950: {
    unit: "any",
    rows: tenPercent,
    source: { standard: "IEC 60950-1", edition: unnamedEdition, clause: "1.6.2", confirmed: false },
  },
  householdCooking: {
    unit: "any",
    rows: [{ upTo: null, overPercent: 5, overAtLeast: 0, underPercent: null }],
    source: { standard: "UL 1026", edition: unnamedEdition, clause: "31.1", confirmed: true },
  },
  filamentLamp: {
    unit: "W",
    rows: [{ upTo: null, overPercent: 4, overAtLeast: 0, underPercent: null }],
    source: { standard: "IEC 60064", edition: unnamedEdition, clause: "initial power of a filament lamp, 104 % + 0.5 W", confirmed: false },
  },
};

/** The half watt that IEC 60064 adds to its 104 % (from memory). Watts. */
export const filamentLampExtraWatts = 0.5;

export interface PermittedInput {
  /** Null where the standard sets no minus limit. */
  readonly floor: number | null;
  readonly ceiling: number;
  /** The plus part in words, with its arithmetic. */
  readonly words: string;
}

/** Bounds of the measured input for a rated quantity (watts or amps, the unit of the table). */
export function permittedInput(name: DeviationTableName, rated: number): PermittedInput {
  const table = deviationTables[name];
  const row = table.rows.find((candidate) => candidate.upTo === null || rated <= candidate.upTo) ?? table.rows[table.rows.length - 1]!;
  const byPercent = (rated * row.overPercent) / 100;
  const plus = Math.max(byPercent, row.overAtLeast);
  const unit = table.unit === "any" ? "" : ` ${table.unit}`;
  const words = plus > byPercent ? `+${row.overAtLeast}${unit}` : `+${row.overPercent} %`;
  return { floor: row.underPercent === null ? null : rated - (rated * row.underPercent) / 100, ceiling: rated + plus, words };
}
