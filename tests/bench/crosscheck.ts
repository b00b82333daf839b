import { readAppliance } from "@/lib/matching/appliance-reading";
import { comparePair, crossCheck, gradeAppliance } from "@/lib/matching/cross-check";
import { modelIndexBytes } from "@/lib/matching/model-index";
import { KeyScan } from "@/lib/matching/model-keys";
import { buildRecallIndex, type RecallIndex } from "@/lib/matching/recall-index";
import type { Bench, BenchResult } from "./bench-result";
import { measureQuality } from "./crosscheck-quality";
import { Random } from "./random";
import { makeRegistry, type SyntheticRegistry } from "./synthetic-registry";
import { makeWorld, type World } from "./synthetic-world";

const seed = 20_260_101;

interface Sizes {
  readonly appliances: number;
  readonly notices: number;
  readonly judged: number;
  readonly sampled: number;
  readonly rounds: number;
}

const full: Sizes = { appliances: 1_000_000, notices: 10_000, judged: 50_000, sampled: 2_000, rounds: 3 };
const reduced: Sizes = { appliances: 20_000, notices: 1_000, judged: 10_000, sampled: 200, rounds: 2 };

function world(notices: number): World {
  return makeWorld({ brands: 900, families: 20_000, notices, seed });
}

function build(of: World): RecallIndex {
  return buildRecallIndex(of.notices.map(({ toIndex }) => toIndex));
}

function timed<T>(work: () => T): { ms: number; result: T } {
  const started = performance.now();
  const result = work();
  return { ms: performance.now() - started, result };
}

/** The best of several rounds, since everything else on the machine only adds. */
function best(rounds: number, work: () => number): { ms: number; result: number } {
  const all = Array.from({ length: rounds }, () => timed(work));
  return all.reduce((fastest, one) => (one.ms < fastest.ms ? one : fastest));
}

/** Grades every raised pair. Notices without identifiers are left out: they are answered for a maker's product at once. */
function gradeAll(index: RecallIndex, registry: SyntheticRegistry): number {
  let candidates = 0;
  const count = (): void => {
    candidates++;
  };
  for (const appliance of registry.appliances) gradeAppliance(index, appliance, { withoutIdentifiers: false }, count);
  return candidates;
}

/** The same with the reasons, scores and questions of each candidate. */
function explainAll(index: RecallIndex, registry: SyntheticRegistry): number {
  let candidates = 0;
  for (const appliance of registry.appliances) candidates += crossCheck(index, appliance, { withoutIdentifiers: false }).length;
  return candidates;
}

/** The floor: every model folded and hashed once, nothing looked up. */
function hashEachOnce(registry: SyntheticRegistry): number {
  const scan = new KeyScan();
  let sum = 0;
  for (const { model } of registry.appliances) {
    if (model === null) continue;
    scan.read(model);
    sum = (sum + scan.head(scan.length)) | 0;
  }
  return sum;
}

/** What a check for equal model numbers would cost: normalise and ask a Set, makers and errors ignored. */
function exactOnly(keys: ReadonlySet<string>, registry: SyntheticRegistry): number {
  let hits = 0;
  for (const { model } of registry.appliances) if (model !== null && keys.has(model.toUpperCase().replace(/[^A-Z0-9]/g, ""))) hits++;
  return hits;
}

function name(sizes: Sizes): string {
  const short = (n: number): string => (n >= 1_000_000 ? `${n / 1_000_000}M` : `${n / 1_000}k`);
  return `${short(sizes.appliances)} x ${short(sizes.notices)}`;
}

function speed(sizes: Sizes, index: RecallIndex, registry: SyntheticRegistry): BenchResult[] {
  const keys = new Set(index.notices.flatMap((notice) => notice.include.filter(({ isOpen }) => !isOpen).map(({ key }) => key)));
  gradeAll(index, registry);
  explainAll(index, registry);
  hashEachOnce(registry);
  exactOnly(keys, registry);
  const graded = best(sizes.rounds, () => gradeAll(index, registry));
  const explained = best(sizes.rounds, () => explainAll(index, registry));
  const hashed = best(sizes.rounds, () => hashEachOnce(registry));
  const exact = best(sizes.rounds, () => exactOnly(keys, registry));
  const result = (measure: string, ours: { ms: number; result: number }, theirs: { ms: number; result: number }): BenchResult => ({
    bench: "crosscheck",
    measure: `${name(sizes)}${measure}`,
    ratio: ours.ms / theirs.ms,
    ours: { ms: Math.round(ours.ms), candidates: ours.result },
    theirs: { ms: Math.round(theirs.ms), result: theirs.result },
    n: sizes.rounds,
  });
  return [
    result(" / hash each key once", graded, hashed),
    result(" / exact-only", graded, exact),
    result(", explained / hash each key once", explained, hashed),
    result(", explained / exact-only", explained, exact),
  ];
}

/** Every pair that comparing with all notices would print must also be raised by the index. */
function blockingRecall(sizes: Sizes, index: RecallIndex, registry: SyntheticRegistry): BenchResult {
  const random = new Random(seed + 7);
  let there = 0;
  let raised = 0;
  const slow = timed(() => {
    for (let at = 0; at < sizes.sampled; at++) {
      const appliance = random.pick(registry.appliances);
      const found = new Set(crossCheck(index, appliance).map(({ noticeKey }) => noticeKey));
      const reading = readAppliance(appliance);
      for (const notice of index.notices) {
        if (comparePair(index, reading, notice).grade === "not_covered") continue;
        there++;
        if (found.has(notice.key)) raised++;
      }
    }
  });
  return {
    bench: "crosscheck",
    measure: "blocking recall against brute force",
    ratio: there === 0 ? 1 : raised / there,
    ours: { pairs: raised },
    theirs: { pairs: there, ms: Math.round(slow.ms) },
    n: sizes.sampled,
  };
}

function growth(sizes: Sizes, smallMs: number, registry: SyntheticRegistry): BenchResult {
  const index = build(world(sizes.notices * 10));
  gradeAll(index, { ...registry, appliances: registry.appliances.slice(0, 50_000) });
  const ours = best(2, () => gradeAll(index, registry));
  return {
    bench: "crosscheck",
    measure: `growth ${sizes.notices / 1000}k to ${sizes.notices / 100}k notices`,
    ratio: ours.ms / smallMs,
    ours: { ms: Math.round(ours.ms), candidates: ours.result },
    theirs: { ms: Math.round(smallMs) },
    n: 2,
  };
}

/** The cross-check on an invented world of known truth: speed, blocking, growth, and what is missed and what is asked. */
export const bench: Bench = async ({ small }) => {
  const sizes = small ? reduced : full;
  const invented = world(sizes.notices);
  const building = timed(() => build(invented));
  const index = building.result;
  const registry = makeRegistry(new Random(seed + 1), invented, { appliances: sizes.appliances, level: 1, withTruth: false });
  const results: BenchResult[] = [
    {
      bench: "crosscheck",
      measure: `build ${sizes.notices / 1000}k notices`,
      ours: {
        ms: Math.round(building.ms),
        patterns: index.listed.patterns.length,
        bytesPerPattern: Math.round(modelIndexBytes(index.listed.index) / index.listed.patterns.length),
      },
    },
  ];
  results.push(...speed(sizes, index, registry));
  results.push(blockingRecall(sizes, index, registry));
  for (const level of [1, 2])
    results.push(
      ...measureQuality(index, makeRegistry(new Random(seed + 2), invented, { appliances: sizes.judged, level, withTruth: true }), level),
    );
  const oursMs = results[1]?.ours?.["ms"] ?? 1;
  if (!small) results.push(growth(sizes, oursMs, registry));
  return results;
};
