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

const leadEnds = [-6, -4, -2.5, -1.2, -0.4, 0.4, 1.2, 2.5, 4, 6];

/**
 * The named levels of a pair's strongest competitor on either side, by how far its first score leads: a record has at most one
 * counterpart, so a better pair of it speaks against this one. Uses no labels.
 */
export function competitorLevels(pairs: readonly ScoredPair[]): string[][] {
  const best = bestScores(pairs);
  return pairs.map(({ leftTitle, rightTitle, score }) =>
    [`left ${leftTitle}`, `right ${rightTitle}`].map((key) => {
      const [first, second] = best.get(key) ?? [score, Number.NEGATIVE_INFINITY];
      const lead = (first === score ? second : first) - score;
      const side = key.startsWith("left ") ? "left" : "right";
      return `competitor on the ${side}: ${lead === Number.NEGATIVE_INFINITY ? "none" : leadEnds.filter((end) => lead >= end).length}`;
    }),
  );
}
