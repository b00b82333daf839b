import type { LoadKind } from "@/lib/electrical/load-kind";
import { inrushShapes } from "./reconnection-inrush";

/** One appliance of a circuit, as the plan needs it. Amperes at the circuit's voltage. */
export interface ReconnectionLoad {
  readonly id: string;
  readonly tag: string;
  readonly outlet: string;
  readonly receptacle: string | null;
  readonly kind: LoadKind;
  readonly keepsCold: boolean;
  /** The larger of rated and steadily seen; null when neither is known. */
  readonly runningAmps: number | null;
  /** The largest reading ever seen of it; null without readings. */
  readonly seenPeakAmps: number | null;
  /** Why it must stay off; null when it may be connected. */
  readonly barred: string | null;
}

/** What a load draws when it is connected. */
export interface LoadStart {
  readonly runningAmps: number;
  readonly startAmps: number;
  readonly startSeconds: number;
  /** Amperes of the first half-cycle, which no thermal trip sees. */
  readonly halfCycleAmps: number | null;
}

/** The start of a load by its kind; a larger one that was seen counts instead. Null when its draw is not known. */
export function startOf(load: ReconnectionLoad): LoadStart | null {
  const running = load.runningAmps ?? load.seenPeakAmps;
  if (running === null) return null;
  const shape = inrushShapes[load.kind];
  const seen = load.seenPeakAmps ?? 0;
  return {
    runningAmps: running,
    startAmps: Math.max(running * shape.multiple, seen),
    startSeconds: seen > running * shape.multiple ? Math.max(shape.seconds, 1) : shape.seconds,
    halfCycleAmps: shape.halfCycle === null ? null : running * shape.halfCycle,
  };
}

/** Cold storage first, then the strongest start while the circuit is still empty, what is not known last. Own choice, no source. */
export function compareLoads(a: ReconnectionLoad, b: ReconnectionLoad): number {
  if (a.keepsCold !== b.keepsCold) return a.keepsCold ? -1 : 1;
  const strength = (load: ReconnectionLoad) => startOf(load)?.startAmps ?? -1;
  return strength(b) - strength(a) || (a.tag < b.tag ? -1 : a.tag > b.tag ? 1 : 0);
}
