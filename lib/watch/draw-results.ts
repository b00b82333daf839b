import type { Rating } from "@/lib/electrical/rating";
import { baselineDaysWords, type DocumentedBaseline } from "./documented-baseline";
import type { DriftEpisode } from "./drift-table";
import type { ExcessEpisode } from "./excess-episode";
import type { JudgedLimit } from "./limit-table";
import { lasting, makeResult, type ResultPlace, short } from "./make-result";
import type { ScreeningPolicy } from "./policy";
import type { ScreeningResult } from "./screening-result";

/** The result of an appliance above its limit. */
export function excessResult(
  place: ResultPlace,
  { limit, unit, rating }: { readonly limit: JudgedLimit; readonly unit: "W" | "A"; readonly rating: Rating },
  episode: ExcessEpisode,
): ScreeningResult {
  const measure = { fromMs: episode.fromMs, toMs: episode.toMs, value: episode.peak, limit: episode.limit, unit };
  const referredWords = limit.exponent === 0 ? [] : [`Referred to ${short(limit.ratedVolts)} V where the line voltage was measured.`];
  return makeResult(limit.lamp ? "lamp_too_strong" : "over_rating", place, measure, [
    `Drew up to ${short(episode.peak)} ${unit}, above ${short(episode.limit)} ${unit} for ${lasting(episode.toMs - episode.fromMs)}.`,
    `Limit: ${limit.rule}`,
    ...referredWords,
    ...rating.contradictions.map((sentence) => `On its plate: ${sentence}`),
    limit.lamp ? "Fit a lamp within the fixture's marking." : "Stop using it and unplug it if that is safe, until it has been looked at.",
  ]);
}

/** The result of an appliance whose running draw has drifted up. */
export function driftResult(
  place: ResultPlace,
  { policy, documented }: { readonly policy: ScreeningPolicy; readonly documented: DocumentedBaseline | null },
  episode: DriftEpisode,
): ScreeningResult {
  const { fromMs, toMs, peak, baseline, days, unit } = episode;
  const share = Math.round((peak / baseline - 1) * 1000) / 10;
  return makeResult("drift", place, { fromMs, toMs, value: peak, limit: baseline * (1 + policy.driftShare), unit }, [
    `Its daily median running draw reached ${short(peak)} ${unit}, ${share} % above its own baseline of ${short(baseline)} ${unit}, on ${days} days with readings in a row, still below its rating.`,
    documented === null
      ? `Baseline: the median of its first ${policy.baselineDays} days with readings.`
      : `Baseline of ${baselineDaysWords(documented)}, documented.`,
    "Clean filters and vents, and look for a dragging motor or a scaled element; an inspection tells.",
  ]);
}
