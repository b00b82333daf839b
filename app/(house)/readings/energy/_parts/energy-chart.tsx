import { useId } from "react";
import { cell, DataTable, figureColumn, TableHead } from "@/app/_ui/data-table";
import type { EnergyBar, EnergyView } from "@/lib/registry/energy-view";
import { timeTicks } from "@/lib/watch/time-ticks";
import { TimeAxis, ValueAxis } from "../../_parts/chart-axes";
import { type ChartFrame, narrowFrame, wideFrame, xOf, yOf } from "../../_parts/chart-frame";
import { clockWords } from "../../_parts/chart-words";
import draw from "../../_parts/draw-chart.module.css";
import styles from "./energy.module.css";
import { dayWords, kwhWords, timeLength } from "./energy-words";

type Shown = Pick<EnergyView, "bars" | "step" | "zone" | "subject" | "period">;

const barLabel = (bar: EnergyBar, { step, zone }: Shown) => (step === "day" ? dayWords(zone, bar.fromMs) : clockWords(bar.fromMs, zone));

/** Energy by hour or day as bars: what known appliances used is solid, what nobody known used is hatched, gaps are ticks below. */
export function EnergyChart({ view }: { view: Shown }) {
  const { bars, period } = view;
  const highest = bars.reduce((most, bar) => Math.max(most, bar.kilowattHours), 0) || 0.001;
  const shown = { fromMs: period.fromMs, toMs: period.toMs, highest };
  const narrow = { ...shown, fromMs: Math.max(shown.fromMs, shown.toMs - (shown.toMs - shown.fromMs) / (bars.length > 14 ? 3 : 1)) };
  const hasUnknown = bars.some(({ unknown }) => unknown > 0);
  return (
    <figure className={draw.chart}>
      <figcaption>
        <b>{`Energy of ${view.subject}, kWh each ${view.step}`}</b>
        <span className={draw.legend}>
          {hasUnknown && <span>hatched: used by nobody known</span>}
          <span>tick below: time without readings</span>
        </span>
      </figcaption>
      <BarDrawing className={draw.wide} view={view} frame={wideFrame(shown)} />
      <BarDrawing className={draw.narrow} view={view} frame={narrowFrame(narrow)} />
      <BarTable view={view} />
    </figure>
  );
}

function BarDrawing({ view, frame, className }: { view: Shown; frame: ChartFrame; className: string | undefined }) {
  const id = useId();
  const bars = view.bars.filter(({ toMs, fromMs }) => toMs > frame.fromMs && fromMs < frame.toMs);
  const total = bars.reduce((sum, bar) => sum + bar.kilowattHours, 0);
  return (
    <svg className={className} viewBox={`0 0 ${frame.width} ${frame.height}`} role="img" aria-labelledby={`${id}t ${id}d`}>
      <title id={`${id}t`}>{`Energy of ${view.subject}, in kilowatt-hours each ${view.step}`}</title>
      <desc id={`${id}d`}>{`${kwhWords(total)} kWh in ${bars.length} bars. The figures stand in the table below.`}</desc>
      <defs>
        <pattern id={`${id}h`} width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <rect className={styles.hatchGround} width="5" height="5" />
          <path className={styles.hatch} d="M0 0v5" />
        </pattern>
      </defs>
      <ValueAxis frame={frame} unit={`kWh each ${view.step}`} />
      {bars.map((bar) => (
        <Bar key={bar.fromMs} bar={bar} frame={frame} hatch={`url(#${id}h)`} />
      ))}
      <TimeAxis frame={frame} ticks={timeTicks(frame.fromMs, frame.toMs, view.zone, frame.timeTicks)} />
    </svg>
  );
}

/** Wider bars would be walls. */
const widestBar = 40;

function Bar({ bar, frame, hatch }: { bar: EnergyBar; frame: ChartFrame; hatch: string }) {
  const [from, to] = [xOf(frame, bar.fromMs), xOf(frame, bar.toMs)];
  const width = Math.min(widestBar, Math.max(0.8, to - from - Math.min(3, (to - from) * 0.2)));
  const left = from + (to - from - width) / 2;
  const [foot, known, top] = [yOf(frame, 0), yOf(frame, bar.kilowattHours - bar.unknown), yOf(frame, bar.kilowattHours)];
  return (
    <g>
      <rect className={styles.bar} x={left} y={known} width={width} height={Math.max(0, foot - known)} />
      {bar.unknown > 0 && <rect className={styles.unknown} fill={hatch} x={left} y={top} width={width} height={Math.max(0, known - top)} />}
      {bar.gapMs > 0 && <path className={styles.gap} d={`M${left} ${foot + 3}h${width}`} />}
    </g>
  );
}

function BarTable({ view }: { view: Shown }) {
  return (
    <details>
      <summary>The figures behind this chart</summary>
      <div className={styles.figures}>
        <DataTable caption={`Energy of ${view.subject} each ${view.step}`} showCaption cards>
          <TableHead
            columns={[
              view.step === "day" ? "Day" : "Hour from",
              ...["Energy", "Of it nobody known", "Time without readings"].map(figureColumn),
            ]}
          />
          <tbody>
            {view.bars.map((bar) => (
              <tr key={bar.fromMs}>
                <td className="nw">{barLabel(bar, view)}</td>
                <td className={cell.num} data-label="energy">
                  {kwhWords(bar.kilowattHours)} kWh
                </td>
                <td className={cell.num} data-label="nobody known">
                  {kwhWords(bar.unknown)} kWh
                </td>
                <td className={cell.num} data-label="no reading">
                  {timeLength(bar.gapMs)}
                </td>
              </tr>
            ))}
          </tbody>
        </DataTable>
      </div>
    </details>
  );
}
