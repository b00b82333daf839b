import { referred } from "./appliance-limit";
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
  private readonly holdMs: number;
  /** 1 when the draw last told is in amperes. */
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
    const { atMs } = row;
    appliances.see(appliance, atMs);
    const draw = this.drawOf(receptacle, limit, row);
    if (Number.isNaN(draw) || !this.keepsUnit(receptacle, atMs)) return;
    const value = limit.exponent === 0 ? draw : referred(limit, draw, row.volts, this.byAmps === 1 ? "A" : "W");
    const bound = this.byAmps === 1 ? limit.amps : limit.watts;
    if (value > bound || !this.excess.isIdle(receptacle)) this.excess.observe(receptacle, atMs, value, bound);
    else this.excess.quiet(receptacle, atMs, value / bound);
    this.followDrift(receptacle, limit, atMs, value);
  }

  /** The draw that decides, in watts or amperes as `byAmps` says then. NaN when the row cannot be judged. */
  private drawOf(receptacle: number, limit: JudgedLimit, row: Row): number {
    const { watts } = row;
    if (!Number.isNaN(watts) && !limit.byCurrent) {
      this.byAmps = 0;
      return watts;
    }
    return this.otherDraw(receptacle, limit, row);
  }

  private otherDraw(receptacle: number, limit: JudgedLimit, row: Row): number {
    const { outlets, receptacles } = this.tables;
    const { watts } = row;
    const { amps } = row;
    const factor = row.powerFactor;
    const measured = row.volts;
    const volts = !Number.isNaN(measured) ? measured : outlets.nominalVolts[receptacles.outlet[receptacle]!]!;
    this.byAmps = limit.amps < Number.POSITIVE_INFINITY ? 1 : 0;
    if (this.byAmps === 0) return !Number.isNaN(watts) ? watts : amps * volts * factor;
    if (!Number.isNaN(amps)) return amps;
    return volts > 0 ? watts / (volts * (factor > 0 ? factor : 1)) : Number.NaN;
  }

  /** An excess is followed in the unit in which it began; rows that tell the other one wait until it is over or has fallen silent. */
  private keepsUnit(receptacle: number, atMs: number): boolean {
    const { byAmps } = this.tables.receptacles;
    if (byAmps[receptacle] === this.byAmps) return true;
    if (!this.excess.isIdle(receptacle)) {
      const lastMs = this.excess.lastAboveMs(receptacle);
      if (atMs - lastMs <= this.holdMs) return false;
      this.excess.close(receptacle, lastMs + this.holdMs);
    }
    byAmps[receptacle] = this.byAmps;
    return true;
  }

  private followDrift(receptacle: number, limit: JudgedLimit, atMs: number, value: number): void {
    const { drift, byAmps } = this;
    const appliance = this.tables.receptacles.appliance[receptacle]!;
    let at = drift.placeOf(appliance);
    if (at < 0) {
      const running = byAmps === 1 ? limit.runningAmps : limit.runningWatts;
      if (running === 0 || value < running) return;
      at = drift.begin(appliance, { running, highest: byAmps === 1 ? limit.amps : limit.watts, byAmps });
    }
    if (!drift.isRunning(at, value, byAmps)) return;
    if (drift.isDayOver(at, atMs)) drift.beginDay(appliance, atMs, this.endOfDay(receptacle, atMs));
    drift.add(at, atMs, value);
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
