import { intervalColumn, type NextDue, nextDue } from "@/lib/casework/inspection-due";
import { figureNames, type Judgement, judgeInspection } from "@/lib/casework/inspection-judging";
import { type Paper, paperShortcomings } from "@/lib/casework/inspection-papers";
import type { InspectionStandardName } from "@/lib/electrical/inspection-limit-tables";
import type { LimitFacts } from "@/lib/electrical/inspection-limits";
import { checkedIn, classIn, type FormValues, figureIn, isMistyped, measuredIn } from "./form-values";

export interface InstrumentPaper extends Paper {
  readonly id: string;
}

/** By what the form is judged on the phone, as the server will judge it again. */
export interface JudgedBy {
  readonly standard: InspectionStandardName;
  readonly plate: Pick<LimitFacts, "isHeating" | "ratedKilowatts">;
  readonly category: string | null;
  readonly competences: readonly Paper[];
  readonly instruments: readonly InstrumentPaper[];
  readonly ownMonths: number | null;
  readonly dueBefore: Date | null;
}

/** What decides the limits, from the plate and what is typed. */
export function factsIn(values: FormValues, plate: JudgedBy["plate"]): LimitFacts {
  return {
    ...plate,
    protectionClass: classIn(values),
    cordMetres: figureIn(values.cordMetres),
    cordSquareMillimetres: figureIn(values.cordSquareMillimetres),
    isHandHeld: values.isHandHeld,
  };
}

/** The instruments that are ticked. One that was put away since then is not in the list any more and cannot be unticked. */
export function usedInstruments(values: FormValues, { instruments }: JudgedBy): InstrumentPaper[] {
  return instruments.filter(({ id }) => values.instrumentIds.includes(id));
}

/** The result of the form as it stands, and when the next inspection would be due. */
export function judgeForm(values: FormValues, by: JudgedBy, at: Date): { judgement: Judgement; due: NextDue } {
  const measured = measuredIn(values);
  const facts = factsIn(values, by.plate);
  const papers = paperShortcomings({
    competences: by.competences,
    instruments: usedInstruments(values, by),
    hasFigures: figureNames.some((name) => measured[name] !== null),
    at,
  });
  const own = values.limitedWhy.trim() === "" ? [] : [{ sentence: values.limitedWhy.trim() }];
  const made = { standard: by.standard, facts, checklist: checkedIn(values), measured, shortcomings: [...papers, ...own] };
  const judgement = judgeInspection(made);
  const { environment } = values;
  const column = intervalColumn(facts.protectionClass, by.category);
  const due = nextDue({ at, result: judgement.result, environment, column, ownMonths: by.ownMonths, dueBefore: by.dueBefore });
  return { judgement, due };
}

/** What keeps the form from being signed, in one sentence; null when nothing does. */
export function problemIn(values: FormValues, correctsId: string | null): string | null {
  const figures = [...figureNames.map((name) => values.figures[name]), values.cordMetres, values.cordSquareMillimetres];
  if (figures.some(isMistyped)) return "A figure cannot be read: look for the field that says so.";
  const empty = Object.values(values.checks).some((one) => one.verdict === "fail" && one.note.trim() === "");
  if (empty) return "Say what is wrong with each item that failed.";
  if (correctsId && values.correctionWhy.trim() === "") return "Say what was wrong with the inspection that this corrects.";
  return values.signedName.trim() === "" ? "Sign with your name." : null;
}
