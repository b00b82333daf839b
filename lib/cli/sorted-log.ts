import { OutletOrder } from "@/lib/watch/outlet-order";
import { screeningPolicy } from "@/lib/watch/policy";
import type { Reading } from "@/lib/watch/reading";
import type { Screening } from "@/lib/watch/screening";
import { type LogAccount, type RowSink, takeLog, type ZoneOfOutlet } from "./screen-log";

/** Rows held in memory at once, about. */
const rowsAtOnce = 500_000;

/** The rows of one stretch of time out of a log, in the order of the file; what is set aside is told in the first stretch only. */
class Stretch implements RowSink {
  readonly rows: Reading[] = [];
  private readonly order = new OutletOrder(screeningPolicy.reorderSeconds * 1000, screeningPolicy.clockStepSeconds * 1000);

  constructor(
    private readonly fromMs: number,
    private readonly toMs: number,
    private readonly setAside: (reason: string) => void,
  ) {}

  take(reading: Reading): void {
    const reason = this.order.reasonFor(reading);
    if (reason !== null) this.setAside(reason);
    else if (reading.atMs >= this.fromMs && reading.atMs < this.toMs) this.rows.push(reading);
  }

  takeSetAside(reason: string): void {
    this.setAside(reason);
  }
}

/**
 * Feeds a log whose outlets follow one another, sorted by time, so that circuits and legs can be judged: the file is read once for
 * each stretch of its time, and never more than a stretch is in memory.
 */
export async function takeSortedLog(path: string, screening: Screening, zoneOf: ZoneOfOutlet, account: LogAccount): Promise<void> {
  const stretches = Math.max(1, Math.ceil(account.rows / rowsAtOnce));
  const step = (account.lastMs - account.firstMs + 1) / stretches;
  for (let at = 0; at < stretches; at++) {
    const [fromMs, toMs] = [
      account.firstMs + at * step,
      at === stretches - 1 ? Number.POSITIVE_INFINITY : account.firstMs + (at + 1) * step,
    ];
    const stretch = new Stretch(fromMs, toMs, (reason) => at === 0 && screening.takeSetAside(reason));
    await takeLog(path, stretch, zoneOf);
    for (const reading of stretch.rows.sort((a, b) => a.atMs - b.atMs)) screening.take(reading);
  }
}
