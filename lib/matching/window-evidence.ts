import { fitPattern, patternKey } from "@/lib/identity/code-pattern";
import { compareWithWindow } from "@/lib/identity/code-window";
import { compareMade } from "@/lib/identity/made";
import { compareMakers } from "@/lib/identity/maker";
import type { CodeWindow, Coverage, MadeWindow } from "@/lib/notices/coverage";
import type { ApplianceReading } from "./appliance-reading";
import type { CoveredNotice, FieldWindows } from "./covered-notice";
import type { ModelAgreement } from "./model-agreement";
import { beginningOf, signsMeaning } from "./pattern-words";

export type WindowField = "serial" | "dateCode" | "made";
type Window = CodeWindow | MadeWindow;

/** What the notice's windows of one field say about the appliance. */
export interface WindowEvidence {
  readonly field: WindowField;
  readonly place: "inside" | "outside" | "overlap" | "unknown";
  /** The appliance's value; `null` when not read. */
  readonly value: string | null;
  /** The windows that the verdict rests on. */
  readonly windows: readonly Window[];
  /** The reading it rests on, in words; `null` when the value was compared as printed. */
  readonly reading: string | null;
}

/** `none`: the notice sets this model no window. `ask`: the known facts do not decide. */
export interface WindowOutcome {
  readonly place: "none" | "inside" | "outside" | "ask";
  readonly evidence: readonly WindowEvidence[];
}

export const noWindows: WindowOutcome = { place: "none", evidence: [] };

/** Whether a window tied to some models or brands is about this appliance. */
function appliesTo(ties: readonly string[], appliance: ApplianceReading, model: ModelAgreement | null): boolean {
  return ties.some((tie) => {
    if (tie.startsWith("brand:")) {
      const { brand } = appliance.facts;
      return brand === null || compareMakers(brand, tie.slice("brand:".length)) !== "other";
    }
    if (model === null) return true;
    const key = patternKey(tie);
    return key === model.pattern.key || appliance.models.some((reading) => fitPattern(key, reading.key) !== "none");
  });
}

interface Judged {
  readonly window: Window;
  readonly place: WindowEvidence["place"];
  readonly reading: string | null;
  readonly isOtherForm?: true;
}

function judge(field: WindowField, value: string | null, window: Window): Judged {
  if (value === null) return { window, place: "unknown", reading: null };
  if (field !== "made") return { window, ...compareWithWindow(value, window as CodeWindow, field) };
  return { window, place: compareMade(value, window as MadeWindow) ?? "unknown", reading: null };
}

const placesByRank: readonly WindowEvidence["place"][] = ["inside", "overlap", "unknown", "outside"];

/** A code that has the form of one window and lies outside it is not asked for again because another window has another form. */
function withoutOtherForms(judged: readonly Judged[]): readonly Judged[] {
  return judged.some(({ place }) => place === "outside") ? judged.filter(({ isOtherForm }) => !isOtherForm) : judged;
}

function summarise(field: WindowField, value: string | null, all: readonly Judged[]): WindowEvidence {
  const [first] = all;
  if (all.length === 1 && first !== undefined && !first.isOtherForm)
    return { field, place: first.place, value, windows: [first.window], reading: first.reading };
  const judged = withoutOtherForms(all);
  const place = placesByRank.find((one) => judged.some((each) => each.place === one)) ?? "unknown";
  const decisive = judged.find((each) => each.place === place);
  const windows = place === "inside" && decisive ? [decisive.window] : judged.map(({ window }) => window);
  return { field, place, value, windows, reading: decisive?.reading ?? null };
}

interface Asked {
  readonly appliance: ApplianceReading;
  readonly model: ModelAgreement | null;
}

function fieldEvidence({ field, windows, areTied }: FieldWindows, { appliance, model }: Asked): WindowEvidence | null {
  const value = appliance.facts[field];
  if (value === null && !areTied) return { field, place: "unknown", value, windows, reading: null };
  const judged: Judged[] = [];
  for (const window of windows) {
    if (window.for === undefined || window.for.length === 0 || appliesTo(window.for, appliance, model))
      judged.push(judge(field, value, window));
  }
  return judged.length === 0 ? null : summarise(field, value, judged);
}

/**
 * The windows of one model are alternatives: inside any of them it is covered; it is ruled out only when every one
 * that can be judged from known facts lies outside; with none judged, or one that only overlaps, the fact is asked for.
 */
export function compareWindows(
  appliance: ApplianceReading,
  { coverage, windows }: Pick<CoveredNotice, "coverage" | "windows">,
  model: ModelAgreement | null,
): WindowOutcome {
  const all: WindowEvidence[] = [];
  for (const ofField of windows) {
    const one = fieldEvidence(ofField, { appliance, model });
    if (one !== null) all.push(one);
  }
  if (all.length === 0) return noWindows;
  const inside = all.filter(({ place }) => place === "inside");
  if (inside.length > 0) return { place: "inside", evidence: inside };
  const judged = all.filter(({ value }) => value !== null);
  const isOutside = judged.length > 0 && judged.every(({ place }) => place === "outside");
  if (isOutside && mayHaveNoWindow(appliance, coverage)) return { place: "ask", evidence: all };
  return { place: isOutside ? "outside" : "ask", evidence: isOutside ? judged : all };
}

/** Whether the appliance, of a model or maker not known, may be one that the notice sets no window: all of them are tied, and not to everything listed. */
function mayHaveNoWindow({ models, facts }: ApplianceReading, coverage: Coverage): boolean {
  const windows: readonly Window[] = [...coverage.serials, ...coverage.dateCodes, ...coverage.made];
  const ties = new Set(windows.flatMap((window) => window.for ?? []).map((tie) => (tie.startsWith("brand:") ? tie : patternKey(tie))));
  if (windows.some((window) => window.for === undefined || window.for.length === 0)) return false;
  const isTied = (names: readonly string[], keyOf: (name: string) => string): boolean => names.every((name) => ties.has(keyOf(name)));
  const byBrand = [...ties].some((tie) => tie.startsWith("brand:"));
  if (byBrand && facts.brand === null && !isTied(coverage.brands, (brand) => `brand:${brand}`)) return true;
  return !byBrand && models.length === 0 && !isTied(coverage.models.include, patternKey);
}

function printedWindow(window: Window): string {
  if ("pattern" in window) {
    const beginning = beginningOf(window.pattern);
    return beginning === null ? window.pattern : `beginning with ${beginning}`;
  }
  if (window.from === window.to) return window.from ?? "any date";
  if (window.from === null || window.from === "") return `up to ${window.to}`;
  return window.to === null || window.to === "" ? `from ${window.from} on` : `${window.from} to ${window.to}`;
}

/** The windows as the notice states them, for a person. */
export function statedWindows({ windows }: WindowEvidence): string {
  const stated = [...new Set(windows.map(printedWindow))].join(", ");
  const orders = [...new Set(windows.flatMap((window) => (window.as !== undefined && /^[YMWD]+$/.test(window.as) ? [window.as] : [])))];
  return `${stated}${signsMeaning(stated)}${orders.length === 0 ? "" : `, printed as ${orders.join(" or ")}`}`;
}
