import { carryNeutralEpisode, carryVoltageEpisode } from "./episode-carriers";
import type { NeutralEpisode } from "./neutral-watch";
import type { ScreeningResult } from "./screening-result";
import { carryList, type StateCarrier } from "./state-carrier";
import type { VoltageEpisode } from "./stretch-table";
import { joinMs, supplyResults } from "./supply-results";

interface Span {
  readonly fromMs: number;
  readonly toMs: number;
}

/** The first instant of what may still change, when nothing new begins before `horizonMs`: chains of what lies close together hold each other open. */
function firstUnsettled(spans: readonly Span[], horizonMs: number): number {
  let first = horizonMs;
  for (const { fromMs, toMs } of [...spans].sort((a, b) => b.toMs - a.toMs))
    if (toMs + 2 * joinMs >= first) first = Math.min(first, fromMs);
  return first;
}

/** What was seen of one site's supply and is not told yet. */
export class SupplyEpisodes {
  private voltage: VoltageEpisode[] = [];
  private neutral: NeutralEpisode[] = [];

  constructor(
    private readonly site: string,
    private readonly neutralNominal: number,
  ) {}

  addVoltage(episode: VoltageEpisode): void {
    this.voltage.push(episode);
  }

  addNeutral(episode: NeutralEpisode): void {
    this.neutral.push(episode);
  }

  /** The results of all that nothing can join any more, when nothing new begins before `horizonMs`; they are forgotten. */
  settle(horizonMs: number): ScreeningResult[] {
    const first = firstUnsettled([...this.voltage, ...this.neutral], horizonMs);
    const isSettled = ({ toMs }: Span) => toMs + 2 * joinMs < first;
    const found = this.results(this.voltage.filter(isSettled), this.neutral.filter(isSettled));
    this.voltage = this.voltage.filter((episode) => !isSettled(episode));
    this.neutral = this.neutral.filter((episode) => !isSettled(episode));
    return found;
  }

  /** The results of everything. */
  close(): ScreeningResult[] {
    return this.results(this.voltage, this.neutral);
  }

  private results(voltage: readonly VoltageEpisode[], neutral: readonly NeutralEpisode[]): ScreeningResult[] {
    return supplyResults(this.site, { voltage, neutral, neutralNominal: this.neutralNominal });
  }

  carry(state: StateCarrier): void {
    this.voltage = carryList(state, this.voltage, (episode) => carryVoltageEpisode(state, episode));
    this.neutral = carryList(state, this.neutral, (episode) => carryNeutralEpisode(state, episode));
  }
}
