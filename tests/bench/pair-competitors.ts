/** One pair with its first score, for weighing it against the other pairs of its two records. */
export interface ScoredPair {
  readonly leftTitle: string;
  readonly rightTitle: string;
  readonly score: number;
}

/** The best two first scores of each record. */
function bestScores(pairs: readonly ScoredPair[]): Map<string, [number, number]> {
  const best = new Map<string, [number, number]>();
  const put = (key: string, score: number): void => {
    const [first, second] = best.get(key) ?? [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
    best.set(key, score > first ? [score, first] : [first, Math.max(second, score)]);
  };
  for (const { leftTitle, rightTitle, score } of pairs) {
    put(`left ${leftTitle}`, score);
    put(`right ${rightTitle}`, score);
  }
  return best;
}

/**
 * The named level of a pair's strongest competitor: a record has at most one counterpart, so a better pair of either record
 * speaks against this one. Uses no labels.
 */
export function competitorLevels(pairs: readonly ScoredPair[]): string[] {
  const best = bestScores(pairs);
  return pairs.map(({ leftTitle, rightTitle, score }) => {
    const others = [`left ${leftTitle}`, `right ${rightTitle}`].map((key) => {
      const [first, second] = best.get(key) ?? [score, Number.NEGATIVE_INFINITY];
      return first === score ? second : first;
    });
    const lead = Math.max(...others) - score;
    if (lead === Number.NEGATIVE_INFINITY) return "competitor: none";
    return lead > 3 ? "competitor: far better" : lead > 0.7 ? "competitor: better" : lead > -0.7 ? "competitor: even" : "competitor: worse";
  });
}
