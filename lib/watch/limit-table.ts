import { type ApplianceLimit, applianceLimit } from "./appliance-limit";
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

/** The limits of a screening by number: appliances with the same plate on the same supply share one. */
export class LimitTable {
  readonly limits: JudgedLimit[] = [];
  private readonly numbers = new Map<string, number>();

  constructor(private readonly policy: ScreeningPolicy) {}

  /** The limit of an appliance on a supply of `nominal` volts. */
  of(appliance: ScreenedAppliance, nominal: number | null): number {
    const limit = applianceLimit(appliance, nominal);
    const key = JSON.stringify([...Object.values(limit).map(String), nominal]);
    const same = this.numbers.get(key);
    if (same !== undefined) return same;
    const number = this.limits.push(this.judged(limit, nominal)) - 1;
    this.numbers.set(key, number);
    return number;
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
