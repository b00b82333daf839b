import { lasting, makeResult, short } from "./make-result";
import type { NeutralEpisode } from "./neutral-watch";
import type { ScreeningResult } from "./screening-result";
import type { VoltageEpisode } from "./stretch-table";

/** Stretches of one kind at several outlets closer than this are one condition of the supply, ms. */
export const joinMs = 60_000;

function together(episodes: readonly VoltageEpisode[]): VoltageEpisode[][] {
  const found: VoltageEpisode[][] = [];
  let until = Number.NEGATIVE_INFINITY;
  for (const episode of [...episodes].sort((a, b) => a.fromMs - b.fromMs)) {
    if (episode.fromMs - until > joinMs) found.push([episode]);
    else found[found.length - 1]!.push(episode);
    until = Math.max(until, episode.toMs);
  }
  return found;
}

function overlaps(a: { fromMs: number; toMs: number }, b: { fromMs: number; toMs: number }): boolean {
  return a.fromMs <= b.toMs + joinMs && b.fromMs <= a.toMs + joinMs;
}

function voltageResult(site: string, group: readonly VoltageEpisode[]): ScreeningResult {
  const { kind } = group[0]!;
  const sign = kind === "high_voltage" ? 1 : -1;
  const worst = group.reduce((best, episode) => (sign * (episode.peak / episode.limit - best.peak / best.limit) > 0 ? episode : best));
  const fromMs = Math.min(...group.map((episode) => episode.fromMs));
  const toMs = Math.max(...group.map((episode) => episode.toMs));
  const outlets = [...new Set(group.map((episode) => episode.outlet))].sort();
  const named = outlets.length > 5 ? `${outlets.slice(0, 5).join(", ")} and ${outlets.length - 5} more` : outlets.join(", ");
  return makeResult(kind, { site }, { fromMs, toMs, value: worst.peak, limit: worst.limit, unit: "V" }, [
    `${short(worst.peak)} V on a ${short(worst.nominal)} V supply, beyond ${short(worst.limit)} V for ${lasting(toMs - fromMs)}.`,
    `Limit: ${worst.rule}.`,
    `Seen at ${named}.`,
  ]);
}

function neutralResult(site: string, nominal: number, episode: NeutralEpisode): ScreeningResult {
  const measure = { fromMs: episode.fromMs, toMs: episode.toMs, value: episode.peak, limit: nominal, unit: "V" as const };
  return makeResult("lost_neutral", { site }, measure, [
    `One leg rose to ${short(episode.peak)} V while the other fell to ${short(episode.lowest)} V; their sum stayed within 3 % of ${short(2 * nominal)} V, seen on ${episode.outlets} outlets.`,
    "This is how a lost or loose neutral shows. Switch off at the main if that is safe, unplug what can be unplugged, and call the utility and a licensed electrician now.",
  ]);
}

/** What is wrong with a site's supply. A lost neutral replaces the high and low voltage of the same time, which it explains. */
export function supplyResults(
  site: string,
  found: { readonly voltage: readonly VoltageEpisode[]; readonly neutral: readonly NeutralEpisode[]; readonly neutralNominal: number },
): ScreeningResult[] {
  const unexplained = found.voltage.filter((episode) => !found.neutral.some((neutral) => overlaps(episode, neutral)));
  const kinds = (["high_voltage", "low_voltage"] as const).map((kind) => unexplained.filter((episode) => episode.kind === kind));
  return [
    ...found.neutral.map((episode) => neutralResult(site, found.neutralNominal, episode)),
    ...kinds.flatMap(together).map((group) => voltageResult(site, group)),
  ];
}
