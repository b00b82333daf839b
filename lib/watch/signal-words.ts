import type { ScreeningKind, SignalWord } from "./screening-result";

interface SignalRow {
  readonly kind: ScreeningKind;
  /** At least this many times the limit (for low voltage: the limit this many times the value). */
  readonly ratio: number;
  /** For at least this long. */
  readonly seconds: number;
  readonly word: SignalWord;
}

/**
 * Signal words by how far and how long, the first row that fits. By the definitions of ANSI Z535: DANGER will cause death or
 * serious injury if not avoided, WARNING could, CAUTION could cause minor injury, NOTICE is about property. Which excess is
 * which is the product's own choice, no source.
 */
export const signalRows: readonly SignalRow[] = [
  { kind: "lost_neutral", ratio: 0, seconds: 0, word: "DANGER" },
  { kind: "over_rating", ratio: 1.5, seconds: 60, word: "DANGER" },
  { kind: "over_rating", ratio: 1.25, seconds: 1800, word: "DANGER" },
  { kind: "over_rating", ratio: 0, seconds: 0, word: "WARNING" },
  { kind: "lamp_too_strong", ratio: 2, seconds: 60, word: "DANGER" },
  { kind: "lamp_too_strong", ratio: 0, seconds: 0, word: "WARNING" },
  { kind: "outlet_overload", ratio: 1.5, seconds: 60, word: "DANGER" },
  { kind: "outlet_overload", ratio: 0, seconds: 0, word: "WARNING" },
  { kind: "circuit_overload", ratio: 1.45, seconds: 60, word: "DANGER" },
  { kind: "circuit_overload", ratio: 0, seconds: 0, word: "WARNING" },
  { kind: "repeated_trips", ratio: 0, seconds: 0, word: "WARNING" },
  { kind: "high_voltage", ratio: 1.1, seconds: 0, word: "WARNING" },
  { kind: "high_voltage", ratio: 0, seconds: 0, word: "CAUTION" },
  { kind: "low_voltage", ratio: 1.1, seconds: 0, word: "WARNING" },
  { kind: "low_voltage", ratio: 0, seconds: 0, word: "CAUTION" },
  { kind: "drift", ratio: 1.15, seconds: 0, word: "CAUTION" },
  { kind: "drift", ratio: 0, seconds: 0, word: "NOTICE" },
];

/** The signal word of an excess of `ratio` times its limit that lasted `seconds`. */
export function signalWordOf(kind: ScreeningKind, ratio: number, seconds: number): SignalWord {
  return signalRows.find((row) => row.kind === kind && ratio >= row.ratio && seconds >= row.seconds)?.word ?? "NOTICE";
}
