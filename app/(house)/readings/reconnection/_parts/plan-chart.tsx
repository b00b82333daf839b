import { useId } from "react";
import { cell, DataTable, figureColumn, TableHead } from "@/app/_ui/data-table";
import { deviceModels } from "@/lib/electrical/device-curve";
import type { CircuitPlan } from "@/lib/registry/reconnection";
import { TimeAxis, ValueAxis } from "../../_parts/chart-axes";
import { type ChartFrame, narrowFrame, wideFrame, xOf, yOf } from "../../_parts/chart-frame";
import draw from "../../_parts/draw-chart.module.css";
import styles from "./plan.module.css";

const secondsMs = 1000;

function frames(toSeconds: number, highest: number): readonly [ChartFrame, ChartFrame] {
  const shown = { fromMs: 0, toMs: toSeconds * secondsMs, highest };
  return [wideFrame(shown), narrowFrame(shown)];
}

/** The circuit's current while it is brought back, against its device; below it how warm that makes the device by its curve. */
export function PlanChart({ plan: { plan, checked, circuit } }: { plan: CircuitPlan }) {
  const device = checked.deviceAmps;
  const highest = Math.max(plan.peakAmps * 1.05, (device ?? 0) * 1.15, 1);
  const [wide, narrow] = frames(plan.endSeconds, highest);
  const [wideHeat, narrowHeat] = frames(plan.endSeconds, 100);
  return (
    <figure className={draw.chart}>
      <figcaption>
        <b>Current of {circuit.name} while it is brought back</b>
        <span className={draw.legend}>
          <span>steps: one appliance each; spikes: its start</span>
        </span>
      </figcaption>
      <AmpsDrawing className={draw.wide} plan={plan} device={device} share={checked.continuousShare} frame={wide} />
      <AmpsDrawing className={draw.narrow} plan={plan} device={device} share={checked.continuousShare} frame={narrow} />
      {device !== null && (
        <>
          <p className={styles.second}>
            <b>How far that warms the device towards its trip</b>
          </p>
          <HeatDrawing className={draw.wide} plan={plan} standard={checked.standard} frame={wideHeat} />
          <HeatDrawing className={draw.narrow} plan={plan} standard={checked.standard} frame={narrowHeat} />
        </>
      )}
      <Stretches plan={plan} />
    </figure>
  );
}

type Plan = CircuitPlan["plan"];

function Stretches({ plan }: { plan: Plan }) {
  return (
    <details>
      <summary>The figures behind this chart</summary>
      <DataTable caption="Current of the circuit, stretch by stretch" showCaption>
        <TableHead columns={["From", "To", "Current"].map(figureColumn)} />
        <tbody>
          {plan.amps.map(({ fromSeconds, toSeconds, amps }) => (
            <tr key={fromSeconds}>
              <td className={cell.num}>{Math.round(fromSeconds * 10) / 10} s</td>
              <td className={cell.num}>{Math.round(toSeconds * 10) / 10} s</td>
              <td className={cell.num}>{Math.round(amps * 10) / 10} A</td>
            </tr>
          ))}
        </tbody>
      </DataTable>
    </details>
  );
}

/** Ticks at round seconds or minutes from the start on. */
function secondTicks(frame: ChartFrame): { atMs: number; label: string }[] {
  const end = frame.toMs / secondsMs;
  const step = [15, 30, 60, 120, 300, 600].find((size) => end / size <= frame.timeTicks) ?? 1200;
  return Array.from({ length: Math.floor(end / step) + 1 }, (_, at) => {
    const seconds = at * step;
    const isMinutes = seconds > 0 && seconds % 60 === 0 && end > 180;
    return { atMs: seconds * secondsMs, label: isMinutes ? `${seconds / 60} min` : `${seconds} s` };
  });
}

function Axes({ frame, unit }: { frame: ChartFrame; unit: string }) {
  return (
    <>
      <ValueAxis frame={frame} unit={unit} />
      <TimeAxis frame={frame} ticks={secondTicks(frame)} />
    </>
  );
}

function ampsPath(plan: Plan, frame: ChartFrame): string {
  let path = `M${xOf(frame, 0)} ${yOf(frame, 0)}`;
  for (const { fromSeconds, toSeconds, amps } of plan.amps)
    path += `L${xOf(frame, fromSeconds * secondsMs)} ${yOf(frame, amps)}L${xOf(frame, toSeconds * secondsMs)} ${yOf(frame, amps)}`;
  return path;
}

interface AmpsProps {
  readonly plan: Plan;
  readonly device: number | null;
  readonly share: number;
  readonly frame: ChartFrame;
  readonly className: string | undefined;
}

function AmpsDrawing({ plan, device, share, frame, className }: AmpsProps) {
  const id = useId();
  const across = (value: number) => `M${frame.left} ${yOf(frame, value)}H${frame.width - frame.right}`;
  return (
    <svg className={className} viewBox={`0 0 ${frame.width} ${frame.height}`} role="img" aria-labelledby={`${id}t ${id}d`}>
      <title id={`${id}t`}>Current of the circuit in amperes over seconds</title>
      <desc
        id={`${id}d`}
      >{`${plan.steps.length} appliances in ${plan.endSeconds - 60} seconds, at most ${Math.round(plan.peakAmps * 10) / 10} A, ${Math.round(plan.runningAmps * 10) / 10} A running.${device === null ? "" : ` Device ${device} A.`}`}</desc>
      <Axes frame={frame} unit="A" />
      {device !== null && (
        <>
          <path className={draw.rated} d={across(device * share)} />
          <text x={frame.width - frame.right - 4} y={yOf(frame, device * share) + 14} textAnchor="end">
            {Math.round(share * 100)} % for hours, {Math.round(device * share * 10) / 10} A
          </text>
          <path className={draw.limit} d={across(device)} />
          <text className={draw.bad} x={frame.width - frame.right - 4} y={yOf(frame, device) - 6} textAnchor="end">
            device {device} A
          </text>
        </>
      )}
      <path className={draw.draw} d={ampsPath(plan, frame)} />
    </svg>
  );
}

function HeatDrawing({
  plan,
  standard,
  frame,
  className,
}: {
  plan: Plan;
  standard: keyof typeof deviceModels;
  frame: ChartFrame;
  className: string | undefined;
}) {
  const id = useId();
  const trip = deviceModels[standard].k ** 2;
  const path = plan.heat
    .map(({ seconds, heat }, i) => `${i === 0 ? "M" : "L"}${xOf(frame, seconds * secondsMs)} ${yOf(frame, (heat / trip) * 100)}`)
    .join("");
  return (
    <svg className={className} viewBox={`0 0 ${frame.width} ${frame.height}`} role="img" aria-labelledby={`${id}t ${id}d`}>
      <title id={`${id}t`}>Thermal state of the device in per cent of its trip point</title>
      <desc
        id={`${id}d`}
      >{`At most ${Math.round((plan.heatShare ?? 0) * 100)} % of the trip point while the circuit is brought back.`}</desc>
      <Axes frame={frame} unit="% of the trip point" />
      <path className={draw.limit} d={`M${frame.left} ${yOf(frame, 100)}H${frame.width - frame.right}`} />
      <text className={draw.bad} x={frame.width - frame.right - 4} y={yOf(frame, 100) - 6} textAnchor="end">
        trips by the model of {standard}
      </text>
      <path className={draw.draw} d={path} />
    </svg>
  );
}
