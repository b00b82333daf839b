import { type DeviceModel, heatAfter } from "@/lib/electrical/device-curve";
import type { LoadStart } from "./reconnection-load";

/** A load connected at a time. */
export interface Connected extends LoadStart {
  readonly atSeconds: number;
}

/** A stretch of constant current. */
export interface AmpsStretch {
  readonly fromSeconds: number;
  readonly toSeconds: number;
  readonly amps: number;
}

function drawAt(load: Connected, seconds: number): number {
  if (seconds < load.atSeconds) return 0;
  return seconds < load.atSeconds + load.startSeconds ? load.startAmps : load.runningAmps;
}

/** The sum of what is connected, as stretches from 0 to `endSeconds`. */
export function sumOverTime(loads: readonly Connected[], endSeconds: number): AmpsStretch[] {
  const inside = (at: number) => at > 0 && at < endSeconds;
  const edges = loads.flatMap(({ atSeconds, startSeconds }) => [atSeconds, atSeconds + startSeconds]).filter(inside);
  const cuts = [...new Set([0, ...edges, endSeconds])].sort((a, b) => a - b);
  return cuts.slice(1).map((toSeconds, i) => {
    const fromSeconds = cuts[i] ?? 0;
    return { fromSeconds, toSeconds, amps: loads.reduce((sum, load) => sum + drawAt(load, fromSeconds), 0) };
  });
}

/** The thermal state over time: at each stretch's end; 1 is what the rating itself heats to, k^2 trips. */
export function heatOverTime(
  stretches: readonly AmpsStretch[],
  deviceAmps: number,
  model: DeviceModel,
): readonly { readonly seconds: number; readonly heat: number }[] {
  let heat = 0;
  const points = [{ seconds: 0, heat }];
  for (const { fromSeconds, toSeconds, amps } of stretches) {
    // Long stretches get points in between, so that the curve of warming can be drawn.
    const steps = Math.max(1, Math.ceil((toSeconds - fromSeconds) / 5));
    const length = (toSeconds - fromSeconds) / steps;
    for (let i = 1; i <= steps; i++) {
      heat = heatAfter(model, heat, amps / deviceAmps, length);
      points.push({ seconds: fromSeconds + length * i, heat });
    }
  }
  return points;
}
