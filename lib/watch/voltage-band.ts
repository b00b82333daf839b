import type { ScreeningPolicy } from "./policy";

/** The voltages that are let pass at one nominal, and for how long the line must be outside. */
export interface VoltageBand {
  readonly nominal: number;
  readonly low: number;
  readonly high: number;
  readonly lastingMs: number;
  /** Below this the supply is interrupted. */
  readonly interrupted: number;
  /** Below this the supply is in a dip. */
  readonly dip: number;
  readonly northAmerican: boolean;
  readonly rule: string;
}

/** Nominals taken as the 120 V base itself; other low nominals scale Range B by their own base. */
function base120(nominal: number): number {
  return nominal >= 110 ? 1 : nominal / 120;
}

/** The band of a nominal voltage: up to 127 V by ANSI C84.1 Range B, above within 10 % as EN 50160. */
export function voltageBand(nominal: number, policy: ScreeningPolicy): VoltageBand {
  const shared = { nominal, interrupted: nominal * policy.interruptionShare, dip: nominal * policy.supplyDipShare };
  if (nominal <= policy.northAmericanVolts) {
    const [low, high] = [policy.lowVoltageNorthAmerica * base120(nominal), policy.highVoltageNorthAmerica * base120(nominal)];
    const rule = `ANSI C84.1 Range B: ${low} to ${high} V, for at least ${policy.voltageSecondsNorthAmerica} s`;
    return { ...shared, low, high, lastingMs: policy.voltageSecondsNorthAmerica * 1000, northAmerican: true, rule };
  }
  const [low, high] = [nominal * (1 - policy.voltageShareElsewhere), nominal * (1 + policy.voltageShareElsewhere)].map(
    (volts) => Math.round(volts * 100) / 100,
  );
  const rule = `nominal within 10 % (EN 50160, IEC 60038): ${low} to ${high} V, for at least ${policy.voltageSecondsElsewhere / 60} min`;
  return { ...shared, low: low!, high: high!, lastingMs: policy.voltageSecondsElsewhere * 1000, northAmerican: false, rule };
}
