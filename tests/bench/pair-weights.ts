/**
 * Weights of the pair levels as shipped: natural log odds, set by judgement from what each level means and not fitted to any
 * pairs. A pair is one product when the sum is above 0.
 */
export const shippedWeights: Readonly<Record<string, number>> = {
  prior: -2.5,
  "model: equal": 6,
  "model: confusable": 5.5,
  "model: equal name": 4,
  "model: contained, in title": 4,
  "model: in title": 4.5,
  "model: contained": 2.5,
  "model: in title, other model": 2.5,
  "model: shared code": 3,
  "model: shared code, other model": 1.5,
  "model: part of a code": 2,
  "model: part of a code, other model": 1,
  "model: one-sided": 0,
  "model: none": 0,
  "model: no models, other codes": -1,
  "model: one-sided, other code": -1.5,
  "model: near": -2,
  "model: far": -2,
  "model: far, built otherwise": -1.5,
  "title of a sure model: 1": -2,
  "title of a sure model: 2": -1,
  "title of a sure model: 3": 0,
  "title of a sure model: 4": 0.5,
  "title of a sure model: 5": 1,
  "title of a sure model: 6": 1.3,
  "title of a sure model: 7": 1.6,
  "title of a variant model: 1": -3,
  "title of a variant model: 2": -2,
  "title of a variant model: 3": -1.2,
  "title of a variant model: 4": -0.5,
  "title of a variant model: 5": 0.3,
  "title of a variant model: 6": 1,
  "title of a variant model: 7": 1.5,
  "title of a open model: 1": -4,
  "title of a open model: 2": -3.5,
  "title of a open model: 3": -2.5,
  "title of a open model: 4": -1.2,
  "title of a open model: 5": 0.3,
  "title of a open model: 6": 1.5,
  "title of a open model: 7": 2.5,
  "title of a conflict model: 1": -4.5,
  "title of a conflict model: 2": -4,
  "title of a conflict model: 3": -3.5,
  "title of a conflict model: 4": -2.5,
  "title of a conflict model: 5": -1.5,
  "title of a conflict model: 6": -0.3,
  "title of a conflict model: 7": 0.8,
  "brand: equal": 0.5,
  "brand: part": 0.5,
  "brand: in title": 0.3,
  "brand: near": 0.3,
  "brand: conflict": -1.5,
  "colour of a sure model: same": 0.4,
  "colour of a sure model: conflict": -2.5,
  "colour of a variant model: same": 0.4,
  "colour of a variant model: conflict": -2.5,
  "colour of a open model: same": 0.4,
  "colour of a open model: conflict": -2.5,
  "colour of a conflict model: same": 0.4,
  "colour of a conflict model: conflict": -2.5,
  "measures with agreeing models: agree": 0.5,
  "measures with unsettled models: agree": 0.5,
  "measures with agreeing models: mixed": -0.7,
  "measures with unsettled models: mixed": -0.7,
  "measures with agreeing models: conflict": -1.5,
  "measures with unsettled models: conflict": -1.5,
  "numbers: same": 0.4,
  "numbers: conflict": -0.7,
  "price: equal": 1,
  "price: close": 0.5,
  "price: similar": 0.2,
  "price: apart": -0.5,
  "price: far apart": -1.2,
  "relation: one-sided": -1,
  "competitor on the left: 0": 0.15,
  "competitor on the left: 1": 0.15,
  "competitor on the left: 2": 0.15,
  "competitor on the left: 3": 0.15,
  "competitor on the left: 4": 0.1,
  "competitor on the left: 5": -0.25,
  "competitor on the left: 6": -0.5,
  "competitor on the left: 7": -0.75,
  "competitor on the left: 8": -1.2,
  "competitor on the left: 9": -1.5,
  "competitor on the left: 10": -1.5,
  "competitor on the right: 0": 0.15,
  "competitor on the right: 1": 0.15,
  "competitor on the right: 2": 0.15,
  "competitor on the right: 3": 0.15,
  "competitor on the right: 4": 0.1,
  "competitor on the right: 5": -0.25,
  "competitor on the right: 6": -0.5,
  "competitor on the right: 7": -0.75,
  "competitor on the right: 8": -1.2,
  "competitor on the right: 9": -1.5,
  "competitor on the right: 10": -1.5,
};

/** The sum of the weights of a pair's levels. */
export function pairScore(levels: readonly string[], weights: Readonly<Record<string, number>>): number {
  let sum = weights["prior"] ?? 0;
  for (const level of levels) sum += weights[level] ?? 0;
  return sum;
}

/** The threshold with the best F1 on labelled scores. */
export function bestThreshold(scored: readonly { readonly score: number; readonly isMatch: boolean }[]): number {
  const sorted = [...scored].sort((left, right) => right.score - left.score);
  const positives = sorted.filter(({ isMatch }) => isMatch).length;
  let hits = 0;
  let best = { f1: -1, threshold: 0 };
  sorted.forEach(({ score, isMatch }, at) => {
    if (isMatch) hits++;
    const f1 = (2 * hits) / (at + 1 + positives);
    const next = sorted[at + 1]?.score ?? score - 1;
    if (f1 > best.f1 && next < score) best = { f1, threshold: (score + next) / 2 };
  });
  return best.threshold;
}
