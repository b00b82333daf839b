import { readFileSync } from "node:fs";
import { gunzipSync } from "node:zlib";
import Fuse from "fuse.js";
import type { Bench, BenchResult } from "./bench-result";
import { fitWeights } from "./fit-weights";
import { competitorLevels } from "./pair-competitors";
import { pairLevels } from "./pair-levels";
import { type PairRecord, pairRecord } from "./pair-record";
import { type WordWeights, wordWeights } from "./pair-title";
import { bestThreshold, pairScore, shippedWeights } from "./pair-weights";

interface LabelledPair {
  readonly left: PairRecord;
  readonly right: PairRecord;
  readonly isMatch: boolean;
}

interface Scored {
  readonly score: number;
  readonly isMatch: boolean;
}

/** Reads pairs, one a line: record, tab, record, tab, 0 or 1; gzip is unpacked. */
function readPairs(file: string): LabelledPair[] {
  const bytes = readFileSync(file);
  const text = (bytes[0] === 0x1f && bytes[1] === 0x8b ? gunzipSync(bytes) : bytes).toString("utf8");
  return text.split(/\r?\n/).flatMap((line) => {
    const [left, right, label] = line.split("\t");
    if (left === undefined || right === undefined || label === undefined) return [];
    return [{ left: pairRecord(left), right: pairRecord(right), isMatch: label.trim() === "1" }];
  });
}

const rounded = (value: number): number => Math.round(value * 10_000) / 10_000;

function quality(scored: readonly Scored[], threshold: number): { f1: number; precision: number; recall: number } {
  const said = scored.filter(({ score }) => score > threshold);
  const hits = said.filter(({ isMatch }) => isMatch).length;
  const there = scored.filter(({ isMatch }) => isMatch).length;
  const precision = said.length === 0 ? 0 : hits / said.length;
  const recall = there === 0 ? 0 : hits / there;
  return {
    f1: rounded(hits === 0 ? 0 : (2 * precision * recall) / (precision + recall)),
    precision: rounded(precision),
    recall: rounded(recall),
  };
}

function scoreAll(pairs: readonly LabelledPair[], score: (pair: LabelledPair) => number): Scored[] {
  return pairs.map((pair) => ({ score: score(pair), isMatch: pair.isMatch }));
}

function normalisedEquality({ left, right }: LabelledPair): number {
  return left.model !== "" && left.model === right.model ? 1 : 0;
}

/** Fuse.js on the model field, ignoring where it stands; 1 is equal. */
function fuzzyModel({ left, right }: LabelledPair): number {
  if (left.model === "" || right.model === "") return 0;
  const found = new Fuse([right.model], { includeScore: true, threshold: 1, ignoreLocation: true }).search(left.model)[0];
  return found ? 1 - (found.score ?? 1) : 0;
}

function result(measure: string, scored: readonly Scored[], threshold: number, more: Partial<BenchResult> = {}): BenchResult {
  return { bench: "pairs", measure, ...quality(scored, threshold), n: scored.length, ...more };
}

function theirs(
  measure: string,
  train: readonly LabelledPair[],
  test: readonly LabelledPair[],
  score: (pair: LabelledPair) => number,
): BenchResult {
  return result(measure, scoreAll(test, score), bestThreshold(scoreAll(train, score)));
}

function timed(test: readonly LabelledPair[], words: WordWeights): number {
  const started = performance.now();
  let sum = 0;
  for (const { left, right } of test) sum += pairScore(pairLevels(left, right, words), shippedWeights);
  return Number.isNaN(sum) ? 0 : rounded(((performance.now() - started) * 1000) / Math.max(1, test.length));
}

interface Levelled {
  readonly levels: readonly string[];
  readonly isMatch: boolean;
}

/** The levels of all pairs with that of their competitors under some first weights. */
function withCompetitors(
  pairs: readonly LabelledPair[],
  levelled: readonly Levelled[],
  weights: Readonly<Record<string, number>>,
): Levelled[] {
  const scored = pairs.map(({ left, right }, at) => ({
    leftTitle: left.title,
    rightTitle: right.title,
    score: pairScore(levelled[at]?.levels ?? [], weights),
  }));
  return competitorLevels(scored).map((competitors, at) => ({
    levels: [...(levelled[at]?.levels ?? []), ...competitors],
    isMatch: pairs[at]?.isMatch ?? false,
  }));
}

/** How often the weights are fitted again, each time with the competitors that the last weights show. */
const refits = 2;

/** Weights fitted on the first `count` pairs, the train file's, and the levels that they weigh. */
function fitOnFirst(
  pairs: readonly LabelledPair[],
  levelled: readonly Levelled[],
  count: number,
): { fitting: Levelled[]; weights: Record<string, number> } {
  let weights = fitWeights(levelled.slice(0, count), shippedWeights);
  let fitting: Levelled[] = [];
  for (let round = 0; round < refits; round++) {
    fitting = withCompetitors(pairs, levelled, weights);
    weights = fitWeights(fitting.slice(0, count), shippedWeights);
  }
  return { fitting, weights };
}

function scoreLevels(levelled: readonly Levelled[], weights: Readonly<Record<string, number>>): Scored[] {
  return levelled.map(({ levels, isMatch }) => ({ score: pairScore(levels, weights), isMatch }));
}

/** Public product pairs: named levels with the weights as shipped, and fitted on the train file, a match above even odds; thresholds of the others from train. */
export const bench: Bench = async ({ flags }) => {
  const { train: trainFile, test: testFile } = flags;
  if (!trainFile || !testFile) throw new Error("pairs needs --train FILE and --test FILE.");
  const train = readPairs(trainFile);
  const test = readPairs(testFile);
  const all = [...train, ...test];
  const words = wordWeights(all.flatMap(({ left, right }) => [left, right]));
  const levelled = all.map(({ left, right, isMatch }) => ({ levels: pairLevels(left, right, words), isMatch }));
  const ours = withCompetitors(all, levelled, shippedWeights);
  const { fitting, weights } = fitOnFirst(all, levelled, train.length);
  const fitted = scoreLevels(fitting, weights);
  return [
    result("weights as shipped / f1 precision recall", scoreLevels(ours.slice(train.length), shippedWeights), 0, {
      ours: { microsecondsPerPair: timed(test, words) },
    }),
    result("weights fitted on train / f1 precision recall", fitted.slice(train.length), 0),
    theirs("normalised model equality / f1 precision recall", train, test, normalisedEquality),
    theirs("Fuse.js on the model / f1 precision recall", train, test, fuzzyModel),
  ];
};
