import { type LoadKind, loadKindOf, voltageExponent } from "@/lib/electrical/load-kind";
import { allowedInput, allowedLamps, motorLeads, ratedInput } from "@/lib/electrical/permitted-deviation";
import { ratedVoltage } from "@/lib/electrical/rated-voltage";
import type { ScreenedAppliance } from "./screened-appliance";

/** What one appliance may draw at one nominal voltage, ready to be compared reading by reading. */
export interface ApplianceLimit {
  readonly kind: LoadKind;
  /** True when the limit is a fixture's lamp maximum. */
  readonly lamp: boolean;
  /** Infinity when no limit in that unit is known. */
  readonly watts: number;
  readonly amps: number;
  readonly ratedWatts: number | null;
  /** The current decides although watts may be measured: amps-only plates, and electronics with a rated current. */
  readonly byCurrent: boolean;
  /** n of P ~ V^n to refer the draw to `ratedVolts`; 0 when it is judged as measured. */
  readonly exponent: number;
  readonly ratedVolts: number;
  /** A combined appliance is only partly a resistance, so the smaller of the measured and the referred draw is judged. */
  readonly partlyResistive: boolean;
  readonly rule: string;
}

function lampLimit(appliance: ScreenedAppliance, kind: LoadKind): { watts: number; rule: string } | null {
  const { lamp, watts, amps } = appliance.rating;
  if (lamp === null) return null;
  return kind === "lamp" || (watts === null && amps === null) ? allowedLamps(lamp) : null;
}

/** For a resistance rated in watts only, the current that goes with its allowed watts. */
function resistiveAmps(watts: number | null, exponent: number, volts: number): number {
  return watts !== null && exponent > 0 && volts > 0 ? watts / volts : Number.POSITIVE_INFINITY;
}

/** The limit of an appliance on a supply of `siteVolts` nominal (null: unknown). Watts and amps are Infinity where the plate is silent. */
export function applianceLimit(appliance: ScreenedAppliance, siteVolts: number | null): ApplianceLimit {
  const kind = loadKindOf(appliance.category);
  const lamp = lampLimit(appliance, kind);
  const allowed = allowedInput(appliance.rating, kind, siteVolts, appliance.deviation);
  const motor = kind === "combined" && motorLeads(appliance.rating);
  const exponent = lamp !== null || !motor ? voltageExponent(lamp !== null ? "lamp" : kind, appliance.category) : 0;
  const ratedVolts = ratedVoltage(appliance.rating, siteVolts) ?? 0;
  const watts = lamp?.watts ?? allowed.watts;
  const amps = lamp === null ? allowed.amps : null;
  return {
    kind,
    lamp: lamp !== null,
    watts: watts ?? Number.POSITIVE_INFINITY,
    amps: amps ?? resistiveAmps(watts, exponent, ratedVolts),
    ratedWatts: ratedInput(appliance.rating, siteVolts).watts,
    byCurrent: amps !== null && (watts === null || kind === "electronics"),
    exponent: ratedVolts > 0 ? exponent : 0,
    ratedVolts,
    partlyResistive: kind === "combined",
    rule: lamp?.rule ?? allowed.rule,
  };
}

/** What a draw is multiplied by to refer it to rated voltage: watts (Vr/V)^n, amps (Vr/V)^(n-1). */
export function voltageFactor(limit: ApplianceLimit, volts: number, unit: "W" | "A"): number {
  const exponent = unit === "W" ? limit.exponent : limit.exponent - 1;
  const step = limit.ratedVolts / volts;
  return exponent === 2 ? step * step : exponent === 1 ? step : step ** exponent;
}

/** A draw referred to rated voltage; as measured where no voltage is known. */
export function referred(limit: ApplianceLimit, draw: number, volts: number | null, unit: "W" | "A"): number {
  if (limit.exponent === 0 || volts === null || !(volts > 0)) return draw;
  const value = draw * voltageFactor(limit, volts, unit);
  return limit.partlyResistive ? Math.min(draw, value) : value;
}
