import { type ScreeningPolicy, screeningPolicy } from "./policy";

/** One figure of the policy that a site may state for itself: how it is shown, and within which bounds, with the reason for them. */
export interface PolicyField {
  readonly name: keyof ScreeningPolicy;
  readonly label: string;
  readonly unit: "s" | "share" | "V" | "days" | "trips" | "W";
  readonly least: number;
  readonly most: number;
  readonly whole: boolean;
  readonly why: string;
}

export interface PolicyGroup {
  readonly head: string;
  readonly note: string;
  readonly fields: readonly PolicyField[];
}

const seconds = (name: keyof ScreeningPolicy, label: string, bounds: readonly [number, number], why: string): PolicyField => ({
  name,
  label,
  unit: "s",
  least: bounds[0],
  most: bounds[1],
  whole: false,
  why,
});
const share = (name: keyof ScreeningPolicy, label: string, bounds: readonly [number, number], why: string): PolicyField => ({
  ...seconds(name, label, bounds, why),
  unit: "share",
});
const volts = (name: keyof ScreeningPolicy, label: string, bounds: readonly [number, number], why: string): PolicyField => ({
  ...seconds(name, label, bounds, why),
  unit: "V",
});

/** What a site may state, in the order of the page. What is not here (reorder window, hold, joining) belongs to the method, not to the site. */
export const policyGroups: readonly PolicyGroup[] = [
  {
    head: "Above the rating",
    note: "When a draw above its limit counts as sustained.",
    fields: [
      seconds(
        "persistenceSeconds",
        "Longer above the limit than",
        [3.01, 60],
        "3 s is never sustained; beyond a minute a hot fault is missed.",
      ),
      seconds(
        "startSeconds",
        "A start must have fallen within",
        [5, 60],
        "Motors accelerate within several seconds; a start of a minute is a stuck one.",
      ),
    ],
  },
  {
    head: "Circuits",
    note: "Above the device's rating, and the share that a load of hours may take.",
    fields: [
      seconds("circuitSeconds", "Above the device for longer than", [10, 600], "Shorter is a start; ten minutes warm a conductor."),
      share(
        "continuousShare",
        "Share of the device for a continuous load",
        [0.5, 1],
        "1 only for devices that are marked for 100 % continuous load.",
      ),
      seconds(
        "continuousSeconds",
        "A load is continuous after",
        [1800, 14_400],
        "3 h in the NEC; shorter is stricter (Canada counts 1 h in 2 h, from memory).",
      ),
    ],
  },
  {
    head: "Voltage, sites up to 127 V",
    note: "Limits of the supply, and how long beyond them counts.",
    fields: [
      volts("lowVoltageNorthAmerica", "Low below", [96, 114], "104 in newer, 106 in older editions of ANSI C84.1; 114 is Range A."),
      volts("highVoltageNorthAmerica", "High above", [126, 132], "126 is Range A, 127 Range B; 132 is 110 %."),
      seconds(
        "voltageSecondsNorthAmerica",
        "For longer than",
        [60, 3600],
        "Below a minute it is a sag or swell (IEEE 1159-2009), not a condition.",
      ),
    ],
  },
  {
    head: "Voltage, other sites",
    note: "As a share of nominal, to both sides.",
    fields: [
      share("voltageShareElsewhere", "Outside nominal by", [0.05, 0.15], "EN 50160: 10 % for 95 % of a week, never more than +10/-15 %."),
      seconds("voltageSecondsElsewhere", "For longer than", [60, 3600], "EN 50160 judges means of 10 min."),
    ],
  },
  {
    head: "Repeated trips",
    note: "How many trips of its own, in how many days, are a pattern.",
    fields: [
      { name: "tripCount", label: "Trips", unit: "trips", least: 2, most: 20, whole: true, why: "One trip is a device doing its work." },
      {
        name: "tripDays",
        label: "Within",
        unit: "days",
        least: 1,
        most: 365,
        whole: true,
        why: "Longer than a year mixes different causes.",
      },
      share("poissonConfidence", "Confidence of the bound shown", [0.8, 0.999], "Below 80 % a bound says little; 1 has no bound."),
    ],
  },
  {
    head: "Drift",
    note: "When steady draw has left its own past.",
    fields: [
      share("driftShare", "Above its baseline by", [0.05, 1], "Below 5 % line voltage and season alone drift."),
      {
        name: "driftDays",
        label: "On days in a row",
        unit: "days",
        least: 2,
        most: 30,
        whole: true,
        why: "One day is a different load, not a drift.",
      },
      {
        name: "baselineDays",
        label: "Baseline, first days",
        unit: "days",
        least: 3,
        most: 60,
        whole: true,
        why: "Fewer than 3 are no habit.",
      },
      share("runningShare", "Running from this share of its rating", [0.01, 0.5], "Below it is standby."),
    ],
  },
];

export const policyFields: readonly PolicyField[] = policyGroups.flatMap(({ fields }) => fields);

/** What a site states otherwise than the defaults. */
export type PolicyFigures = { readonly [K in keyof ScreeningPolicy]?: number };

/** What is wrong with a figure, in one sentence that names its bounds and their reason; null when it may stand. */
export function figureProblem(field: PolicyField, value: number): string | null {
  const isWithin = Number.isFinite(value) && value >= field.least && value <= field.most;
  if (isWithin && (!field.whole || Number.isInteger(value))) return null;
  const whole = field.whole ? "a whole number " : "";
  const [least, most] = [figureText(field, field.least), figureText(field, field.most)];
  return `Write ${whole}from ${least} to ${most}${unitWords(field)}: ${field.why}`;
}

/** A figure as it is typed and shown: shares in per cent. */
export function figureText({ unit }: Pick<PolicyField, "unit">, value: number): string {
  return String(Math.round((unit === "share" ? value * 100 : value) * 1000) / 1000);
}

/** The unit behind a figure. */
export function unitWords({ unit }: Pick<PolicyField, "unit">): string {
  return unit === "share" ? " %" : ` ${unit}`;
}

/** A typed figure in the policy's own unit: per cent become shares. NaN when it is none. */
export function figureOf({ unit }: Pick<PolicyField, "unit">, typed: string): number {
  const plain = typed.trim().replace(",", ".");
  const value = plain === "" ? Number.NaN : Number(plain);
  return unit === "share" ? Math.round(value * 1e6) / 1e8 : value;
}

/** The policy with a site's own figures in the place of the defaults. Figures out of bounds, from an older version, do not count. */
export function policyWith(figures: PolicyFigures): ScreeningPolicy {
  const valid = policyFields.flatMap((field) => {
    const value = figures[field.name];
    return value === undefined || figureProblem(field, value) !== null ? [] : [[field.name, value] as const];
  });
  return { ...screeningPolicy, ...Object.fromEntries(valid) };
}
