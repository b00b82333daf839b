/** ln of the gamma function by Lanczos' series (g = 7, nine terms), good to about 15 digits for x > 0. */
function logGamma(x: number): number {
  const terms = [
    0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059, 12.507343278686905,
    -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
  ];
  const z = x - 1;
  const sum = terms.reduce((total, term, index) => (index === 0 ? term : total + term / (z + index)), 0);
  const t = z + 7.5;
  return 0.5 * Math.log(2 * Math.PI) + (z + 0.5) * Math.log(t) - t + Math.log(sum);
}

/** P(X <= k) for a Poisson count with the given mean. */
export function poissonAtMost(k: number, mean: number): number {
  if (k < 0) return 0;
  let sum = 0;
  for (let i = 0; i <= k; i++) sum += Math.exp(i * Math.log(mean) - mean - logGamma(i + 1));
  return Math.min(1, sum);
}

/** P(X >= k) for a Poisson count with the given mean. */
export function poissonAtLeast(k: number, mean: number): number {
  if (mean <= 0) return k <= 0 ? 1 : 0;
  return k <= 0 ? 1 : Math.max(0, 1 - poissonAtMost(k - 1, mean));
}

/** The mean at which a growing probability reaches `wanted`. */
function meanWhere(wanted: number, probability: (mean: number) => number, highest: number): number {
  let [low, high] = [0, highest];
  for (let step = 0; step < 200 && high - low > 1e-12 * Math.max(1, high); step++) {
    const middle = (low + high) / 2;
    if (probability(middle) < wanted) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/**
 * Exact two-sided bounds of a Poisson mean after `count` events (Garwood: chi2(a/2; 2k)/2 and chi2(1-a/2; 2k+2)/2, here by
 * the equal Poisson tails). `confidence` such as 0.95. The lower bound of no event is 0.
 */
export function poissonBounds(count: number, confidence: number): { readonly lower: number; readonly upper: number } {
  const tail = (1 - confidence) / 2;
  const highest = count + 20 * Math.sqrt(count + 1) + 40;
  return {
    lower: count === 0 ? 0 : meanWhere(tail, (mean) => poissonAtLeast(count, mean), highest),
    upper: meanWhere(1 - tail, (mean) => 1 - poissonAtMost(count, mean), highest),
  };
}
