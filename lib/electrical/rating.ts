/** A rated voltage: a single value has `from === to`; `100-240` is one range; `120/240` is two entries. Volts. */
export interface VoltageRange {
  readonly from: number;
  readonly to: number;
}

/** Rated input at one rated voltage, where a plate prints pairs such as `240/208V 4500/3380W`. */
export interface WattsAtVolts {
  readonly volts: number;
  readonly watts: number;
}

/** Rated current at one rated voltage, where a plate prints pairs such as `115/230V 10/5A`. */
export interface AmpsAtVolts {
  readonly volts: number;
  readonly amps: number;
}

/** IEC 61140 protection class as marked. */
export type ProtectionClass = "I" | "II" | "III";

/** A fixture's lamp limit, such as `3 x MAX 40W` (IEC 60598-1 marking, from memory). */
export interface LampLimit {
  readonly wattsEach: number;
  readonly count: number;
}

/**
 * What a rating plate allows, in units. `null` or an empty list means "not read", never zero.
 * `watts`, `voltAmperes` and `amps` are the INPUT of the whole appliance; of a printed span the upper value.
 */
export interface Rating {
  readonly volts: readonly VoltageRange[];
  readonly hertz: readonly number[];
  readonly watts: number | null;
  readonly wattsAtVolts: readonly WattsAtVolts[];
  readonly voltAmperes: number | null;
  readonly amps: number | null;
  /** Left out where the plate prints no pairs of amps. */
  readonly ampsAtVolts?: readonly AmpsAtVolts[];
  /** Mechanical OUTPUT of a motor in horsepower as printed; never used as electrical input. */
  readonly horsepower: number | null;
  /** Share of the rated input that the plate gives to its motor, watts. */
  readonly motorWatts: number | null;
  readonly phases: number | null;
  readonly protectionClass: ProtectionClass | null;
  readonly ip: string | null;
  readonly lamp: LampLimit | null;
  /** One sentence for each disagreement on the plate, with the arithmetic. The plate is kept all the same. */
  readonly contradictions: readonly string[];
}
