import { type ChartFrame, xOf, yOf } from "./chart-frame";
import styles from "./draw-chart.module.css";

/** The values at the left with their lines across, and what they are in above. */
export function ValueAxis({ frame, unit }: { frame: ChartFrame; unit: string }) {
  return (
    <>
      {frame.steps.map((step) => (
        <g key={step}>
          {step > 0 && <path className={styles.grid} d={`M${frame.left} ${yOf(frame, step)}H${frame.width - frame.right}`} />}
          <text x={frame.left - 8} y={yOf(frame, step) + 4} textAnchor="end">
            {step}
          </text>
        </g>
      ))}
      <text className={styles.strong} x={frame.left} y={11}>
        {unit}
      </text>
    </>
  );
}

/** The line at the foot with its ticks; a label near the right edge ends there instead of running out of the drawing. */
export function TimeAxis({ frame, ticks }: { frame: ChartFrame; ticks: readonly { readonly atMs: number; readonly label: string }[] }) {
  const foot = frame.height - frame.bottom;
  return (
    <>
      <path className={styles.axis} d={`M${frame.left} ${foot}H${frame.width - frame.right}`} />
      {ticks.map(({ atMs, label }) => (
        <g key={atMs}>
          <path className={styles.axis} d={`M${xOf(frame, atMs)} ${foot}v5`} />
          <text x={xOf(frame, atMs)} y={foot + 19} textAnchor={xOf(frame, atMs) > frame.width - 36 ? "end" : "middle"}>
            {label}
          </text>
        </g>
      ))}
    </>
  );
}
