import { lastingWords } from "@/lib/casework/screening-finding";
import type { DrawEpisode, DrawRange, DrawSeries } from "@/lib/registry/draw-series";

export const rangeWords: Readonly<Record<DrawRange, string>> = {
  episode: "Last excess",
  "24h": "24 h",
  "7d": "7 days",
  "30d": "30 days",
  all: "Since the first reading",
};

/** A day and a clock time in the site's zone. */
export function clockWords(atMs: number, timeZone: string): string {
  const words = { day: "numeric", month: "short", hour: "2-digit", minute: "2-digit", timeZone } as const;
  return new Intl.DateTimeFormat("en-GB", words).format(atMs);
}

/** The stretch that is shown, in words. */
export function stretchWords({ fromMs, toMs }: { fromMs: number; toMs: number }, timeZone: string): string {
  return `${clockWords(fromMs, timeZone)} to ${clockWords(toMs, timeZone)}`;
}

/** An excess in words, such as `54 min above allowed, 1742 W`. */
export function episodeWords({ fromMs, toMs, value, unit }: DrawEpisode): string {
  return `${lastingWords(toMs - fromMs)} above allowed, ${Math.round(value)} ${unit}`;
}

/** The whole chart in one sentence, for those who do not see it. */
export function chartSentence(series: DrawSeries): string {
  const { points, episodes, trips, allowed, timeZone } = series;
  if (points.length === 0) return "No reading in this stretch.";
  const values = points.map(({ mean }) => mean);
  const [low, high] = [values.reduce((a, b) => Math.min(a, b)), values.reduce((a, b) => Math.max(a, b))];
  const parts = [
    `Between ${Math.round(low)} and ${Math.round(high)} W by the minute${allowed === null ? "" : `, ${Math.round(allowed)} W allowed`}.`,
    ...episodes.map((episode) => `From ${clockWords(episode.fromMs, timeZone)}: ${episodeWords(episode)}.`),
    ...trips.map(({ atMs, cause }) => `Trip at ${clockWords(atMs, timeZone)}${cause ? `, ${cause.replaceAll("_", " ")}` : ""}.`),
  ];
  return parts.slice(0, 12).join(" ");
}
