/** One sustained stretch above a limit; times in ms. */
export interface ExcessEpisode {
  readonly fromMs: number;
  readonly toMs: number;
  readonly peak: number;
  readonly limit: number;
}

/** What the stretches of a table are judged and told by. */
export interface ExcessReport {
  /** The limit of an owner in the unit that it is judged in. */
  limitOf(owner: number): number;
  report(owner: number, episode: ExcessEpisode): void;
}
