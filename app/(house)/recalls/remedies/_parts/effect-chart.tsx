import { useId } from "react";
import { figures } from "@/app/_ui/account";
import { cell, DataTable, figureColumn, TableHead } from "@/app/_ui/data-table";
import { settledShare } from "@/lib/casework/remedy-account";
import type { SiteEffect } from "@/lib/registry/remedies";
import { timeTicks } from "@/lib/watch/time-ticks";
import { TimeAxis, ValueAxis } from "../../../readings/_parts/chart-axes";
import { type ChartFrame, narrowFrame, wideFrame, xOf, yOf } from "../../../readings/_parts/chart-frame";
import draw from "../../../readings/_parts/draw-chart.module.css";
import { dayWords } from "../../_parts/grade-words";
import styles from "./remedies.module.css";

/** More lines than this cannot be told apart; the table holds every site. */
export const mostLines = 5;

const percent = (counts: SiteEffect["points"][number]["counts"]): number | null => {
  const share = settledShare(counts);
  return share === null ? null : Math.round(share * 100);
};

function caseCount({ points }: SiteEffect): number {
  const counts = points.at(-1)?.counts;
  return counts ? counts.have + counts.notAffected : 0;
}

/** A few per cent still show. */
const lowestTop = 10;

function highestOf(effects: readonly SiteEffect[]): number {
  return effects.flatMap(({ points }) => points).reduce((most, { counts }) => Math.max(most, percent(counts) ?? 0), lowestTop);
}

/** Each site's share of settled appliances over time, of those that it had then; the figures in a table. */
export function EffectChart({ effects }: { effects: readonly SiteEffect[] }) {
  const shown = [...effects].sort((a, b) => caseCount(b) - caseCount(a)).slice(0, mostLines);
  const first = shown[0]?.points ?? [];
  const [from, to] = [first[0]?.at.getTime() ?? 0, first.at(-1)?.at.getTime() ?? 0];
  const stretch = { fromMs: from === to ? from - 86_400_000 : from, toMs: to, highest: highestOf(shown) };
  return (
    <figure className={draw.chart}>
      <figcaption>
        <b>Settled, % of the appliances we have that a notice fits</b>
        <span className={draw.legend}>
          {shown.map(({ site }, at) => (
            <span key={site.id} className={styles.key}>
              <svg className={styles.swatch} width="34" height="10" aria-hidden="true">
                <path className={styles[`line${at}`]} d="M1 5h32" />
              </svg>
              {site.name}
            </span>
          ))}
        </span>
      </figcaption>
      <Drawing className={draw.wide} effects={shown} frame={wideFrame(stretch)} />
      <Drawing className={draw.narrow} effects={shown} frame={narrowFrame(stretch)} />
      {effects.length > shown.length && (
        <p className="small soft">The {mostLines} sites with most cases are drawn; the table below has them all.</p>
      )}
    </figure>
  );
}

function Drawing({ effects, frame, className }: { effects: readonly SiteEffect[]; frame: ChartFrame; className: string | undefined }) {
  const id = useId();
  return (
    <svg className={className} viewBox={`0 0 ${frame.width} ${frame.height}`} role="img" aria-labelledby={`${id}t ${id}d`}>
      <title id={`${id}t`}>Settled share of each site over time, in per cent</title>
      <desc id={`${id}d`}>{effects.map(sentenceOf).join(" ")} The figures stand in the table below.</desc>
      <ValueAxis frame={frame} unit="% settled" />
      {effects.map((effect, at) => (
        <Line key={effect.site.id} effect={effect} frame={frame} look={styles[`line${at}`]} />
      ))}
      <TimeAxis frame={frame} ticks={timeTicks(frame.fromMs, frame.toMs, "UTC", frame.timeTicks)} />
    </svg>
  );
}

function sentenceOf({ site, points }: SiteEffect): string {
  const last = points.at(-1)?.counts;
  const now = last && percent(last);
  return now === null || now === undefined ? `${site.name}: none now.` : `${site.name}: ${now} % now.`;
}

/** A line through the instants at which the site had any; a mark at each. */
function Line({ effect, frame, look }: { effect: SiteEffect; frame: ChartFrame; look: string | undefined }) {
  const marks = effect.points.flatMap(({ at, counts }) => {
    const value = percent(counts);
    return value === null ? [] : [{ x: xOf(frame, at.getTime()), y: yOf(frame, value) }];
  });
  const path = marks.map(({ x, y }, at) => `${at === 0 ? "M" : "L"}${x} ${y}`).join("");
  return (
    <g>
      <path className={look} d={path} />
      {marks.map(({ x, y }) => (
        <circle key={x} className={styles.mark} cx={x} cy={y} r="2.6" />
      ))}
    </g>
  );
}

/** The figures behind the chart: have, found and settled of each site at each instant, the latest first. */
export function EffectTable({ effects }: { effects: readonly SiteEffect[] }) {
  return (
    <details>
      <summary>The figures behind this chart</summary>
      <DataTable caption="Have, found and settled of each site over time" cards>
        <TableHead columns={["Site", "By the end of", ...["Have", "Found", "Settled", "Settled of have"].map(figureColumn)]} />
        <tbody>
          {effects.flatMap(({ site, points }) =>
            points.toReversed().map(({ at, counts }) => (
              <tr key={`${site.id} ${at.getTime()}`}>
                <th scope="row">{site.name}</th>
                <td className="nw" data-label="by">
                  {dayWords(at)}
                </td>
                <td className={cell.num} data-label="have">
                  {figures(counts.have)}
                </td>
                <td className={cell.num} data-label="found">
                  {figures(counts.found)}
                </td>
                <td className={cell.num} data-label="settled">
                  {figures(counts.settled)}
                </td>
                <td className={cell.num} data-label="settled of have">
                  {percent(counts) === null ? "–" : `${percent(counts)} %`}
                </td>
              </tr>
            )),
          )}
        </tbody>
      </DataTable>
    </details>
  );
}
