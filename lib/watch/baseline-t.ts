/** Logarithm of the gamma function for x > 0 (Lanczos, g = 7, nine terms; relative error below 1e-13). */
function logGamma(x: number): number {
  const terms = [
    676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059, 12.507343278686905, -0.13857109526572012,
    9.9843695780195716e-6, 1.5056327351493116e-7,
  ];
  const z = x - 1;
  const sum = terms.reduce((total, term, i) => total + term / (z + i + 1), 0.99999999999980993);
  const t = z + 7.5;
  return 0.5 * Math.log(2 * Math.PI) + (z + 0.5) * Math.log(t) - t + Math.log(sum);
}

/** The continued fraction of the incomplete beta function (DLMF 8.17.22), by the modified Lentz method. */
function betaFraction(a: number, b: number, x: number): number {
  const tiny = 1e-300;
  const away = (value: number) => (Math.abs(value) < tiny ? tiny : value);
  let c = 1;
  let d = 1 / away(1 - ((a + b) * x) / (a + 1));
  let fraction = d;
  for (let m = 1; m <= 300; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / away(1 + even * d);
    c = away(1 + even / c);
    fraction *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / away(1 + odd * d);
    c = away(1 + odd / c);
    const step = d * c;
    fraction *= step;
    if (Math.abs(step - 1) < 1e-14) break;
  }
  return fraction;
}

/** The regularised incomplete beta function I_x(a, b). */
function regularisedBeta(a: number, b: number, x: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log(1 - x));
  return x < (a + 1) / (a + b + 2) ? (front * betaFraction(a, b, x)) / a : 1 - (front * betaFraction(b, a, 1 - x)) / b;
}

/** Share of Student's t distribution below `t`; `degrees` need not be whole. */
export function studentShare(t: number, degrees: number): number {
  const tail = 0.5 * regularisedBeta(degrees / 2, 0.5, degrees / (degrees + t * t));
  return t < 0 ? tail : 1 - tail;
}

/** The t below which `share` (0.5 to below 1) of the distribution lies, by halving; exact to about 1e-10. */
export function studentQuantile(share: number, degrees: number): number {
  let [low, high] = [0, 1];
  while (studentShare(high, degrees) < share && high < 1e9) high *= 2;
  for (let i = 0; i < 100; i++) {
    const middle = (low + high) / 2;
    if (studentShare(middle, degrees) < share) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
