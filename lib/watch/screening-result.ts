/** The kinds of screening result. */
export type ScreeningKind =
  | "over_rating"
  | "outlet_overload"
  | "circuit_overload"
  | "repeated_trips"
  | "high_voltage"
  | "low_voltage"
  | "lost_neutral"
  | "lamp_too_strong"
  | "drift";

/** Signal words as ANSI Z535 / ISO 3864 define them, strongest first. */
export type SignalWord = "DANGER" | "WARNING" | "CAUTION" | "NOTICE";

/** One result of the screening. `from` and `to` bound the excess itself. */
export interface ScreeningResult {
  readonly kind: ScreeningKind;
  readonly site: string | null;
  readonly circuit: string | null;
  readonly outlet: string | null;
  readonly receptacle: string | null;
  readonly tag: string | null;
  readonly fromMs: number;
  readonly toMs: number;
  /** Peak or counted value in the unit of the kind: watts, amps, volts or trips. */
  readonly value: number;
  readonly limit: number;
  readonly unit: "W" | "A" | "V" | "trips" | "ratio";
  readonly ratio: number;
  readonly signalWord: SignalWord;
  readonly reasons: readonly string[];
}
