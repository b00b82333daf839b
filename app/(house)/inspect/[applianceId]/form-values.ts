import { type CheckName, checkNames, type Verdict } from "@/lib/casework/inspection-checklist";
import type { InspectionEnvironment } from "@/lib/casework/inspection-due";
import { type FigureName, figureNames } from "@/lib/casework/inspection-judging";

/** The form's fields as typed. */
export interface FormValues {
  readonly formId: string;
  readonly environment: InspectionEnvironment;
  readonly protectionClass: string;
  readonly cordMetres: string;
  readonly cordSquareMillimetres: string;
  readonly isHandHeld: boolean;
  readonly checks: Partial<Record<CheckName, { readonly verdict: Verdict | null; readonly note: string }>>;
  readonly figures: Partial<Record<FigureName, string>>;
  readonly polarity: string;
  readonly functional: string;
  readonly instrumentIds: readonly string[];
  readonly limitedWhy: string;
  readonly notes: string;
  readonly takeOutOfUse: boolean;
  readonly signedName: string;
  readonly correctionWhy: string;
}

/** A decimal figure as people write it, with a point or a comma; null for nothing or for what is no figure. */
export function figureIn(text: string | undefined): number | null {
  const plain = (text ?? "").trim().replace(",", ".");
  return /^\d+(\.\d+)?$/.test(plain) ? Number(plain) : null;
}

/** Whether something was typed that is no figure. */
export const isMistyped = (text: string | undefined): boolean => (text ?? "").trim() !== "" && figureIn(text) === null;

const found = (text: string): "pass" | "fail" | null => (text === "pass" || text === "fail" ? text : null);

/** What was measured, as the judging takes it. */
export function measuredIn(values: FormValues) {
  const [conductorOhms, insulationMegohms, conductorMilliamps, touchMilliamps] = figureNames.map((name) => figureIn(values.figures[name]));
  return {
    conductorOhms: conductorOhms ?? null,
    insulationMegohms: insulationMegohms ?? null,
    conductorMilliamps: conductorMilliamps ?? null,
    touchMilliamps: touchMilliamps ?? null,
    polarity: found(values.polarity),
    functional: found(values.functional),
  };
}

/** The items that were looked at. */
export function checkedIn({ checks }: FormValues) {
  return checkNames.flatMap((name) => {
    const one = checks[name];
    return one?.verdict ? [{ name, verdict: one.verdict, note: one.note.trim() }] : [];
  });
}

export const classIn = ({ protectionClass }: FormValues): "I" | "II" | "III" | null =>
  protectionClass === "I" || protectionClass === "II" || protectionClass === "III" ? protectionClass : null;

/** The form as it starts: what is known of the appliance is filled in. */
export function freshValues(known: Pick<FormValues, "environment" | "protectionClass" | "cordMetres">): Omit<FormValues, "formId"> {
  return {
    ...known,
    cordSquareMillimetres: "",
    isHandHeld: false,
    checks: {},
    figures: {},
    polarity: "",
    functional: "",
    instrumentIds: [],
    limitedWhy: "",
    notes: "",
    takeOutOfUse: true,
    signedName: "",
    correctionWhy: "",
  };
}

/** What the form does not say itself. */
export interface SentWith {
  readonly applianceId: string;
  readonly correctsId: string | null;
  readonly instrumentIds: readonly string[];
  readonly at: string;
}

/** What is sent. */
export function bodyOf(values: FormValues, of: SentWith): object {
  const { formId, environment, isHandHeld, limitedWhy, notes, takeOutOfUse, signedName, correctionWhy } = values;
  return {
    ...of,
    formId,
    environment,
    protectionClass: classIn(values),
    cordMetres: figureIn(values.cordMetres),
    cordSquareMillimetres: figureIn(values.cordSquareMillimetres),
    isHandHeld,
    checklist: checkedIn(values),
    measured: measuredIn(values),
    limitedWhy,
    notes,
    takeOutOfUse,
    signedName,
    correctionWhy,
  };
}
