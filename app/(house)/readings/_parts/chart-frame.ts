import { axisSteps } from "@/lib/watch/draw-thinning";

/** A chart's size in its own units and the stretch it shows; the type is 12 px in both sizes. */
export interface ChartFrame {
  readonly width: number;
  readonly height: number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly fromMs: number;
  readonly toMs: number;
  readonly highest: number;
  readonly steps: readonly number[];
  readonly timeTicks: number;
  readonly columns: number;
}

export interface ShownStretch {
  readonly fromMs: number;
  readonly toMs: number;
  /** The highest value that must have room. */
  readonly highest: number;
}

function frame(size: Pick<ChartFrame, "width" | "height" | "left" | "timeTicks" | "columns">, shown: ShownStretch): ChartFrame {
  const steps = axisSteps(shown.highest);
  return { ...size, right: 16, top: 22, bottom: 28, ...shown, highest: steps.at(-1) ?? shown.highest, steps };
}

/** The chart on a wide page. */
export function wideFrame(shown: ShownStretch): ChartFrame {
  return frame({ width: 1080, height: 278, left: 56, timeTicks: 9, columns: 480 }, shown);
}

/** The chart on a phone: a narrower stretch, not smaller type. */
export function narrowFrame(shown: ShownStretch): ChartFrame {
  return frame({ width: 340, height: 270, left: 46, timeTicks: 4, columns: 160 }, shown);
}

/** Where an instant stands. */
export function xOf(frame: ChartFrame, atMs: number): number {
  const share = (atMs - frame.fromMs) / Math.max(1, frame.toMs - frame.fromMs);
  const x = frame.left + Math.min(1, Math.max(0, share)) * (frame.width - frame.left - frame.right);
  return Math.round(x * 10) / 10;
}

/** Where a value stands; what is above the axis is cut at its top. */
export function yOf(frame: ChartFrame, value: number): number {
  const share = Math.min(1, Math.max(0, value / frame.highest));
  const y = frame.height - frame.bottom - share * (frame.height - frame.bottom - frame.top);
  return Math.round(y * 10) / 10;
}

/** A stretch for a phone: around the last excess inside the whole, else the last part of it. */
export function narrowStretch(
  whole: { readonly fromMs: number; readonly toMs: number },
  episode: { readonly fromMs: number; readonly toMs: number } | undefined,
): {
  readonly fromMs: number;
  readonly toMs: number;
} {
  const length = (whole.toMs - whole.fromMs) / 3;
  if (!episode) return { fromMs: whole.toMs - length, toMs: whole.toMs };
  const needed = Math.min(whole.toMs - whole.fromMs, Math.max(length, (episode.toMs - episode.fromMs) * 1.4));
  const middle = (episode.fromMs + episode.toMs) / 2;
  const fromMs = Math.min(Math.max(whole.fromMs, middle - needed / 2), whole.toMs - needed);
  return { fromMs, toMs: fromMs + needed };
}
