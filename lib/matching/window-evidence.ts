import { fitPattern, patternKey } from "@/lib/identity/code-pattern";
import { compareWithWindow } from "@/lib/identity/code-window";
import { compareMade } from "@/lib/identity/made";
import { compareMakers } from "@/lib/identity/maker";
import type { Coverage } from "@/lib/notices/coverage";
import type { ApplianceReading } from "./appliance-reading";
import type { ModelAgreement } from "./model-agreement";

export type WindowField = "serial" | "dateCode" | "made";

/** What the notice's windows of one field say about the appliance. */
export interface WindowEvidence {
  readonly field: WindowField;
  readonly place: "inside" | "outside" | "overlap" | "unknown";
  /** The appliance's value; `null` when not read. */
  readonly value: string | null;
  /** The windows in the notice's words. */
  readonly stated: string;
  /** The reading a verdict rests on; `null` when it was compared as printed. */
  readonly reading: string | null;
}

/** `none`: the notice sets this model no window. `ask`: the known facts do not decide. */
export interface WindowOutcome {
  readonly place: "none" | "inside" | "outside" | "ask";
  readonly evidence: readonly WindowEvidence[];
}

interface Tied {
  readonly for?: readonly string[];
}

/** Whether a window tied to some models or brands is about this appliance. */
function appliesTo(window: Tied, appliance: ApplianceReading, model: ModelAgreement | null): boolean {
  if (window.for === undefined || window.for.length === 0) return true;
  return window.for.some((tie) => {
    if (tie.startsWith("brand:")) {
      const { brand } = appliance.facts;
      return brand === null || compareMakers(brand, tie.slice("brand:".length)) !== "other";
    }
    if (model === null) return true;
    const key = patternKey(tie);
    return key === model.pattern.key || appliance.models.some((reading) => fitPattern(key, reading.key) !== "none");
  });
}

function printedWindow(window: { readonly from?: string | null; readonly to?: string | null; readonly pattern?: string }): string {
  if (window.pattern !== undefined) return window.pattern.endsWith("*") ? `beginning with ${window.pattern.slice(0, -1)}` : window.pattern;
  if (window.from === window.to) return window.from ?? "";
  return `${window.from ?? "any date"} to ${window.to ?? "any date"}`;
}

type Place = WindowEvidence["place"];
const placeRank: readonly Place[] = ["inside", "overlap", "unknown", "outside"];

interface Judged {
  readonly place: Place;
  readonly reading: string | null;
  readonly stated: string;
  readonly isOtherForm?: true;
}

function summarise(field: WindowField, value: string | null, judged: readonly Judged[]): WindowEvidence {
  const place = placeRank.find((one) => judged.some((each) => each.place === one)) ?? "unknown";
  const decisive = judged.find((each) => each.place === place);
  const stated = place === "inside" && decisive ? decisive.stated : [...new Set(judged.map((each) => each.stated))].join(", ");
  return { field, place, value, stated, reading: decisive?.reading ?? null };
}

function codeEvidence(field: "serial" | "dateCode", appliance: ApplianceReading, windows: Coverage["serials"]): WindowEvidence | null {
  if (windows.length === 0) return null;
  const value = appliance.facts[field];
  const judged = windows.map((window): Judged => {
    const found = value === null ? { place: "unknown" as const, reading: null } : compareWithWindow(value, window, field);
    return { ...found, stated: printedWindow(window) };
  });
  return summarise(field, value, withoutOtherForms(judged));
}

/** A code that has the form of one window and lies outside it is not asked for again because another window has another form. */
function withoutOtherForms(judged: readonly Judged[]): readonly Judged[] {
  return judged.some(({ place }) => place === "outside") ? judged.filter(({ isOtherForm }) => !isOtherForm) : judged;
}

function madeEvidence(appliance: ApplianceReading, windows: Coverage["made"]): WindowEvidence | null {
  if (windows.length === 0) return null;
  const value = appliance.facts.made;
  const judged = windows.map((window): Judged => {
    const place = (value === null ? null : compareMade(value, window)) ?? "unknown";
    return { place, reading: null, stated: printedWindow(window) };
  });
  return summarise("made", value, judged);
}

const noWindows: WindowOutcome = { place: "none", evidence: [] };

/**
 * The windows of one model are alternatives: inside any of them it is covered; it is ruled out only when every one
 * that can be judged from known facts lies outside; with none judged, or one that only overlaps, the fact is asked for.
 */
export function compareWindows(appliance: ApplianceReading, coverage: Coverage, model: ModelAgreement | null): WindowOutcome {
  if (coverage.serials.length === 0 && coverage.dateCodes.length === 0 && coverage.made.length === 0) return noWindows;
  const tied = <T extends Tied>(windows: readonly T[]): T[] => windows.filter((window) => appliesTo(window, appliance, model));
  const all = [
    codeEvidence("serial", appliance, tied(coverage.serials)),
    codeEvidence("dateCode", appliance, tied(coverage.dateCodes)),
    madeEvidence(appliance, tied(coverage.made)),
  ].filter((one): one is WindowEvidence => one !== null);
  if (all.length === 0) return noWindows;
  const inside = all.filter(({ place }) => place === "inside");
  if (inside.length > 0) return { place: "inside", evidence: inside };
  const judged = all.filter(({ value }) => value !== null);
  const isOutside = judged.length > 0 && judged.every(({ place }) => place === "outside");
  return { place: isOutside ? "outside" : "ask", evidence: isOutside ? judged : all };
}
