/** The figures of the screening. Seconds and shares; where a value comes from stands in `policyOrigins`. */
export interface ScreeningPolicy {
  /** A draw above its limit for longer than this is sustained; 3 s never is, 6 s always is. */
  readonly persistenceSeconds: number;
  /** A share of the gap between the last reading above and the next counts for the length of an excess, the gap at most this long. */
  readonly excessTailSeconds: number;
  /** The same after a start. */
  readonly startTailSeconds: number;
  /** A draw of at least this share of its limit just before is running, not starting. */
  readonly runningBeforeShare: number;
  /** A draw that falls within this time after it rose may be a start-up. */
  readonly startSeconds: number;
  /** A start-up's excess falls by at least this share within the persistence time. */
  readonly startFallShare: number;
  /** Excesses closer than this are one. */
  readonly joinSeconds: number;
  /** A reading holds until the next, at most this long. */
  readonly holdSeconds: number;
  /** Rows may come this much out of order. */
  readonly reorderSeconds: number;
  /** A row further ahead than this is believed only when others follow it. */
  readonly clockStepSeconds: number;
  readonly circuitSeconds: number;
  readonly continuousShare: number;
  readonly continuousSeconds: number;
  readonly continuousDipSeconds: number;
  readonly northAmericanVolts: number;
  readonly lowVoltageNorthAmerica: number;
  readonly highVoltageNorthAmerica: number;
  readonly voltageSecondsNorthAmerica: number;
  readonly voltageShareElsewhere: number;
  readonly voltageSecondsElsewhere: number;
  /** Below this share of nominal the supply is interrupted, not low. */
  readonly interruptionShare: number;
  readonly neutralSumShare: number;
  readonly neutralLegShare: number;
  readonly neutralSeconds: number;
  readonly coincidenceSeconds: number;
  readonly supplyTripSeconds: number;
  readonly supplyDipShare: number;
  readonly tripCount: number;
  readonly tripDays: number;
  readonly tagMemoryHours: number;
  readonly poissonConfidence: number;
  readonly driftShare: number;
  readonly driftDays: number;
  readonly baselineDays: number;
  /** Draws below this share of the rated input are standby, not running. */
  readonly runningShare: number;
  readonly runningWatts: number;
}

/** The values used unless a site states its own. */
export const screeningPolicy: ScreeningPolicy = {
  persistenceSeconds: 4,
  excessTailSeconds: 10,
  startTailSeconds: 3,
  runningBeforeShare: 0.1,
  startSeconds: 15,
  startFallShare: 0.25,
  joinSeconds: 10,
  holdSeconds: 60,
  reorderSeconds: 60,
  clockStepSeconds: 3600,
  circuitSeconds: 60,
  continuousShare: 0.8,
  continuousSeconds: 10_800,
  continuousDipSeconds: 60,
  northAmericanVolts: 127,
  lowVoltageNorthAmerica: 104,
  highVoltageNorthAmerica: 127,
  voltageSecondsNorthAmerica: 120,
  voltageShareElsewhere: 0.1,
  voltageSecondsElsewhere: 900,
  interruptionShare: 0.1,
  neutralSumShare: 0.03,
  neutralLegShare: 0.05,
  neutralSeconds: 10,
  coincidenceSeconds: 3,
  supplyTripSeconds: 5,
  supplyDipShare: 0.9,
  tripCount: 3,
  tripDays: 30,
  tagMemoryHours: 24,
  poissonConfidence: 0.95,
  driftShare: 0.16,
  driftDays: 3,
  baselineDays: 7,
  runningShare: 0.05,
  runningWatts: 2,
};

const own = "own choice, no source";
const practice = "common practice, no source";

/** Where each value comes from, shown beside it. */
export const policyOrigins: Readonly<Record<keyof ScreeningPolicy, string>> = {
  persistenceSeconds: practice,
  excessTailSeconds: own,
  startTailSeconds: own,
  runningBeforeShare: own,
  startSeconds: "common practice: motors accelerate within several seconds; no source",
  startFallShare: own,
  joinSeconds: own,
  holdSeconds: own,
  reorderSeconds: own,
  clockStepSeconds: own,
  circuitSeconds: own,
  continuousShare: "NEC 210.20(A): 125 % of the continuous load, so 80 % of the device",
  continuousSeconds: "NEC Article 100, continuous load: 3 h or more",
  continuousDipSeconds: own,
  northAmericanVolts: "ANSI C84.1 Range B, 120 V base",
  lowVoltageNorthAmerica: "ANSI C84.1 Range B utilization, newer editions (from memory; older editions 106 V)",
  highVoltageNorthAmerica: "ANSI C84.1 Range B (individual volts from memory)",
  voltageSecondsNorthAmerica: own,
  voltageShareElsewhere: "EN 50160 and IEC 60038: nominal within 10 %",
  voltageSecondsElsewhere: own,
  interruptionShare: "IEEE 1159-2009: interruption below 0.1 pu",
  neutralSumShare: own,
  neutralLegShare: "ANSI C84.1 Range A: 114 to 126 V service",
  neutralSeconds: own,
  coincidenceSeconds: own,
  supplyTripSeconds: own,
  supplyDipShare: "IEEE 1159-2009: sag below 0.9 pu",
  tripCount: own,
  tripDays: own,
  tagMemoryHours: own,
  poissonConfidence: practice,
  driftShare: own,
  driftDays: own,
  baselineDays: own,
  runningShare: own,
  runningWatts: own,
};
