import { oneEditBetween } from "@/lib/identity/one-edit";
import type { PairRecord } from "./pair-record";

/** Rarity of title words and codes over all distinct records: log(records / records with the word). */
export type WordWeights = ReadonlyMap<string, number>;

/** A word of no known rarity counts as rare as this. */
const rarityOfUnknown = 8;

export function wordWeights(records: readonly PairRecord[]): WordWeights {
  const counts = new Map<string, number>();
  const distinct = new Map(records.map((record) => [record.title, record]));
  for (const { words, codes } of distinct.values()) for (const word of [...words, ...codes]) counts.set(word, (counts.get(word) ?? 0) + 1);
  return new Map([...counts].map(([word, count]) => [word, Math.log(distinct.size / count)]));
}

const isThere = (word: string, other: PairRecord): boolean => other.words.includes(word) || other.runs.has(word.toUpperCase());

/** From these lengths on a word also agrees with one that begins with it, and with one a slip apart. */
const shortestBeginning = 5;
const shortestSlip = 6;

function isNearlyThere(word: string, other: PairRecord): boolean {
  if (isThere(word, other)) return true;
  if (word.length < shortestBeginning) return false;
  return other.words.some((one) => {
    if (one.length < shortestBeginning) return false;
    if (one.startsWith(word) || word.startsWith(one)) return true;
    return word.length >= shortestSlip && one.length >= shortestSlip && oneEditBetween(word, one) !== "more";
  });
}

interface TitleSide {
  /** Rarity of the shared words and of all, summed. */
  readonly shared: number;
  readonly all: number;
  /** The rarest word that the other title lacks. */
  readonly rarestUnshared: number;
}

function titleSide(own: PairRecord, weights: WordWeights, isShared: (word: string) => boolean): TitleSide {
  let shared = 0;
  let all = 0;
  let rarestUnshared = 0;
  for (const word of own.words) {
    const weight = weights.get(word) ?? rarityOfUnknown;
    all += weight;
    if (isShared(word)) shared += weight;
    else rarestUnshared = Math.max(rarestUnshared, weight);
  }
  return { shared, all, rarestUnshared };
}

/** Which of the stretches between these ends a value falls into, from 0. */
export const bandOf = (value: number, ends: readonly number[]): number => ends.filter((end) => value >= end).length;

const overlapEnds = [0.28, 0.45, 0.62, 0.76, 0.88, 0.97];

/** Share of the rarer words that both titles have, as a band from 1 to 7; a word also counts when the other title has it joined with its neighbour. */
export function overlapBand(left: PairRecord, right: PairRecord, weights: WordWeights): number {
  const ofLeft = titleSide(left, weights, (word) => isThere(word, right));
  const ofRight = titleSide(right, weights, (word) => isThere(word, left));
  if (Math.min(ofLeft.all, ofRight.all) === 0) return 1;
  const jaccard = (ofLeft.shared + ofRight.shared) / (ofLeft.all + ofRight.all);
  const containment = Math.max(ofLeft.shared / Math.max(ofLeft.all, 1), ofRight.shared / Math.max(ofRight.all, 1));
  return 1 + bandOf(0.6 * jaccard + 0.4 * containment, overlapEnds);
}

const leastEnds = [0.15, 0.3, 0.45, 0.6, 0.75, 0.9];
const mostEnds = [0.3, 0.45, 0.6, 0.72, 0.82, 0.92, 0.999];
const rarityEnds = [0.1, 2.5, 3.5, 4.5, 5.5, 6.5];
const sharedRarityEnds = [...rarityEnds, 7.5];

/** The rarest word that both titles have. */
function rarestShared(left: PairRecord, right: PairRecord, weights: WordWeights): number {
  let rarest = 0;
  for (const word of left.words) if (right.words.includes(word)) rarest = Math.max(rarest, weights.get(word) ?? rarityOfUnknown);
  return rarest;
}

/** How much of each title the other has, endings and slips forgiven: bands of the smaller and the larger share, of the rarest word that is missing and of the rarest that both have. */
export function titleBands(
  left: PairRecord,
  right: PairRecord,
  weights: WordWeights,
): { least: number; most: number; unshared: number; shared: number } {
  const ofLeft = titleSide(left, weights, (word) => isNearlyThere(word, right));
  const ofRight = titleSide(right, weights, (word) => isNearlyThere(word, left));
  const shares = [ofLeft, ofRight].map(({ shared, all }) => (all === 0 ? 0 : shared / all));
  return {
    least: bandOf(Math.min(...shares), leastEnds),
    most: bandOf(Math.max(...shares), mostEnds),
    unshared: bandOf(Math.min(ofLeft.rarestUnshared, ofRight.rarestUnshared), rarityEnds),
    shared: bandOf(rarestShared(left, right, weights), sharedRarityEnds),
  };
}

const signEnds = [0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9];

/** Share of the shorter title's runs of three signs that the other has, as a band: it sees through glued and broken words. */
export function signBand({ signs: left }: PairRecord, { signs: right }: PairRecord): number {
  let shared = 0;
  for (const run of left) if (right.has(run)) shared++;
  return bandOf(shared / Math.max(1, Math.min(left.size, right.size)), signEnds);
}
