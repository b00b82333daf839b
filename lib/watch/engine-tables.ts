import { ApplianceTable } from "./appliance-table";
import { circuitResult } from "./circuit-results";
import { CircuitTable } from "./circuit-table";
import { DrawJudge } from "./draw-judge";
import { LimitTable } from "./limit-table";
import { LineWatch } from "./line-watch";
import { NameIndex } from "./name-index";
import { OutletLoad } from "./outlet-load";
import type { PlannedOutlet } from "./outlet-plan";
import { OutletTable } from "./outlet-table";
import { Plugging } from "./plugging";
import type { ScreeningPolicy } from "./policy";
import { ReceptacleTable } from "./receptacle-table";
import type { ScreenedAppliance } from "./screened-appliance";
import type { ScreeningResult } from "./screening-result";
import { addSite, siteWiring } from "./site-plan";
import { SiteState } from "./site-state";

/** Everything a screening knows, in tables, and those who judge by them. */
export class EngineTables {
  readonly outlets: OutletTable;
  readonly receptacles: ReceptacleTable;
  readonly appliances: ApplianceTable;
  readonly circuits: CircuitTable;
  readonly draws: DrawJudge;
  readonly loads: OutletLoad;
  readonly line: LineWatch;
  readonly plugs: Plugging;
  readonly sites: SiteState[] = [];
  /** The outlets by name; of two with one name the first. */
  private readonly outletNames = new NameIndex((outlet) => this.outlets.plans[outlet]!.outlet);

  constructor(
    readonly policy: ScreeningPolicy,
    plans: readonly PlannedOutlet[],
    appliances: readonly ScreenedAppliance[],
    report: (result: ScreeningResult) => void,
  ) {
    const limits = new LimitTable(policy);
    const outlets = new OutletTable(policy);
    this.outlets = outlets;
    this.appliances = new ApplianceTable((count) => this.draws.drift.grow(count));
    this.receptacles = new ReceptacleTable(outlets, (count) => this.draws.excess.grow(count));
    this.circuits = new CircuitTable(policy, outlets, (circuit, episode, continuous) =>
      report(circuitResult(this.circuits.named(circuit), episode, continuous)),
    );
    const tables = { policy, outlets, receptacles: this.receptacles, appliances: this.appliances, circuits: this.circuits, limits, report };
    this.draws = new DrawJudge(tables);
    this.loads = new OutletLoad(tables);
    this.line = new LineWatch({
      policy,
      outlets,
      report: (site, episode) => this.sites[site]!.addVoltage(episode),
    });
    this.plugs = new Plugging({ ...tables, onLeave: (receptacle, atMs) => this.draws.excess.close(receptacle, atMs) });
    this.addSites(plans);
    this.addAppliances(appliances);
  }

  private addSites(plans: readonly PlannedOutlet[]): void {
    const { outlets } = this;
    for (const table of [outlets, this.loads.excess, this.line]) table.grow(plans.length);
    this.receptacles.grow(plans.reduce((sum, { receptacles }) => sum + Math.min(Math.max(receptacles, 1), 4), 0));
    const bySite = new Map<string, PlannedOutlet[]>();
    for (const plan of plans) {
      const known = bySite.get(plan.site);
      if (known === undefined) bySite.set(plan.site, [plan]);
      else known.push(plan);
    }
    for (const [name, ofSite] of bySite) this.addSite(name, ofSite);
    for (const [outlet, plan] of outlets.plans.entries()) if (this.outletNumber(plan.outlet) < 0) this.outletNames.put(outlet);
  }

  /** The number of an outlet by its name; -1 when it is in no plan. */
  outletNumber(name: string): number {
    return this.outletNames.find(name);
  }

  private addSite(name: string, plans: readonly PlannedOutlet[]): void {
    const { policy, outlets, circuits } = this;
    const wiring = siteWiring(plans, policy);
    const { neutralNominal } = wiring;
    const site = new SiteState(name, { policy, outlets, neutralNominal, serviceOf: (tag) => this.serviceOf(tag) });
    const added = addSite({ policy, outlets, circuits }, this.sites.length, plans, wiring);
    this.sites.push(site);
    this.line.neutrals.push(site.neutral);
    site.outlets = Int32Array.from(added);
    if (site.neutral !== null) site.neutral.outlets = site.outlets.filter((outlet) => outlets.leg[outlet]! >= 0);
  }

  private addAppliances(appliances: readonly ScreenedAppliance[]): void {
    this.appliances.grow(appliances.length);
    for (const screened of appliances) {
      const appliance = this.appliances.add(screened);
      const outlet = this.recordedOutlet(screened);
      if (outlet < 0) continue;
      this.plugs.plugRecorded(appliance, outlet, Number.NEGATIVE_INFINITY);
      this.outlets.recorded[outlet] = this.outlets.recorded[outlet] === -1 ? appliance : -2;
    }
  }

  /** The outlet where an appliance is recorded to be; -1 when it is in no plan. */
  recordedOutlet({ outlet }: ScreenedAppliance): number {
    return outlet === null ? -1 : this.outletNumber(outlet);
  }

  /** Ends everything that is open at the end of the log and reports what is left. */
  close(atMs: number, report: (result: ScreeningResult) => void): void {
    const { outlets, receptacles, appliances, circuits, draws, loads, line } = this;
    for (let outlet = 0; outlet < outlets.count; outlet++) {
      loads.excess.close(outlet, atMs);
      line.close(outlet, atMs);
    }
    for (let receptacle = 0; receptacle < receptacles.count; receptacle++) draws.excess.close(receptacle, atMs);
    for (let circuit = 0; circuit < circuits.count; circuit++) circuits.close(circuit, atMs);
    for (const site of this.sites) for (const result of site.close()) report(result);
    for (let appliance = 0; appliance < appliances.count; appliance++) draws.drift.close(appliance);
  }

  private serviceOf(tag: string) {
    const { appliances } = this;
    const appliance = appliances.find(tag);
    return appliance < 0 ? null : { firstMs: appliances.firstMs[appliance]!, lastMs: appliances.lastMs[appliance]! };
  }
}
