import Link from "next/link";
import { cell, DataTable, figureColumn, TableHead } from "@/app/_ui/data-table";
import type { DrawRange, DrawSeries } from "@/lib/registry/draw-series";
import { thinDraw } from "@/lib/watch/draw-thinning";
import { ChartDrawing } from "./_parts/chart-drawing";
import { narrowFrame, narrowStretch, wideFrame } from "./_parts/chart-frame";
import { clockWords, rangeWords, stretchWords } from "./_parts/chart-words";
import styles from "./_parts/draw-chart.module.css";

/** The links to the other stretches of time; they stand beside the section's head. */
export function RangeLinks({ series, hrefOf }: { series: Pick<DrawSeries, "range" | "ranges">; hrefOf: (range: DrawRange) => string }) {
  return (
    <nav className={styles.ranges} aria-label="Stretch of time">
      {series.ranges.map((range) => (
        <Link key={range} href={hrefOf(range)} aria-current={range === series.range ? "true" : undefined} scroll={false}>
          {rangeWords[range]}
        </Link>
      ))}
    </nav>
  );
}

/** Room for the limit's words above its line, and for the draw; single spikes may be cut at the top, they stand in the table. */
function highestOf({ points, allowed, rated }: DrawSeries): number {
  const drawn = points.reduce((most, { mean }) => Math.max(most, mean), 0);
  return Math.max(1, drawn * 1.04, (allowed ?? 0) * 1.15, rated ?? 0);
}

/**
 * A draw over time against its limits, drawn on the server: axes with units, allowed and rated lines, excesses hatched, trips marked,
 * pauses as gaps. On a phone a narrower stretch in the same type size. The figures stand behind it as a table.
 */
export function DrawChart({ series }: { series: DrawSeries }) {
  const { fromMs, toMs, timeZone, episodes, trips, points } = series;
  const highest = highestOf(series);
  const narrow = narrowStretch(series, episodes.at(-1));
  return (
    <figure className={styles.chart}>
      <figcaption>
        <b>{stretchWords({ fromMs, toMs }, timeZone)}</b>
        <span className={styles.legend}>
          {episodes.length > 0 && <span>hatched: above the allowed line</span>}
          {trips.length > 0 && <span>triangle: protective trip</span>}
          {points.length > 0 && <span>line: mean of each minute; thin: its highest reading; broken: no reading</span>}
        </span>
      </figcaption>
      {points.length === 0 ? (
        <p className={styles.none}>No reading in this stretch.</p>
      ) : (
        <>
          <ChartDrawing className={styles.wide} series={series} frame={wideFrame({ fromMs, toMs, highest })} />
          <ChartDrawing className={styles.narrow} series={series} frame={narrowFrame({ ...narrow, highest })} />
          <p className={styles.narrowNote}>{stretchWords(narrow, timeZone)}; turn the phone for the whole stretch.</p>
          <Figures series={series} />
        </>
      )}
    </figure>
  );
}

const mostRows = 48;

function Figures({ series }: { series: DrawSeries }) {
  const { fromMs, toMs, timeZone } = series;
  const rows = thinDraw(series.points, { fromMs, toMs, columns: mostRows });
  return (
    <details>
      <summary>The figures behind this chart</summary>
      <DataTable caption={`Draw of ${series.name} in watts`} showCaption>
        <TableHead columns={["From", "To", ...["Lowest minute", "Highest minute", "Highest reading", "Minutes"].map(figureColumn)]} />
        <tbody>
          {rows.map((row) => (
            <tr key={row.fromMs}>
              <td className="nw">{clockWords(row.fromMs, timeZone)}</td>
              <td className="nw">{clockWords(row.toMs, timeZone)}</td>
              <td className={cell.num}>{Math.round(row.low)} W</td>
              <td className={cell.num}>
                <span className={series.allowed !== null && row.high > series.allowed ? "over" : undefined}>{Math.round(row.high)} W</span>
              </td>
              <td className={cell.num}>{Math.round(row.peak)} W</td>
              <td className={cell.num}>{row.points}</td>
            </tr>
          ))}
        </tbody>
      </DataTable>
    </details>
  );
}
