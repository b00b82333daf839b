import {
  type CurrentRule,
  flexibleOhmsPerMetre,
  type InspectionStandard,
  type InspectionStandardName,
  inspectionStandards,
  type LimitBasis,
  type Sourced,
} from "./inspection-limit-tables";
import type { ProtectionClass } from "./rating";

/** What decides an appliance's limits. */
export interface LimitFacts {
  readonly protectionClass: ProtectionClass | null;
  /** Length of the cord in metres; null where nobody measured it. */
  readonly cordMetres: number | null;
  /** Cross-section of the cord's conductors in mm2. */
  readonly cordSquareMillimetres: number | null;
  readonly isHeating: boolean;
  readonly isHandHeld: boolean;
  readonly ratedKilowatts: number | null;
}

/** A limit as it is applied to one appliance, with the sentence that says why. */
export interface AppliedLimit {
  readonly limit: number;
  readonly side: "most" | "least";
  readonly unit: "ohm" | "Mohm" | "mA";
  /** Names the standard, the clause, the arithmetic and how the figure is known. */
  readonly rule: string;
  readonly basis: LimitBasis;
}

const standardOf = (name: InspectionStandardName): InspectionStandard => inspectionStandards[name];
const round = (value: number): number => Math.round(value * 1000) / 1000;

function applied(
  name: InspectionStandardName,
  { clause, basis }: Omit<Sourced<unknown>, "limit">,
  how: Pick<AppliedLimit, "limit" | "side" | "unit"> & { readonly why?: string },
): AppliedLimit {
  const { limit, side, unit, why } = how;
  const words = `at ${side} ${round(limit)} ${unit}${why ? `, ${why}` : ""}`;
  return { limit: round(limit), side, unit, basis, rule: `${name}: ${words} (${clause}; ${basis}).` };
}

/**
 * A cord nobody measured counts as short, which gives the lowest limit. One of unknown cross-section counts as 1.5 mm2, the thickest in
 * common use (common practice, no source); where it may be thicker it must be stated, since its limit is lower.
 */
const unknownCord = { metres: 0, squareMillimetres: 1.5 } as const;

/** Most ohms between the plug's earth contact and what can be touched. */
export function conductorLimit(name: InspectionStandardName, facts: LimitFacts): AppliedLimit {
  const { conductor } = standardOf(name);
  const rule = conductor.limit;
  const metres = facts.cordMetres ?? unknownCord.metres;
  const length = facts.cordMetres === null ? "cord length not given, so counted as short" : `cord of ${metres} m`;
  const most = (limit: number, why?: string) =>
    applied(name, conductor, { limit, side: "most", unit: "ohm", ...(why === undefined ? {} : { why }) });
  const square = facts.cordSquareMillimetres ?? unknownCord.squareMillimetres;
  const withCord = (ohms: number) => {
    const each = ohmsPerMetre(square);
    return { limit: ohms + each * metres, why: `${ohms} ohm and ${length} of ${square} mm2 at ${each} ohm/m` };
  };
  if (rule.how === "fixed") return most(rule.ohms);
  if (rule.how === "fixed and cord") {
    const { limit, why } = withCord(rule.ohms);
    return most(limit, why);
  }
  const step = rule.rows.find(({ upToMetres }) => metres <= upToMetres)?.ohms ?? rule.beyond;
  if (square <= rule.upToSquareMillimetres) return most(step, length);
  const { limit, why } = withCord(rule.thickerOhms);
  return limit < step ? most(limit, why) : most(step, length);
}

/** Of the next thicker conductor in the table, since that has the lower resistance and so the lower limit. */
function ohmsPerMetre(square: number): number {
  const sizes = Object.keys(flexibleOhmsPerMetre)
    .map(Number)
    .sort((a, b) => a - b);
  const size = sizes.find((one) => one >= square) ?? sizes.at(-1);
  return flexibleOhmsPerMetre[String(size)] ?? 0;
}

/** Least insulation resistance, Mohm. A class that is not known is judged as Class II where that is stricter. */
export function insulationLimit(name: InspectionStandardName, facts: LimitFacts): AppliedLimit {
  const { insulation, insulationHeating } = standardOf(name);
  const least = (limit: number, why: string, source: Omit<Sourced<unknown>, "limit"> = insulation) =>
    applied(name, source, { limit, side: "least", unit: "Mohm", why });
  if (facts.protectionClass === null) return least(Math.max(...Object.values(insulation.limit)), "class not known, the strictest counts");
  if (facts.protectionClass === "I" && facts.isHeating && insulationHeating)
    return least(insulationHeating.limit, "Class I with heating", insulationHeating);
  return least(insulation.limit[facts.protectionClass], `Class ${facts.protectionClass}`);
}

function currentLimit(name: InspectionStandardName, rule: Sourced<CurrentRule>, facts: LimitFacts): AppliedLimit {
  const { milliamps, handHeldMilliamps, heating } = rule.limit;
  const most = (limit: number, why?: string) =>
    applied(name, rule, { limit, side: "most", unit: "mA", ...(why === undefined ? {} : { why }) });
  const kilowatts = facts.ratedKilowatts;
  if (heating && facts.isHeating && kilowatts !== null && kilowatts > heating.aboveKilowatts)
    return most(
      Math.min(kilowatts * heating.perKilowatt, heating.most),
      `${heating.perKilowatt} mA/kW x ${round(kilowatts)} kW, never above ${heating.most} mA`,
    );
  return handHeldMilliamps !== undefined && facts.isHandHeld ? most(handHeldMilliamps, "held in the hand") : most(milliamps);
}

/** Most current in the protective conductor, mA. */
export function conductorCurrentLimit(name: InspectionStandardName, facts: LimitFacts): AppliedLimit {
  return currentLimit(name, standardOf(name).conductorCurrent, facts);
}

/** Most current through a person who touches it, mA. */
export function touchCurrentLimit(name: InspectionStandardName, facts: LimitFacts): AppliedLimit {
  return currentLimit(name, standardOf(name).touchCurrent, facts);
}

/** The set that is usual for a nominal voltage: North American up to 127 V or unknown, else European. */
export function usualInspectionStandard(nominalVolts: number | null): InspectionStandardName {
  return nominalVolts === null || nominalVolts <= 127 ? "North America" : "EN 50699";
}
