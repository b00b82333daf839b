import type { ApplianceTable } from "./appliance-table";
import { type BaselineStretch, baselineStretch } from "./documented-baseline";
import { driftResult, excessResult } from "./draw-results";
import { type DriftEpisode, DriftTable } from "./drift-table";
import type { ExcessEpisode } from "./excess-episode";
import { ExcessTable } from "./excess-table";
import { byCurrentWay, type LimitTable, partlyResistiveWay, referredWay } from "./limit-table";
import type { ResultPlace } from "./make-result";
import type { OutletTable } from "./outlet-table";
import type { ScreeningPolicy } from "./policy";
import type { ReceptacleTable } from "./receptacle-table";
import type { Row } from "./row";
import type { ScreeningResult } from "./screening-result";
import { VoltageFactors } from "./voltage-factors";
import { endOfLocalDay } from "./zone-time";

export interface DrawTables {
  readonly policy: ScreeningPolicy;
  readonly outlets: OutletTable;
  readonly receptacles: ReceptacleTable;
  readonly appliances: ApplianceTable;
  readonly limits: LimitTable;
  readonly report: (result: ScreeningResult) => void;
}

/** Judges what each appliance draws by its own limit, and against its own baseline. */
export class DrawJudge {
  readonly excess: ExcessTable;
  readonly drift: DriftTable;
  private readonly factors: VoltageFactors;
  private readonly documented = new Map<number, BaselineStretch>();
  private readonly holdMs: number = Number.NaN;
  /** The draw at hand, and 1 when it is in amperes. */
  private draw = Number.NaN;
  private byAmps = 0;

  constructor(private readonly tables: DrawTables) {
    const { policy, report } = tables;
    this.holdMs = policy.holdSeconds * 1000;
    this.factors = new VoltageFactors(tables.limits);
    this.excess = new ExcessTable(policy, {
      limitOf: (receptacle) => tables.limits.allowed(tables.receptacles.limit[receptacle]!, tables.receptacles.byAmps[receptacle]!),
      report: (receptacle, episode) => this.reportExcess(receptacle, episode),
    });
    this.drift = new DriftTable(policy, {
      documentedOf: (appliance) => this.documentedOf(appliance),
      report: (appliance, episode) => report(this.driftOf(appliance, episode)),
    });
  }

  private driftOf(appliance: number, episode: DriftEpisode): ScreeningResult {
    const { policy, appliances } = this.tables;
    const place = this.place(appliances.lastReceptacle[appliance]!, appliance);
    return driftResult(place, { policy, documented: appliances.screened[appliance]!.baseline ?? null }, episode);
  }

  private documentedOf(appliance: number): BaselineStretch | null {
    const { baseline } = this.tables.appliances.screened[appliance]!;
    if (baseline === undefined) return null;
    const known = this.documented.get(appliance);
    if (known !== undefined) return known;
    const stretch = baselineStretch(baseline);
    this.documented.set(appliance, stretch);
    return stretch;
  }

  private reportExcess(receptacle: number, episode: ExcessEpisode): void {
    const { receptacles, appliances, limits, report } = this.tables;
    const appliance = receptacles.appliance[receptacle]!;
    if (appliance < 0) return;
    const limit = limits.limits[receptacles.limit[receptacle]!]!;
    const unit = receptacles.byAmps[receptacle] === 1 ? "A" : "W";
    report(excessResult(this.place(receptacle, appliance), { limit, unit, rating: appliances.screened[appliance]!.rating }, episode));
  }

  private place(receptacle: number, appliance: number): ResultPlace {
    const { outlets, receptacles, appliances } = this.tables;
    const { site, circuit, outlet } = outlets.plans[receptacles.outlet[receptacle]!]!;
    const { tag } = appliances.screened[appliance]!;
    return { site, circuit, outlet, receptacle: receptacles.nameOf(receptacle) || null, tag };
  }

  /** Judges a row of a receptacle, when something is known to be plugged in there. */
  judge(row: Row): void {
    const { receptacles, appliances, limits } = this.tables;
    const { receptacle } = row;
    const appliance = receptacles.appliance[receptacle]!;
    if (appliance < 0) return;
    const limit = receptacles.limit[receptacle]!;
    const ways = limits.ways[limit]!;
    appliances.see(appliance, row);
    this.byAmps = 0;
    this.draw = row.watts;
    if ((ways & byCurrentWay) !== 0 || Number.isNaN(row.watts)) this.takeOtherDraw(limit, row);
    if (Number.isNaN(this.draw)) return;
    if (receptacles.byAmps[receptacle] !== this.byAmps && !this.changesUnit(receptacle, row)) return;
    if ((ways & referredWay) !== 0 && row.volts > 0) this.refer(limit, ways, row);
    const { excess } = this;
    excess.value = this.draw;
    excess.bound = limits.allowed(limit, this.byAmps);
    excess.judge(receptacle, row);
    this.followDrift(appliance, limit, row);
  }

  /** Takes the draw of a row where watts do not decide, in watts or amperes as `byAmps` says then; NaN when the row cannot be judged. */
  private takeOtherDraw(limit: number, row: Row): void {
    const { watts, amps, powerFactor } = row;
    const { outlets, limits } = this.tables;
    const volts = Number.isNaN(row.volts) ? outlets.nominalVolts(row.outlet) : row.volts;
    this.byAmps = limits.amps[limit]! < Number.POSITIVE_INFINITY ? 1 : 0;
    if (this.byAmps === 0) this.draw = Number.isNaN(watts) ? amps * volts * powerFactor : watts;
    else if (!Number.isNaN(amps)) this.draw = amps;
    else this.draw = volts > 0 ? watts / (volts * (powerFactor > 0 ? powerFactor : 1)) : Number.NaN;
  }

  /** Refers the draw to rated voltage. */
  private refer(limit: number, ways: number, row: Row): void {
    const { factors } = this;
    const value = this.draw * factors.at(factors.find(limit, row.volts, this.byAmps));
    if ((ways & partlyResistiveWay) === 0 || value < this.draw) this.draw = value;
  }

  /** An excess is followed in the unit in which it began; rows that tell the other one wait until it is over or has fallen silent. */
  private changesUnit(receptacle: number, row: Row): boolean {
    if (!this.excess.isIdle(receptacle)) {
      const lastMs = this.excess.lastAboveMs(receptacle);
      if (row.atMs - lastMs <= this.holdMs) return false;
      this.excess.close(receptacle, lastMs + this.holdMs);
    }
    this.tables.receptacles.byAmps[receptacle] = this.byAmps;
    return true;
  }

  private followDrift(appliance: number, limit: number, row: Row): void {
    const { drift, byAmps, draw } = this;
    let at = drift.placeOf(appliance);
    if (at < 0) {
      const { limits } = this.tables;
      const running = byAmps === 1 ? limits.runningAmps[limit]! : limits.runningWatts[limit]!;
      if (running === 0 || draw < running) return;
      at = drift.begin(appliance, { running, highest: limits.allowed(limit, byAmps), byAmps });
    }
    drift.value = draw;
    if (!drift.isRunning(at, byAmps)) return;
    if (drift.isDayOver(at, row)) drift.beginDay(appliance, row.atMs, this.endOfDay(row));
    drift.add(at, row);
  }

  private endOfDay(row: Row): number {
    return endOfLocalDay(this.tables.outlets.plans[row.outlet]!.timeZone, row.atMs);
  }

  /** The draw ends: switched off, tripped or unplugged. */
  drawEnds(receptacle: number, atMs: number): void {
    this.excess.end(receptacle, atMs);
    this.excess.rests(receptacle);
  }
}
