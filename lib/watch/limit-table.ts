import { type ApplianceLimit, applianceLimit } from "./appliance-limit";
import { longer, roomFor } from "./columns";
import type { ScreeningPolicy } from "./policy";
import type { ScreenedAppliance } from "./screened-appliance";

/** A limit with what counts as running below it. */
export interface JudgedLimit extends ApplianceLimit {
  /** The least draw that is running and not standby, in watts and amperes; 0 where no rating tells. */
  readonly runningWatts: number;
  readonly runningAmps: number;
}

function known(value: number | null): number {
  return value !== null && value < Number.POSITIVE_INFINITY ? value : 0;
}

/** Bits of `LimitTable.ways`: how a draw is taken and referred. */
export const byCurrentWay = 1;
export const referredWay = 2;
export const partlyResistiveWay = 4;

/**
 * The limits of a screening by number: appliances with the same plate on the same supply share one. What every row asks is in columns,
 * since a column is read faster than a field of one of many objects.
 */
export class LimitTable {
  readonly limits: JudgedLimit[] = [];
  ways = new Uint8Array(0);
  watts = new Float64Array(0);
  amps = new Float64Array(0);
  runningWatts = new Float64Array(0);
  runningAmps = new Float64Array(0);
  private readonly numbers = new Map<string, number>();

  constructor(private readonly policy: ScreeningPolicy) {}

  /** The limit of an appliance on a supply of `nominal` volts. */
  of(appliance: ScreenedAppliance, nominal: number | null): number {
    const limit = applianceLimit(appliance, nominal);
    const key = JSON.stringify([...Object.values(limit).map(String), nominal]);
    const same = this.numbers.get(key);
    if (same !== undefined) return same;
    const number = this.add(this.judged(limit, nominal));
    this.numbers.set(key, number);
    return number;
  }

  private add(limit: JudgedLimit): number {
    const number = this.limits.push(limit) - 1;
    if (number >= this.ways.length) this.grow(roomFor(number + 1, this.ways.length));
    const { byCurrent, exponent, partlyResistive } = limit;
    this.ways[number] = (byCurrent ? byCurrentWay : 0) | (exponent !== 0 ? referredWay : 0) | (partlyResistive ? partlyResistiveWay : 0);
    this.watts[number] = limit.watts;
    this.amps[number] = limit.amps;
    this.runningWatts[number] = limit.runningWatts;
    this.runningAmps[number] = limit.runningAmps;
    return number;
  }

  private grow(count: number): void {
    this.ways = longer(this.ways, count);
    this.watts = longer(this.watts, count);
    this.amps = longer(this.amps, count);
    this.runningWatts = longer(this.runningWatts, count);
    this.runningAmps = longer(this.runningAmps, count);
  }

  /** The most that is allowed, in watts (0) or amperes (1). */
  allowed(number: number, byAmps: number): number {
    return byAmps === 1 ? this.amps[number]! : this.watts[number]!;
  }

  private judged(limit: ApplianceLimit, nominal: number | null): JudgedLimit {
    const { runningWatts, runningShare } = this.policy;
    const [watts, amps] = [limit.ratedWatts ?? known(limit.watts), known(limit.amps)];
    return {
      ...limit,
      runningWatts: watts === 0 ? 0 : Math.max(runningWatts, runningShare * watts),
      runningAmps: amps === 0 ? 0 : Math.max(runningWatts / (nominal ?? 120), runningShare * amps),
    };
  }
}
