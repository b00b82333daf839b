import type { CircuitTable } from "./circuit-table";
import { legName, type PlannedOutlet } from "./outlet-plan";
import type { OutletTable } from "./outlet-table";
import type { ScreeningPolicy } from "./policy";

/** Nominal of the outlets that the plan leaves empty: the one that most of a site's outlets have. */
function commonVolts(outlets: readonly PlannedOutlet[]): number | null {
  const counts = new Map<number, number>();
  for (const { volts } of outlets) if (volts !== null) counts.set(volts, (counts.get(volts) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1] || a[0] - b[0])[0]?.[0] ?? null;
}

/** What the plan of one site says of its supply. */
export interface SiteWiring {
  readonly common: number | null;
  /** Whether an outlet is on a supply of up to 127 V. */
  readonly isLow: (plan: PlannedOutlet) => boolean;
  readonly hasLow: boolean;
  /** Names of the two legs of a split-phase supply; none where there are not just two. */
  readonly legs: readonly string[];
  /** Nominal of the split-phase supply; null where there is none. */
  readonly neutralNominal: number | null;
}

export function siteWiring(plans: readonly PlannedOutlet[], policy: ScreeningPolicy): SiteWiring {
  const common = commonVolts(plans);
  const isLow = (plan: PlannedOutlet) => {
    const volts = plan.volts ?? common ?? 0;
    return volts > 0 && volts <= policy.northAmericanVolts;
  };
  const low = plans.filter(isLow);
  const names = [...new Set(low.map(legName))].filter((name) => name !== "");
  const legs = names.length === 2 ? names : [];
  return { common, isLow, hasLow: low.length > 0, legs, neutralNominal: legs.length === 2 ? (commonVolts(low) ?? 120) : null };
}

export interface PlanTables {
  readonly policy: ScreeningPolicy;
  readonly outlets: OutletTable;
  readonly circuits: CircuitTable;
}

/** Adds the outlets of one site, number `site`, with their circuits; gives the outlets' numbers. */
export function addSite(tables: PlanTables, site: number, plans: readonly PlannedOutlet[], wiring: SiteWiring): number[] {
  const circuits = new Map<string, number>();
  return plans.map((plan) => {
    const circuit = circuitOf(tables, circuits, plan, wiring.hasLow);
    const leg = wiring.isLow(plan) ? wiring.legs.indexOf(legName(plan)) : -1;
    const outlet = tables.outlets.add(plan, { site, circuit, leg, nominalVolts: plan.volts ?? wiring.common });
    if (circuit >= 0) tables.circuits.join(circuit, outlet);
    return outlet;
  });
}

/** The number of an outlet's circuit, each leg of a circuit by itself; -1 where the plan does not say what its device is. */
function circuitOf(tables: PlanTables, circuits: Map<string, number>, plan: PlannedOutlet, northAmerican: boolean): number {
  const { circuit, deviceAmps } = plan;
  if (circuit === null || deviceAmps === null || deviceAmps <= 0) return -1;
  const key = `${circuit}\u0000${legName(plan)}`;
  const known = circuits.get(key);
  if (known !== undefined) return known;
  const made = tables.circuits.add(deviceAmps, northAmerican);
  circuits.set(key, made);
  return made;
}
