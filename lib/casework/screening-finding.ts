import type { ScreeningResult } from "@/lib/watch/screening-result";
import { causeWords, type FindingCause, type FindingThing, findingKey } from "./cause";
import type { EvidenceFigure, FindingEvidence } from "./finding-evidence";
import { strongerWord } from "./signal-word";

/** A screening result whose names were found in the registry; ids, null where the result names none or it is not known. */
export interface PlacedResult {
  readonly result: ScreeningResult;
  readonly siteId: string;
  readonly circuitId: string | null;
  readonly outletId: string | null;
  readonly applianceId: string | null;
}

/** What a group of results of one cause and thing says together. */
export interface ScreeningFinding {
  readonly key: string;
  readonly cause: FindingCause;
  readonly siteId: string;
  readonly circuitId: string | null;
  readonly outletId: string | null;
  readonly applianceId: string | null;
  readonly signalWord: ScreeningResult["signalWord"];
  readonly sentence: string;
  readonly evidence: FindingEvidence;
  readonly timesSeen: number;
}

/** The narrowest thing that a result names: the appliance, else the outlet, the circuit, the site. */
function thingOf(placed: Omit<PlacedResult, "result">): [FindingThing, string] {
  if (placed.applianceId !== null) return ["appliance", placed.applianceId];
  if (placed.outletId !== null) return ["outlet", placed.outletId];
  return placed.circuitId !== null ? ["circuit", placed.circuitId] : ["site", placed.siteId];
}

/** The key of the finding that a result of this kind and place belongs to. */
export function resultFindingKey(kind: FindingCause, placed: Omit<PlacedResult, "result">): string {
  const [thing, id] = thingOf(placed);
  return findingKey(kind, thing, id);
}

function figure(value: number, unit: ScreeningResult["unit"]): string {
  const rounded = unit === "W" || value >= 100 ? Math.round(value) : Math.round(value * 100) / 100;
  return unit === "ratio" ? `${Math.round(value * 100)} %` : `${rounded} ${unit}`;
}

/** A length of time as people say it. */
export function lastingWords(ms: number): string {
  const seconds = Math.round(ms / 1000);
  if (seconds < 120) return `${seconds} s`;
  if (seconds < 7200) return `${Math.round(seconds / 60)} min`;
  return seconds < 172_800 ? `${Math.round(seconds / 360) / 10} h` : `${Math.round(seconds / 86_400)} days`;
}

const limitWords: Readonly<Record<ScreeningResult["kind"], string>> = {
  over_rating: "allowed",
  outlet_overload: "outlet rating",
  circuit_overload: "circuit limit",
  repeated_trips: "is already repeated",
  high_voltage: "upper limit",
  low_voltage: "lower limit",
  lost_neutral: "nominal",
  lamp_too_strong: "fixture's maximum",
  drift: "own past and margin",
};

function sentenceOf({ kind, value, limit, unit, fromMs, toMs }: ScreeningResult): string {
  if (kind === "repeated_trips") return `${causeWords[kind]}: ${value} of its own in ${lastingWords(Math.max(toMs - fromMs, 1000))}.`;
  return `${causeWords[kind]}: ${figure(value, unit)} seen, ${figure(limit, unit)} ${limitWords[kind]}, for ${lastingWords(toMs - fromMs)}.`;
}

function evidenceOf(worst: ScreeningResult, latest: ScreeningResult, count: number): FindingEvidence {
  const { kind, value, limit, unit, ratio, fromMs, toMs } = worst;
  const figures: EvidenceFigure[] = [
    { name: "Seen", value: figure(value, unit) },
    { name: kind === "repeated_trips" ? "Repeated from" : "Limit", value: figure(limit, unit) },
    { name: "Share of the limit", value: `${Math.round(ratio * 100)} %` },
    { name: kind === "repeated_trips" ? "Between first and last" : "Lasted", value: lastingWords(toMs - fromMs) },
    { name: "Seen how often", value: count === 1 ? "once" : `${count} times` },
  ];
  return {
    figures,
    reasons: worst.reasons,
    seen: { value, limit, unit },
    fromAt: new Date(latest.fromMs).toISOString(),
    toAt: new Date(latest.toMs).toISOString(),
  };
}

const byWorst = (a: PlacedResult, b: PlacedResult) => b.result.ratio - a.result.ratio || b.result.fromMs - a.result.fromMs;
const byLatest = (a: PlacedResult, b: PlacedResult) => b.result.toMs - a.result.toMs || b.result.fromMs - a.result.fromMs;

/** For low voltage the worst is the smallest share of the limit. */
function worstOf(group: readonly PlacedResult[]): PlacedResult {
  const sorted = [...group].sort(byWorst);
  return (group[0]?.result.kind === "low_voltage" ? sorted.at(-1) : sorted[0])!;
}

function findingOf(key: string, group: readonly PlacedResult[]): ScreeningFinding {
  const worst = worstOf(group);
  const latest = [...group].sort(byLatest)[0]!;
  return {
    key,
    cause: worst.result.kind,
    siteId: latest.siteId,
    circuitId: latest.circuitId,
    outletId: latest.outletId,
    applianceId: worst.applianceId,
    signalWord: group.map(({ result }) => result.signalWord).reduce(strongerWord),
    sentence: sentenceOf(worst.result),
    evidence: evidenceOf(worst.result, latest.result, group.length),
    timesSeen: group.length,
  };
}

/**
 * The findings that screening results ask for: one for each cause and thing, with the strongest signal word, the worst result in its
 * sentence and the latest in its times. The order of the results does not matter.
 */
export function screeningFindings(results: readonly PlacedResult[]): ScreeningFinding[] {
  const groups = new Map<string, PlacedResult[]>();
  for (const placed of results) {
    const key = resultFindingKey(placed.result.kind, placed);
    const group = groups.get(key) ?? [];
    group.push(placed);
    groups.set(key, group);
  }
  return [...groups].sort(([a], [b]) => (a < b ? -1 : 1)).map(([key, group]) => findingOf(key, group));
}
