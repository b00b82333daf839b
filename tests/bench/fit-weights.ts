/** A labelled case by the named levels that hold for it, each at most once. */
export interface LabelledLevels {
  readonly levels: readonly string[];
  readonly isMatch: boolean;
}

interface Problem {
  /** For each case the places of its levels; place 0, the prior, is in each. */
  readonly rows: readonly Int32Array[];
  readonly isMatch: readonly boolean[];
  readonly size: number;
  /** What the weights are where no case speaks for another. */
  readonly expected: Float64Array;
  /** Half the penalty on the square of each weight's distance from what is expected; the prior's is free. */
  readonly penalty: number;
}

function sumOf(row: Int32Array, weights: Float64Array): number {
  let sum = 0;
  for (const place of row) sum += weights[place] as number;
  return sum;
}

/** Negative log likelihood and penalty. */
function costOf({ rows, isMatch, expected, penalty }: Problem, weights: Float64Array): number {
  let cost = 0;
  rows.forEach((row, at) => {
    const against = isMatch[at] ? -sumOf(row, weights) : sumOf(row, weights);
    cost += Math.max(against, 0) + Math.log1p(Math.exp(-Math.abs(against)));
  });
  for (let place = 1; place < weights.length; place++)
    cost += (penalty / 2) * ((weights[place] as number) - (expected[place] as number)) ** 2;
  return cost;
}

/** Gradient and matrix of second derivatives, row by row. */
function derivatives(
  { rows, isMatch, size, expected, penalty }: Problem,
  weights: Float64Array,
): { gradient: Float64Array; matrix: Float64Array } {
  const gradient = new Float64Array(size);
  const matrix = new Float64Array(size * size);
  rows.forEach((row, at) => {
    const odds = 1 / (1 + Math.exp(-sumOf(row, weights)));
    const spread = odds * (1 - odds);
    for (const place of row) {
      gradient[place] = (gradient[place] as number) + odds - (isMatch[at] ? 1 : 0);
      for (const other of row) matrix[place * size + other] = (matrix[place * size + other] as number) + spread;
    }
  });
  for (let place = 0; place < size; place++) {
    const pull = place === 0 ? 1e-6 : penalty;
    gradient[place] = (gradient[place] as number) + pull * ((weights[place] as number) - (expected[place] as number));
    matrix[place * size + place] = (matrix[place * size + place] as number) + pull;
  }
  return { gradient, matrix };
}

/** Solves a symmetric positive definite system by Cholesky's factors; `matrix` is overwritten. */
function solve(matrix: Float64Array, right: Float64Array): Float64Array {
  const size = right.length;
  const at = (row: number, column: number): number => matrix[row * size + column] as number;
  for (let row = 0; row < size; row++) {
    for (let column = 0; column <= row; column++) {
      let rest = at(row, column);
      for (let before = 0; before < column; before++) rest -= at(row, before) * at(column, before);
      matrix[row * size + column] = row === column ? Math.sqrt(Math.max(rest, 1e-12)) : rest / at(column, column);
    }
  }
  const solution = Float64Array.from(right);
  for (let row = 0; row < size; row++) {
    for (let before = 0; before < row; before++) solution[row] = (solution[row] as number) - at(row, before) * (solution[before] as number);
    solution[row] = (solution[row] as number) / at(row, row);
  }
  for (let row = size - 1; row >= 0; row--) {
    for (let after = row + 1; after < size; after++)
      solution[row] = (solution[row] as number) - at(after, row) * (solution[after] as number);
    solution[row] = (solution[row] as number) / at(row, row);
  }
  return solution;
}

const mostSteps = 40;
const shortestStep = 1 / 1024;

/** Newton's method; a step that does not lessen the cost is halved. */
function minimise(problem: Problem): Float64Array {
  let weights = Float64Array.from(problem.expected);
  let cost = costOf(problem, weights);
  for (let step = 0; step < mostSteps; step++) {
    const { gradient, matrix } = derivatives(problem, weights);
    const direction = solve(matrix, gradient);
    for (let length = 1; ; length /= 2) {
      if (length < shortestStep) return weights;
      const next = weights.map((weight, place) => weight - length * (direction[place] as number));
      const nextCost = costOf(problem, next);
      if (nextCost > cost) continue;
      const gain = cost - nextCost;
      weights = next;
      cost = nextCost;
      if (gain < 1e-6) return weights;
      break;
    }
  }
  return weights;
}

/**
 * Fits a weight to each level on labelled cases: logistic regression on which levels hold, so that the sum of a case's weights
 * and the prior is its natural log odds. It starts from `expected` weights and is held to them where the cases say little.
 * `penalty` 8 was chosen by cross-validation.
 */
export function fitWeights(
  cases: readonly LabelledLevels[],
  expected: Readonly<Record<string, number>>,
  penalty = 8,
): Record<string, number> {
  const names = ["prior", ...new Set(cases.flatMap(({ levels }) => levels))];
  const at = new Map(names.map((name, place) => [name, place]));
  const weights = minimise({
    rows: cases.map(({ levels }) => Int32Array.from([0, ...levels.map((level) => at.get(level) ?? 0)])),
    isMatch: cases.map(({ isMatch }) => isMatch),
    size: names.length,
    expected: Float64Array.from(names.map((name) => expected[name] ?? 0)),
    penalty,
  });
  return Object.fromEntries(names.map((name, place) => [name, weights[place] as number]));
}
