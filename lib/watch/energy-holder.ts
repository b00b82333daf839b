/** A stretch of time in which an appliance is recorded at a receptacle; `toMs` null is open. */
export interface HolderStay {
  readonly holder: string;
  readonly fromMs: number;
  readonly toMs: number | null;
}

/** From `fromMs` on the receptacle is `holder`'s; the empty text is nobody known. */
export interface HolderChange {
  readonly fromMs: number;
  readonly holder: string;
}

/** Nobody known. */
export const unknownHolder = "";

/**
 * Who holds a receptacle over time. One plug fits, so whoever came last holds it, until it leaves; who was there before does not come
 * back by itself. The order of the stays does not matter.
 */
export function holderTimeline(stays: readonly HolderStay[]): HolderChange[] {
  const sorted = [...stays].sort(
    (a, b) => a.fromMs - b.fromMs || (a.toMs ?? Infinity) - (b.toMs ?? Infinity) || (a.holder < b.holder ? -1 : 1),
  );
  const changes: HolderChange[] = [];
  sorted.forEach((stay, i) => {
    const next = sorted[i + 1]?.fromMs ?? Number.POSITIVE_INFINITY;
    changes.push({ fromMs: stay.fromMs, holder: stay.holder });
    if (stay.toMs !== null && stay.toMs < next) changes.push({ fromMs: stay.toMs, holder: unknownHolder });
  });
  return changes;
}

/** Walks a timeline forwards: who holds at an instant, and until when. Instants must not go back. */
export function makeHolderAt(timeline: readonly HolderChange[]): (atMs: number) => { readonly holder: string; readonly untilMs: number } {
  let at = -1;
  return (atMs) => {
    while (at + 1 < timeline.length && timeline[at + 1]!.fromMs <= atMs) at += 1;
    return { holder: timeline[at]?.holder ?? unknownHolder, untilMs: timeline[at + 1]?.fromMs ?? Number.POSITIVE_INFINITY };
  };
}
