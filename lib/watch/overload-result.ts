import { maxReceptacleLoad } from "@/lib/electrical/circuit-limits";
import type { ExcessEpisode } from "./excess-episode";
import { lasting, makeResult, short } from "./make-result";
import type { PlannedOutlet } from "./outlet-plan";
import type { ScreeningResult } from "./screening-result";

/** What a single cord-and-plug load may take at an outlet, where the table has its row. */
function oneItemWords({ deviceAmps, outletAmps }: PlannedOutlet, northAmerican: boolean): string[] {
  const most = deviceAmps === null || outletAmps === null || !northAmerican ? null : maxReceptacleLoad(deviceAmps, outletAmps);
  if (most === null) return [];
  return [
    `One cord-and-plug load may take ${most} A at a ${outletAmps} A receptacle of a ${deviceAmps} A circuit (NEC Table 210.21(B)(2)).`,
  ];
}

/** The result of an outlet whose `drawing` receptacles together are above its rating. */
export function overloadResult(plan: PlannedOutlet, drawing: number, northAmerican: boolean, episode: ExcessEpisode): ScreeningResult {
  const { site, circuit, outlet } = plan;
  const measure = { fromMs: episode.fromMs, toMs: episode.toMs, value: episode.peak, limit: episode.limit, unit: "A" as const };
  return makeResult("outlet_overload", { site, circuit, outlet }, measure, [
    `${drawing > 1 ? `${drawing} receptacles together` : "The outlet"} carried up to ${short(episode.peak)} A, above the outlet's ${short(episode.limit)} A for ${lasting(episode.toMs - episode.fromMs)}.`,
    "Limit: the rating of the outlet (NEC 210.21(B)).",
    ...oneItemWords(plan, northAmerican),
    "Unplug something here, and feel for a warm plug; a warm outlet needs a qualified electrician.",
  ]);
}
