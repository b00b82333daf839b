import type { ApplianceTable } from "./appliance-table";
import { driftResult, excessResult } from "./draw-results";
import { DriftTable } from "./drift-table";
import { ExcessTable } from "./excess-table";
import type { JudgedLimit, LimitTable } from "./limit-table";
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
  private readonly factors = new VoltageFactors();
  private readonly holdMs: number;
  /** The draw at hand, and 1 when it is in amperes. */
  private draw = Number.NaN;
  private byAmps = 0;

  constructor(private readonly tables: DrawTables) {
    const { policy, report } = tables;
    this.holdMs = policy.holdSeconds * 1000;
    this.excess = new ExcessTable(policy, (receptacle, episode) => {
      const appliance = tables.receptacles.appliance[receptacle]!;
      if (appliance < 0) return;
      const limit = tables.limits.limits[tables.receptacles.limit[receptacle]!]!;
      const unit = tables.receptacles.byAmps[receptacle] === 1 ? "A" : "W";
      report(
        excessResult(this.place(receptacle, appliance), { limit, unit, rating: tables.appliances.screened[appliance]!.rating }, episode),
      );
    });
    this.drift = new DriftTable(policy, (appliance, episode) =>
      report(driftResult(this.place(tables.appliances.lastReceptacle[appliance]!, appliance), policy.driftShare, episode)),
    );
  }

  private place(receptacle: number, appliance: number): ResultPlace {
    const { outlets, receptacles, appliances } = this.tables;
    const { site, circuit, outlet } = outlets.plans[receptacles.outlet[receptacle]!]!;
    const { tag } = appliances.screened[appliance]!;
    return { site, circuit, outlet, receptacle: receptacles.nameOf(receptacle) || null, tag };
  }

  /** Judges a row of a receptacle, when something is known to be plugged in there. */
  judge(receptacle: number, row: Row): void {
    const { receptacles, appliances, limits } = this.tables;
    const appliance = receptacles.appliance[receptacle]!;
    if (appliance < 0) return;
    const limit = limits.limits[receptacles.limit[receptacle]!]!;
    appliances.see(appliance, row);
    this.takeDraw(receptacle, limit, row);
    if (Number.isNaN(this.draw) || !this.keepsUnit(receptacle, row)) return;
    if (limit.exponent !== 0 && row.volts > 0) this.refer(receptacle, limit, row);
    const { excess } = this;
    excess.value = this.draw;
    excess.bound = this.byAmps === 1 ? limit.amps : limit.watts;
    excess.judge(receptacle, row);
    this.followDrift(receptacle, limit, row);
  }

  /** Takes the draw that decides, in watts or amperes as `byAmps` says then; NaN when the row cannot be judged. */
  private takeDraw(receptacle: number, limit: JudgedLimit, row: Row): void {
    if (limit.byCurrent || Number.isNaN(row.watts)) this.takeOtherDraw(receptacle, limit, row);
    else {
      this.byAmps = 0;
      this.draw = row.watts;
    }
  }

  private takeOtherDraw(receptacle: number, limit: JudgedLimit, row: Row): void {
    const { watts, amps, powerFactor } = row;
    const { outlets, receptacles } = this.tables;
    const volts = Number.isNaN(row.volts) ? outlets.nominalVolts[receptacles.outlet[receptacle]!]! : row.volts;
    this.byAmps = limit.amps < Number.POSITIVE_INFINITY ? 1 : 0;
    if (this.byAmps === 0) this.draw = Number.isNaN(watts) ? amps * volts * powerFactor : watts;
    else if (!Number.isNaN(amps)) this.draw = amps;
    else this.draw = volts > 0 ? watts / (volts * (powerFactor > 0 ? powerFactor : 1)) : Number.NaN;
  }

  /** Refers the draw to rated voltage. */
  private refer(receptacle: number, limit: JudgedLimit, row: Row): void {
    const { factors } = this;
    const value = this.draw * factors.at(factors.find(this.tables.receptacles.limit[receptacle]!, limit, row.volts, this.byAmps));
    if (!limit.partlyResistive || value < this.draw) this.draw = value;
  }

  /** An excess is followed in the unit in which it began; rows that tell the other one wait until it is over or has fallen silent. */
  private keepsUnit(receptacle: number, row: Row): boolean {
    const { byAmps } = this.tables.receptacles;
    if (byAmps[receptacle] === this.byAmps) return true;
    if (!this.excess.isIdle(receptacle)) {
      const lastMs = this.excess.lastAboveMs(receptacle);
      if (row.atMs - lastMs <= this.holdMs) return false;
      this.excess.close(receptacle, lastMs + this.holdMs);
    }
    byAmps[receptacle] = this.byAmps;
    return true;
  }

  private followDrift(receptacle: number, limit: JudgedLimit, row: Row): void {
    const { drift, byAmps, draw } = this;
    const appliance = this.tables.receptacles.appliance[receptacle]!;
    const running = byAmps === 1 ? limit.runningAmps : limit.runningWatts;
    let at = drift.placeOf(appliance);
    if (at < 0) {
      if (running === 0 || draw < running) return;
      at = drift.begin(appliance, { running, highest: byAmps === 1 ? limit.amps : limit.watts, byAmps });
    }
    drift.value = draw;
    if (!drift.isRunning(at, byAmps)) return;
    if (drift.isDayOver(at, row)) drift.beginDay(appliance, row.atMs, this.endOfDay(receptacle, row.atMs));
    drift.add(at, row);
  }

  private endOfDay(receptacle: number, atMs: number): number {
    const { outlets, receptacles } = this.tables;
    return endOfLocalDay(outlets.plans[receptacles.outlet[receptacle]!]!.timeZone, atMs);
  }

  /** The draw ends: switched off, tripped or unplugged. */
  drawEnds(receptacle: number, atMs: number): void {
    this.excess.end(receptacle, atMs);
    this.excess.quiet(receptacle, atMs, 0);
  }
}
