import { useId } from "react";
import type { DrawSeries } from "@/lib/registry/draw-series";
import { thinDraw } from "@/lib/watch/draw-thinning";
import { timeTicks } from "@/lib/watch/time-ticks";
import { TimeAxis, ValueAxis } from "./chart-axes";
import { type ChartFrame, xOf, yOf } from "./chart-frame";
import { chartSentence, clockWords, episodeWords } from "./chart-words";
import styles from "./draw-chart.module.css";
import { drawPath, peakPath } from "./draw-path";

interface Drawing {
  readonly series: DrawSeries;
  readonly frame: ChartFrame;
}

/** One drawing of a series in a frame: axes, limits, hatched excesses, the draw with its gaps, trips. */
export function ChartDrawing({ series, frame, className }: Drawing & { className: string | undefined }) {
  const id = useId();
  const columns = thinDraw(series.points, frame);
  return (
    <svg className={className} viewBox={`0 0 ${frame.width} ${frame.height}`} role="img" aria-labelledby={`${id}t ${id}d`}>
      <title id={`${id}t`}>{`Draw of ${series.name}, in watts`}</title>
      <desc id={`${id}d`}>{chartSentence(series)}</desc>
      <Hatching id={`${id}h`} />
      <ValueAxis frame={frame} unit={series.referredTo === null ? "W, as measured" : `W, referred to ${series.referredTo} V`} />
      <Episodes series={series} frame={frame} fill={`url(#${id}h)`} />
      <path className={styles.peak} d={peakPath(frame, columns)} />
      <Limits series={series} frame={frame} />
      <path className={styles.draw} d={drawPath(frame, columns)} />
      <EpisodeWords series={series} frame={frame} />
      <Trips series={series} frame={frame} />
      <TimeAxis frame={frame} ticks={timeTicks(frame.fromMs, frame.toMs, series.timeZone, frame.timeTicks)} />
    </svg>
  );
}

function Hatching({ id }: { id: string }) {
  return (
    <defs>
      <pattern id={id} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <rect className={styles.wash} width="6" height="6" />
        <path className={styles.hatch} d="M0 0v6" />
      </pattern>
    </defs>
  );
}

function Limits({ series, frame }: Drawing) {
  const { allowed, rated } = series;
  const across = (value: number) => `M${frame.left} ${yOf(frame, value)}H${frame.width - frame.right}`;
  const isApart = allowed !== null && rated !== null && yOf(frame, rated) - yOf(frame, allowed) > 3;
  return (
    <>
      {rated !== null && (allowed === null || isApart) && (
        <>
          <path className={styles.rated} d={across(rated)} />
          <text x={frame.width - frame.right - 4} y={yOf(frame, rated) + 14} textAnchor="end">
            rated {Math.round(rated)} W
          </text>
        </>
      )}
      {allowed !== null && (
        <>
          <path className={styles.limit} d={across(allowed)} />
          <text className={styles.bad} x={frame.left + 6} y={yOf(frame, allowed) - 6}>
            allowed {Math.round(allowed)} W
          </text>
        </>
      )}
    </>
  );
}

const visible = ({ fromMs, toMs }: { fromMs: number; toMs: number }, frame: ChartFrame) => toMs >= frame.fromMs && fromMs <= frame.toMs;

function Episodes({ series, frame, fill }: Drawing & { fill: string }) {
  const [top, foot] = [frame.top, frame.height - frame.bottom];
  return series.episodes
    .filter((episode) => visible(episode, frame))
    .map((episode) => {
      const [from, to] = [xOf(frame, episode.fromMs), xOf(frame, episode.toMs)];
      return (
        <g key={`${episode.fromMs} ${episode.limit}`}>
          <rect x={from} y={top} width={Math.max(2, to - from)} height={foot - top} fill={fill} />
          <path className={styles.edge} d={`M${from} ${top}V${foot}M${Math.max(from + 2, to)} ${top}V${foot}`} />
        </g>
      );
    });
}

/** Words beside a stretch: at its right where they fit, else at its left, else at the right edge. 12 px type is about 6.6 px a letter. */
function wordsBeside(frame: ChartFrame, from: number, to: number, words: string): { x: number; textAnchor: "start" | "end" } {
  const width = words.length * 6.6 + 10;
  if (to + width < frame.width) return { x: to + 8, textAnchor: "start" };
  return from - width > frame.left ? { x: from - 8, textAnchor: "end" } : { x: frame.width - 4, textAnchor: "end" };
}

/** The last excess is said in the drawing; the others stand in the sentence and the table. */
function EpisodeWords({ series, frame }: Drawing) {
  const episode = series.episodes.filter((one) => visible(one, frame)).at(-1);
  if (!episode) return null;
  const words = episodeWords(episode);
  return (
    <text className={styles.bad} y={frame.top + 14} {...wordsBeside(frame, xOf(frame, episode.fromMs), xOf(frame, episode.toMs), words)}>
      {words}
    </text>
  );
}

function Trips({ series, frame }: Drawing) {
  const foot = frame.height - frame.bottom;
  const trips = series.trips.filter(({ atMs }) => atMs >= frame.fromMs && atMs <= frame.toMs);
  const last = trips.at(-1);
  const words = last ? `trip ${clockWords(last.atMs, series.timeZone)}${last.cause ? `, ${last.cause.replaceAll("_", " ")}` : ""}` : "";
  return (
    <>
      {trips.map(({ atMs }) => (
        <path key={atMs} className={styles.trip} d={`M${xOf(frame, atMs)} ${foot - 5}l-5 -9h10z`} />
      ))}
      {last && (
        <text className={styles.strong} y={frame.top + 32} {...wordsBeside(frame, xOf(frame, last.atMs), xOf(frame, last.atMs), words)}>
          {words}
        </text>
      )}
    </>
  );
}
