import uFuzzy from "@leeoniya/ufuzzy";
import Database from "better-sqlite3";
import Fuse from "fuse.js";
import MiniSearch from "minisearch";
import type { ApplianceFacts } from "@/lib/identity/appliance-facts";
import { modelKey } from "@/lib/identity/model-number";
import { lookUpOf } from "@/lib/matching/appliance-reading";
import { gradeAppliance } from "@/lib/matching/cross-check";
import { Raised, raiseNotices } from "@/lib/matching/raise";
import { buildRecallIndex, type RecallIndex } from "@/lib/matching/recall-index";
import type { Bench, BenchResult } from "./bench-result";
import { Random } from "./random";
import { makeRegistry } from "./synthetic-registry";
import { makeWorld } from "./synthetic-world";

/** One way of asking: a query gives the keys of notices that it finds. */
interface Way {
  readonly name: string;
  /** How many of the queries it is given; the slow ones get fewer. */
  readonly queries: number;
  readonly ask: (query: Query, found: (noticeKey: string) => void) => void;
}

interface Query {
  readonly facts: ApplianceFacts;
  readonly key: string;
  readonly covering: readonly string[];
}

/** One listed model of one notice. */
interface Listed {
  readonly id: number;
  readonly notice: string;
  readonly key: string;
}

function trigrams(key: string): string[] {
  return Array.from({ length: Math.max(0, key.length - 2) }, (_, at) => key.slice(at, at + 3));
}

function byFuse(listed: readonly Listed[]): Way["ask"] {
  const fuse = new Fuse(listed, { keys: ["key"], threshold: 0.3 });
  return ({ key }, found) => {
    for (const { item } of fuse.search(key)) found(item.notice);
  };
}

function byUFuzzy(listed: readonly Listed[]): Way["ask"] {
  const search = new uFuzzy({ intraMode: 1, intraIns: 1, intraSub: 1, intraTrn: 1, intraDel: 1 });
  const haystack = listed.map(({ key }) => key);
  return ({ key }, found) => {
    for (const at of search.filter(haystack, key) ?? []) found(listed[at]?.notice ?? "");
  };
}

function byMiniSearch(listed: readonly Listed[]): Way["ask"] {
  const search = new MiniSearch<Listed>({ fields: ["key"], storeFields: ["notice"] });
  search.addAll(listed);
  return ({ key }, found) => {
    for (const result of search.search(key, { fuzzy: 0.2, prefix: true })) found(String(result["notice"]));
  };
}

function byTrigramTable(listed: readonly Listed[]): Way["ask"] {
  const db = new Database(":memory:");
  db.exec("CREATE VIRTUAL TABLE listed USING fts5(key, notice UNINDEXED, tokenize = 'trigram')");
  const insert = db.prepare("INSERT INTO listed(key, notice) VALUES (?, ?)");
  db.transaction(() => {
    for (const { key, notice } of listed) insert.run(key, notice);
  })();
  const ask = db.prepare<[string], { notice: string }>("SELECT notice FROM listed WHERE listed MATCH ? ORDER BY bm25(listed) LIMIT 20");
  return ({ key }, found) => {
    const match = trigrams(key)
      .map((gram) => `"${gram}"`)
      .join(" OR ");
    if (match !== "") for (const { notice } of ask.all(match)) found(notice);
  };
}

/** Asks until this much time is spent, so that compilation is not what is measured; every way gets the same. */
const warmUpMs = 400;

function warmUp(queries: readonly Query[], ask: Way["ask"]): void {
  const started = performance.now();
  while (performance.now() - started < warmUpMs) {
    for (const query of queries) {
      ask(query, () => undefined);
      if (performance.now() - started > warmUpMs * 4) return;
    }
  }
}

/** The index's own lookup, which raises what the comparison then verifies; the libraries look up only, too. */
function byIndex(index: RecallIndex): Way["ask"] {
  const raised = new Raised();
  return ({ facts }, found) => {
    raiseNotices(index, lookUpOf(facts), { neighbours: true, withoutIdentifiers: false }, raised);
    const { ids, count } = raised.notices;
    for (let at = 0; at < count; at++) found(index.notices[ids[at] as number]?.key ?? "");
  };
}

interface Measured {
  readonly microseconds: number;
  readonly recall: number;
  readonly perQuery: number;
  readonly n: number;
}

/** Every way is asked the whole lot this often, and its fastest round counts: everything else on the machine only adds. */
const rounds = 3;

/** The time of one round and how many answers it gave. */
function fastestRound(queries: readonly Query[], ask: Way["ask"]): { ms: number; answers: number } {
  let fastest = Number.POSITIVE_INFINITY;
  let answers = 0;
  const count = (): void => {
    answers++;
  };
  for (let round = 0; round < rounds; round++) {
    answers = 0;
    const started = performance.now();
    for (const query of queries) ask(query, count);
    fastest = Math.min(fastest, performance.now() - started);
  }
  return { ms: fastest, answers };
}

function measure({ queries: asked, ask }: Way, all: readonly Query[]): Measured {
  const queries = all.slice(0, asked);
  warmUp(queries, ask);
  let right = 0;
  for (const query of queries) {
    let isRight = false;
    ask(query, (notice) => {
      if (query.covering.includes(notice)) isRight = true;
    });
    if (isRight) right++;
  }
  const { ms, answers } = fastestRound(queries, ask);
  const rounded = (value: number): number => Math.round(value * 1000) / 1000;
  return {
    microseconds: rounded((ms * 1000) / queries.length),
    recall: rounded(right / queries.length),
    perQuery: rounded(answers / queries.length),
    n: queries.length,
  };
}

/** The same queries, misread models of recalled appliances, to the index and to general search libraries; recall beside the time. */
export const bench: Bench = async ({ small }) => {
  const world = makeWorld({ brands: 900, families: 20_000, notices: small ? 1_000 : 10_000, seed: 20_260_101 });
  const index = buildRecallIndex(world.notices.map(({ toIndex }) => toIndex));
  const listed: Listed[] = index.notices
    .flatMap((notice) => notice.include.filter(({ isOpen }) => !isOpen).map(({ key }) => ({ notice: notice.key, key })))
    .map((one, id) => ({ id, ...one }));
  const withListed = new Set(listed.map(({ notice }) => notice));
  const registry = makeRegistry(new Random(77), world, { appliances: small ? 20_000 : 60_000, level: 1, withTruth: true });
  const queries = registry.appliances
    .filter(({ id, model, made }) => model !== null && made !== null && registry.truth.has(id))
    .map((facts) => ({ facts, key: modelKey(facts.model ?? ""), covering: registry.truth.get(facts.id) ?? [] }))
    .filter(({ covering }) => covering.some((notice) => withListed.has(notice)))
    .slice(0, 300);
  const ours = measure({ name: "lookup", queries: 300, ask: byIndex(index) }, queries);
  const graded = measure(
    { name: "graded", queries: 300, ask: ({ facts }, found) => gradeAppliance(index, facts, { withoutIdentifiers: false }, found) },
    queries,
  );
  const ways: Way[] = [
    { name: "Fuse.js", queries: small ? 5 : 20, ask: byFuse(listed) },
    { name: "uFuzzy", queries: small ? 50 : 300, ask: byUFuzzy(listed) },
    { name: "MiniSearch", queries: small ? 50 : 300, ask: byMiniSearch(listed) },
    { name: "SQLite FTS5 trigram", queries: small ? 50 : 300, ask: byTrigramTable(listed) },
  ];
  return ways.map((way): BenchResult => {
    const theirs = measure(way, queries);
    return {
      bench: "queries",
      measure: `one query among ${listed.length} listed models / ${way.name}`,
      ratio: ours.microseconds / theirs.microseconds,
      ours: { ...ours, gradedMicroseconds: graded.microseconds, gradedRecall: graded.recall },
      theirs: { ...theirs },
      timesFaster: Math.round(theirs.microseconds / ours.microseconds),
      n: theirs.n,
    };
  });
};
