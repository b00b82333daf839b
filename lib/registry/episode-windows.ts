import type { ScreeningResultRow } from "@/lib/store/screening-queries";
import type { LogPlan } from "./log-plan";

/** Seconds kept before and after an episode. */
const marginMs = 60_000;
/** Of a longer episode, such as a drift over days, the beginning and the end are kept. */
const longMs = 6 * 3_600_000;
const endMs = 10 * 60_000;

type Window = readonly [fromMs: number, toMs: number];

/** The times around a site's episodes, by outlet: readings within them are kept for good. */
export class EpisodeWindows {
  private readonly byOutlet = new Map<string, Window[]>();

  constructor(results: readonly ScreeningResultRow[], plan: LogPlan) {
    for (const result of results) {
      const outlets = plan.outlets.filter(
        ({ id, circuitId }) =>
          result.outletId === id || (result.outletId === null && (result.circuitId === null || result.circuitId === circuitId)),
      );
      for (const { id } of outlets) this.byOutlet.set(id, [...(this.byOutlet.get(id) ?? []), ...windowsOf(result)]);
    }
  }

  holds(outletId: string, atMs: number): boolean {
    return this.touches(outletId, atMs, atMs);
  }

  touches(outletId: string, fromMs: number, toMs: number): boolean {
    return (this.byOutlet.get(outletId) ?? []).some(([from, to]) => fromMs <= to && toMs >= from);
  }
}

function windowsOf({ fromAt, toAt }: ScreeningResultRow): Window[] {
  const [from, to] = [fromAt.getTime() - marginMs, toAt.getTime() + marginMs];
  if (to - from <= longMs) return [[from, to]];
  return [
    [from, from + endMs],
    [to - endMs, to],
  ];
}
