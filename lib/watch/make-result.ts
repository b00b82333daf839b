import type { ScreeningKind, ScreeningResult } from "./screening-result";
import { signalWordOf } from "./signal-words";

/** Where a result belongs; what is left out is unknown or not meant. */
export interface ResultPlace {
  readonly site: string | null;
  readonly circuit?: string | null;
  readonly outlet?: string | null;
  readonly receptacle?: string | null;
  readonly tag?: string | null;
}

export interface ResultMeasure {
  readonly fromMs: number;
  readonly toMs: number;
  readonly value: number;
  readonly limit: number;
  readonly unit: ScreeningResult["unit"];
}

/** At most three decimals, as shown. */
export function short(value: number): number {
  return Math.round(value * 1000) / 1000;
}

/** A length of time in words. */
export function lasting(ms: number): string {
  if (ms < 120_000) return `${Math.round(ms / 1000)} s`;
  return ms < 7_200_000 ? `${Math.round(ms / 60_000)} min` : `${Math.round(ms / 360_000) / 10} h`;
}

/** A result with its ratio and signal word. For low voltage the word goes by limit over value. */
export function makeResult(kind: ScreeningKind, place: ResultPlace, measure: ResultMeasure, reasons: readonly string[]): ScreeningResult {
  const ratio = measure.value / measure.limit;
  const severity = kind === "low_voltage" ? measure.limit / Math.max(measure.value, 1) : ratio;
  return {
    kind,
    site: place.site,
    circuit: place.circuit ?? null,
    outlet: place.outlet ?? null,
    receptacle: place.receptacle ?? null,
    tag: place.tag === "" ? null : (place.tag ?? null),
    fromMs: measure.fromMs,
    toMs: measure.toMs,
    value: short(measure.value),
    limit: short(measure.limit),
    unit: measure.unit,
    ratio: short(ratio),
    signalWord: signalWordOf(kind, severity, (measure.toMs - measure.fromMs) / 1000),
    reasons,
  };
}
