import type { DrawMinute } from "@/lib/store/reading-queries";

const minuteMs = 60_000;

/** What one receptacle did in one minute. */
class Minute {
  private readings = 0;
  private readonly sums = { watts: 0, amps: 0, volts: 0 };
  private readonly counts = { watts: 0, amps: 0, volts: 0 };
  private maxWatts: number | null = null;

  constructor(private readonly key: Pick<DrawMinute, "organisationId" | "outletId" | "receptacle" | "at" | "applianceId">) {}

  take(reading: Measured): void {
    this.readings += 1;
    for (const name of ["watts", "amps", "volts"] as const) {
      const value = reading[name];
      if (value === null) continue;
      this.sums[name] += value;
      this.counts[name] += 1;
    }
    if (reading.watts !== null) this.maxWatts = Math.max(this.maxWatts ?? 0, reading.watts);
  }

  private mean(name: "watts" | "amps" | "volts"): number | null {
    return this.counts[name] === 0 ? null : this.sums[name] / this.counts[name];
  }

  row(): DrawMinute {
    const means = { meanWatts: this.mean("watts"), meanAmps: this.mean("amps"), meanVolts: this.mean("volts") };
    return { ...this.key, ...means, maxWatts: this.maxWatts, readings: this.readings };
  }
}

/** The measures of a reading that are thinned; null is not measured. */
export interface Measured {
  readonly watts: number | null;
  readonly amps: number | null;
  readonly volts: number | null;
}

/** Where and whose a reading is. */
export interface MinuteOwner {
  readonly organisationId: string;
  readonly outletId: string;
  readonly receptacle: string;
  readonly applianceId: string | null;
}

/** Thins readings to one row a receptacle and minute: means and the largest watts, so that spikes stay visible. */
export class MinuteFold {
  private readonly minutes = new Map<string, Minute>();

  take(owner: MinuteOwner, atMs: number, reading: Measured): void {
    const at = Math.floor(atMs / minuteMs) * minuteMs;
    const key = `${owner.outletId} ${owner.receptacle} ${at}`;
    let minute = this.minutes.get(key);
    if (!minute) {
      minute = new Minute({ ...owner, at: new Date(at) });
      this.minutes.set(key, minute);
    }
    minute.take(reading);
  }

  /** The rows so far; the fold is empty afterwards. */
  empty(): DrawMinute[] {
    const rows = [...this.minutes.values()].map((minute) => minute.row());
    this.minutes.clear();
    return rows;
  }
}
