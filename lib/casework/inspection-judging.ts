import type { InspectionStandardName } from "@/lib/electrical/inspection-limit-tables";
import {
  type AppliedLimit,
  conductorCurrentLimit,
  conductorLimit,
  insulationLimit,
  type LimitFacts,
  touchCurrentLimit,
} from "@/lib/electrical/inspection-limits";
import { type Checked, checkItems, checkNames } from "./inspection-checklist";
import type { Severity } from "./signal-word";

/** What was measured; null is not measured. */
export interface Measured {
  readonly conductorOhms: number | null;
  readonly insulationMegohms: number | null;
  readonly conductorMilliamps: number | null;
  readonly touchMilliamps: number | null;
  readonly polarity: "pass" | "fail" | null;
  readonly functional: "pass" | "fail" | null;
}
export type FigureName = "conductorOhms" | "insulationMegohms" | "conductorMilliamps" | "touchMilliamps";

interface FigureRule {
  readonly words: string;
  readonly limit: (name: InspectionStandardName, facts: LimitFacts) => AppliedLimit;
}

/** The figures in the order in which they are measured: nothing is switched on before the earth and the insulation are good. */
export const figureRules: Readonly<Record<FigureName, FigureRule>> = {
  conductorOhms: { words: "Protective conductor", limit: conductorLimit },
  insulationMegohms: { words: "Insulation", limit: insulationLimit },
  conductorMilliamps: { words: "Protective conductor current", limit: conductorCurrentLimit },
  touchMilliamps: { words: "Touch current", limit: touchCurrentLimit },
};
export const figureNames = Object.keys(figureRules) as readonly FigureName[];

/** One figure held against its limit. */
export interface JudgedFigure extends AppliedLimit {
  readonly name: FigureName;
  readonly value: number;
  readonly within: boolean;
}

/** Judges one measured figure. */
export function judgeFigure(name: FigureName, value: number, by: { standard: InspectionStandardName; facts: LimitFacts }): JudgedFigure {
  const applied = figureRules[name].limit(by.standard, by.facts);
  return { ...applied, name, value, within: applied.side === "most" ? value <= applied.limit : value >= applied.limit };
}

export type InspectionResult = "pass" | "fail" | "limited";

/** What kept an inspection from being complete, beyond what was measured: papers, access. */
export interface Shortcoming {
  readonly sentence: string;
}

export interface InspectionAsMade {
  readonly standard: InspectionStandardName;
  readonly facts: LimitFacts;
  readonly checklist: readonly Checked[];
  readonly measured: Measured;
  readonly shortcomings: readonly Shortcoming[];
}

export interface Judgement {
  readonly result: InspectionResult;
  readonly figures: readonly JudgedFigure[];
  /** Why it failed, or what it lacks; one sentence each. Empty when it passed. */
  readonly reasons: readonly string[];
  /** The worst that what failed can do; null when nothing failed. */
  readonly severity: Severity | null;
}

/** What makes an entry impossible rather than a fail: one sentence by field. */
export function contradictions({ facts, measured }: Pick<InspectionAsMade, "facts" | "measured">): Partial<Record<keyof Measured, string>> {
  const problems: Partial<Record<keyof Measured, string>> = {};
  const unearthed = facts.protectionClass === "II" || facts.protectionClass === "III";
  const words = `A Class ${facts.protectionClass} appliance has no protective conductor: correct the class or leave this empty.`;
  if (unearthed && measured.conductorOhms !== null) problems.conductorOhms = words;
  if (unearthed && measured.conductorMilliamps !== null) problems.conductorMilliamps = words;
  return problems;
}

/** What a complete inspection of the class measures (EN 50699 and the IET code of practice alike, from memory). */
function missing({ facts, measured, checklist }: InspectionAsMade): string[] {
  const gaps: string[] = [];
  const unseen = checkNames.filter((name) => !checklist.some((one) => one.name === name));
  if (unseen.length > 0) gaps.push(`Not looked at: ${unseen.map((name) => checkItems[name].words.toLowerCase()).join(", ")}.`);
  const leaks = measured.conductorMilliamps ?? measured.touchMilliamps;
  if (facts.protectionClass === null) gaps.push("The protection class is not known, so it is not known what must be measured.");
  if (facts.protectionClass === "I" && measured.conductorOhms === null) gaps.push("The protective conductor was not measured.");
  if (measured.insulationMegohms === null && leaks === null) gaps.push("Neither the insulation nor a leakage current was measured.");
  if (measured.functional === null) gaps.push("It was not tried whether it works.");
  return gaps;
}

const worse: readonly Severity[] = ["none", "minor", "serious"];

/**
 * The result of an inspection: a fail when anything is not right, limited when nothing is wrong but something that belongs to it was
 * not done or cannot be relied on, else a pass. A fail stands whatever is lacking: a danger seen without papers is still a danger.
 */
export function judgeInspection(made: InspectionAsMade): Judgement {
  const { measured, standard, facts } = made;
  const figures = figureNames.flatMap((name) => {
    const value = measured[name];
    return value === null ? [] : [judgeFigure(name, value, { standard, facts })];
  });
  const faults: { sentence: string; severity: Severity }[] = [
    ...made.checklist
      .filter(({ verdict }) => verdict === "fail")
      .map(({ name, note }) => ({
        sentence: `${checkItems[name].words}: ${note || "not as it should be"}.`,
        severity: checkItems[name].severity,
      })),
    ...figures
      .filter(({ within }) => !within)
      .map(({ name, value, unit, rule }) => ({
        sentence: `${figureRules[name].words} ${value} ${unit}. ${rule}`,
        severity: "serious" as const,
      })),
  ];
  if (measured.polarity === "fail") faults.push({ sentence: "Polarity is wrong.", severity: "serious" });
  if (measured.functional === "fail") faults.push({ sentence: "It does not work as it should.", severity: "minor" });
  const lacks = [...missing(made), ...made.shortcomings.map(({ sentence }) => sentence)];
  const severity = faults.reduce<Severity | null>(
    (worst, fault) => (worst === null || worse.indexOf(fault.severity) > worse.indexOf(worst) ? fault.severity : worst),
    null,
  );
  const result = faults.length > 0 ? "fail" : lacks.length > 0 ? "limited" : "pass";
  return { result, figures, reasons: [...faults.map(({ sentence }) => sentence), ...lacks], severity };
}
