import type { DrawColumn } from "@/lib/watch/draw-thinning";
import { type ChartFrame, xOf, yOf } from "./chart-frame";

/** The draw as a line: each column's span of means, broken where there was no reading. */
export function drawPath(frame: ChartFrame, columns: readonly DrawColumn[]): string {
  let path = "";
  for (const column of columns) {
    const [x, end] = [xOf(frame, column.fromMs), xOf(frame, column.toMs)];
    path += `${column.afterGap || path === "" ? "M" : "L"}${x} ${yOf(frame, column.first)}`;
    if (column.points === 1) {
      path += `h.6`;
      continue;
    }
    const middle = Math.round((x + end) * 5) / 10;
    path += `L${middle} ${yOf(frame, column.low)}L${middle} ${yOf(frame, column.high)}L${end} ${yOf(frame, column.last)}`;
  }
  return path;
}

/** The highest single readings where they stand clearly above the line: start-ups and spikes, thin. */
export function peakPath(frame: ChartFrame, columns: readonly DrawColumn[]): string {
  return columns
    .filter(({ peak, high }) => peak > high * 1.1 && peak - high > frame.highest * 0.02)
    .map((column) => {
      const x = Math.round((xOf(frame, column.fromMs) + xOf(frame, column.toMs)) * 5) / 10;
      return `M${x} ${yOf(frame, column.high)}V${yOf(frame, column.peak)}`;
    })
    .join("");
}
